"""Data sheets that list each property with what a value is for: "Tightening torque | for main contacts | 2 … 2.5 N·m".

The name of a property stands before its first value alone. A torque and the sizes that its terminal takes are
properties of their own, on this page or the one before; they belong together where both are for the same terminals.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, groupby

from torquary_ingest.document import Cell, Entry, Reading, Table
from torquary_ingest.headings.grid import lay_out, text_of, without_blank_columns
from torquary_ingest.headings.sense import Sense, make_sense
from torquary_ingest.scope.over import speak_over
from torquary_schema.roles import roles_of_label
from torquary_schema.values import Place
from torquary_schema.words import fold, spot

_COLUMNS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class SubProperty:
    """A value with the line over its rows, the name of its property and what it is for; "" and None where none is."""

    table: Table
    band: str
    name: str
    part: Cell | None
    value: Cell

    @property
    def said(self) -> str:
        """The property and what its value is for, as printed."""
        return f"{self.name} {text_of(self.part)}".strip()

    @property
    def same(self) -> tuple[str, str]:
        """What the minimum and the maximum of one torque have in common."""
        return fold(self.band), fold(text_of(self.part))

    @property
    def roles(self) -> frozenset[str]:
        """The roles of the terminals that the value is for."""
        return frozenset(roles_of_label(f"{self.band} {self.said}"))


@dataclass(frozen=True, slots=True)
class SubPropertyLists:
    """The tables that are such lists, and the properties of each run of them: a page's, sizes of the one before too."""

    tables: tuple[Table, ...]
    runs: tuple[tuple[SubProperty, ...], ...]


def find_sub_property_lists(tables: Sequence[Table]) -> SubPropertyLists:
    """Look through the tables once for those that give a torque as a property that is for something."""
    held = [(table, _properties(table)) for table in tables]
    listed = [(table, found) for table, found in held if any(_is_torque(one) and one.part for one in found)]
    lists = tuple(table for table, _ in listed)
    others = [found for table, found in held if table not in lists]
    runs = []
    for page, run in groupby(listed, key=lambda one: one[0].page):
        runs.append((*_sizes_near(page, others), *chain.from_iterable(own for _, own in run)))
    return SubPropertyLists(lists, tuple(runs))


def _sizes_near(page: int, lists: Sequence[Sequence[SubProperty]]) -> Iterator[SubProperty]:
    """Yield the sizes that other lists give on a page or the one before."""
    for one in chain.from_iterable(lists):
        if page - 1 <= one.table.page <= page and _is_size(one):
            yield one


def _properties(table: Table) -> list[SubProperty]:
    """Return the properties of a table of three columns, top to bottom; [] for a table of another form."""
    grid = without_blank_columns(lay_out(table))
    found: list[SubProperty] = []
    band = name = ""
    for first, part, value in grid.rows if grid.width == _COLUMNS else ():
        name = text_of(first) or name
        if value is None or value is first or not text_of(value):
            band = text_of(first) or band
            continue
        said = part if part is not first and part is not value and text_of(part) else None
        found.append(SubProperty(table=table, band=band, name=name, part=said, value=value))
    return found


def read_sub_properties(found: Sequence[SubProperty]) -> Iterator[Reading]:
    """Yield a reading for each torque of a run of lists, with the sizes that are for the same terminals."""
    sizes = [one for one in found if _is_size(one)]
    torques: dict[tuple[str, str], list[SubProperty]] = {}
    for one in filter(_is_torque, found):
        torques.setdefault(one.same, []).append(one)
    for same in torques.values():
        yield from _readings(same, _sizes_for(same[0], sizes, several=len(torques) > 1))


def _is_torque(one: SubProperty) -> bool:
    """Tell whether a property names a torque and its value is one; what stands between is no figure and no unit."""
    name, value = make_sense(one.name), make_sense(text_of(one.value))
    between = make_sense(text_of(one.part))
    named = name.has("torque", "torque_min", "torque_max") and not (name.false_friend or name.figure)
    return named and value.figure and bool(value.unit("torque")) and not (between.figure or between.units)


def _is_size(one: SubProperty) -> bool:
    """Tell whether a property names conductors and its value is nothing but their sizes."""
    name, value = make_sense(one.name), make_sense(text_of(one.value))
    return name.has("conductor") and not name.has("torque") and value.figure and bool(_unit_of(name, value))


def _unit_of(name: Sense, value: Sense) -> str:
    return value.unit("area", "gauge") or name.unit("area", "gauge")


def _sizes_for(torque: SubProperty, sizes: Sequence[SubProperty], *, several: bool) -> list[SubProperty]:
    """Return the sizes that are for the terminals of a torque: of the same roles, or of none beside the only torque."""
    same = [one for one in sizes if one.roles == torque.roles and torque.roles]
    return same or [one for one in sizes if not (several or one.roles)]


def _readings(torques: Sequence[SubProperty], sizes: Sequence[SubProperty]) -> Iterator[Reading]:
    first = torques[0]
    cell, table, page = first.value, first.table, first.table.page
    label = list(_label(first))
    figures = [_entry(_side_of(one), one, "torque") for one in torques]
    said = " | ".join(filter(None, (first.name, text_of(first.part), text_of(cell))))
    place = Place(page=page, table=table.number, row=cell.row, column=cell.column, box=cell.box, text=said)
    yield Reading(
        place=place,
        entries=(*label, *(_entry("conductor", one, "area", "gauge") for one in sizes), *figures),
        scope=(*speak_over([first.band], "section_row", page), *speak_over(table.caption, "caption", page)),
        doubts=table.doubts,
    )


def _label(one: SubProperty) -> Iterator[Entry]:
    """Yield what a torque is for, the word "for" before it left out."""
    if one.part is None:
        return
    text = text_of(one.part)
    ties = (match for match in spot("connective", text) if match.concept == "for" and match.start == 0)
    name = text[next((match.end for match in ties), 0) :].strip()
    yield Entry(field="terminal", cell=replace(one.part, text=name))


def _side_of(one: SubProperty) -> str:
    sense = make_sense(one.said)
    if sense.minimum == sense.maximum:
        return "torque"
    return "torque_min" if sense.minimum else "torque_max"


def _entry(field: str, one: SubProperty, *kinds: str) -> Entry:
    place = Place(page=one.table.page, table=one.table.number)
    unit = make_sense(one.name).unit(*kinds)
    return Entry(field=field, cell=one.value, heading=one.said, unit_printed=unit, place=place)
