"""Data sheets that list each property with what a value is for: "Tightening torque | for main contacts | 2 … 2.5 N·m".

The name of a property stands before its first value alone. A torque and the sizes that its terminal takes are
properties of their own, on this page or the one before; they belong together where both are for the same terminals.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

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
    """A value with the name of its property and what it is for, "" where nothing stands between."""

    table: Table
    name: str
    part: Cell | None
    value: Cell

    @property
    def said(self) -> str:
        """The property and what its value is for, as printed."""
        return f"{self.name} {text_of(self.part)}".strip()

    @property
    def roles(self) -> frozenset[str]:
        """The roles of the terminals that the value is for."""
        return frozenset(roles_of_label(self.said))


def lists_sub_properties(table: Table) -> bool:
    """Tell whether a table gives a torque as a property that is for something: three columns, a name in the second."""
    return any(_is_torque(one) and one.part is not None for one in find_sub_properties(table))


def runs_of_sub_properties(tables: Sequence[Table]) -> Iterator[list[Table]]:
    """Yield the lists of sub-properties, each with the tables of the same page and the one before that give sizes."""
    listed = [table for table in tables if lists_sub_properties(table)]
    for _, run in groupby(listed, key=lambda table: table.page):
        own = list(run)
        near = (table for table in tables if table not in listed and own[0].page - 1 <= table.page <= own[0].page)
        yield [*(table for table in near if any(map(_is_size, find_sub_properties(table)))), *own]


def find_sub_properties(table: Table) -> list[SubProperty]:
    """Return the properties of a table of three columns, top to bottom; [] for a table of another form."""
    grid = without_blank_columns(lay_out(table))
    found: list[SubProperty] = []
    name = ""
    for first, part, value in grid.rows if grid.width == _COLUMNS else ():
        if part is first or part is value:
            part = None
        name = text_of(first) or name
        if value is not None and value is not first and text_of(value):
            found.append(SubProperty(table=table, name=name, part=part if text_of(part) else None, value=value))
    return found


def read_sub_properties(tables: Sequence[Table]) -> Iterator[Reading]:
    """Yield a reading for each size of each torque of a list, which may go on over several tables."""
    found = [one for table in tables for one in find_sub_properties(table)]
    sizes = [one for one in found if _is_size(one)]
    torques: dict[str, list[SubProperty]] = {}
    for one in filter(_is_torque, found):
        torques.setdefault(fold(text_of(one.part)), []).append(one)
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
    cell, table = first.value, first.table
    label = list(_label(first))
    figures = [_entry(_side_of(one), one, "torque") for one in torques]
    said = " | ".join(filter(None, (first.name, text_of(first.part), text_of(cell))))
    place = Place(page=table.page, table=table.number, row=cell.row, column=cell.column, box=cell.box, text=said)
    yield Reading(
        place=place,
        entries=(*label, *(_entry("conductor", one, "area", "gauge") for one in sizes), *figures),
        scope=speak_over(table.caption, "caption", table.page),
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
