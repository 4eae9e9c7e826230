"""What each column of a section holds, told from its headings and, where they are silent, its cells."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_ingest.document import Doubt
from torquary_ingest.headings.column import FIELD_ORDER, Column
from torquary_ingest.headings.column_cells import look_at_cells, part_conductors
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.heading_cells import device_line, device_under, heading_cells, is_prose
from torquary_ingest.headings.kinds_shared import share_upper_heading
from torquary_ingest.headings.label_column import find_labels
from torquary_ingest.headings.limits_shared import (
    doubt_beside_limits,
    doubt_beside_unread,
    join_cut_phrases,
    share_quantity,
    without_stray_unit,
)
from torquary_ingest.headings.lone_words import doubt_lone_words
from torquary_ingest.headings.parts_shared import share_parts, share_units
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import Sense
from torquary_ingest.headings.taught import FIGURES, Printed, judge
from torquary_ingest.lexis.figures import has_figure
from torquary_schema.words import spot

_IN_AMPERE = re.compile(r"[\[(]\s*m?A\s*[\])]\s*$")
_NAMES = ("", "terminal", "device", "clamp", "series")
"""What a heading may name beside the unit that says what stands below: "Range mm²" heads sizes, no series."""

# Units in brackets that are of no torque: W, A, V, kg and their kin.
_OTHER_UNIT = re.compile(r"[\[(]\s*(?:k?W|[mk]?A|[mk]?V|k?VA|k?g|[mc]m|k?Hz|°C|%|m?s)\s*[\])]\s*$")


def name_columns(grid: Grid, section: Section) -> tuple[Column, ...]:
    """Return what the section's columns hold; field "unknown" where the heading says nothing known."""
    columns = share_units([_name_column(grid, section, index) for index in range(grid.width)])
    columns = doubt_beside_unread(share_quantity(without_stray_unit(join_cut_phrases(columns))))
    columns = share_upper_heading(grid, section, columns)
    columns = part_conductors(grid, section, [look_at_cells(grid, section, column) for column in columns])
    columns = doubt_lone_words(grid, section, doubt_beside_limits(columns))
    return tuple(find_labels(grid, section, share_parts(columns)))


def _name_column(grid: Grid, section: Section, index: int) -> Column:
    cells = heading_cells(grid, section, index)
    senses = [(cell, grid.sense(cell)) for cell in cells]
    field = _field_of([sense for _, sense in senses])
    taught = tuple(sense.taught for _, sense in senses if sense.taught is not None)
    contradictions: tuple[Doubt, ...] = ()
    if taught:
        field, contradictions = judge(taught, _as_printed(grid, section, index))
        field += side_of([sense for _, sense in senses]) if field in FIGURES else ""
    size = next((cell for cell, sense in senses if is_size(sense)), None) if field.startswith("torque") else None
    kinds = {"torque": ("torque", "force"), "conductor": ("area", "gauge")}.get(field.split("_")[0], ())
    stated = [s.unit(*kinds) for cell, s in senses if cell is not size and s.unit(*kinds)] if kinds else []
    unit = " ".join(dict.fromkeys(stated))
    rests = [(cell, sense.rest) for cell, sense in senses if sense.rest and cell is not size]
    if index == 0:  # the name of a device under the first heading is a band
        rests = [(cell, rest) for cell, rest in rests if rest != device_under(cell)]
    return Column(
        index=index,
        field=field,
        unit=unit,
        heading=" ".join(text_of(cell) for cell in cells),
        qualifier=" / ".join(rest for _, rest in rests),
        size=size,
        qualifier_cells=tuple(cell for cell, _ in rests),
        marks=tuple(mark for cell in cells for mark in cell.marks),
        doubts=(
            *(doubt for cell in cells for doubt in cell.doubts),
            *_unit_doubts(field, [s for _, s in senses]),
            *_limit_doubts(field, [rest for _, rest in rests]),
            *_size_doubts(field, [s for _, s in senses]),
            *_reach_doubts(field, [s for _, s in senses]),
        ),
        lines=tuple(line.strip() for cell in cells for line in cell.text.split("\n") if line.strip()),
        taught=taught[0] if taught else None,
        contradictions=contradictions,
    )


def _as_printed(grid: Grid, section: Section, index: int) -> Printed:
    """Return what a column is without what a person explained."""
    plain = replace(grid, taught=())
    column = _name_column(plain, section, index)
    heads = distinct(grid.rows[row][index] for row in section.headings)
    return Printed(
        by_headings=column.field,
        with_cells=look_at_cells(plain, section, column).field,
        false_friend=any(plain.sense(cell).false_friend for cell in heads if not is_prose(plain, cell)),
        texts=tuple(grid.texts(section.body, index)),
    )


def prose_of(grid: Grid, section: Section) -> tuple[str, ...]:
    """Return the running lines among the heading rows: they speak for the section as a caption does.

    So does a device's name that stands close under the heading of the first column: a band taken into it.
    """
    cells = distinct(cell for row in section.headings for cell in grid.rows[row])
    lines = [line for cell in cells if is_prose(grid, cell) for line in cell.text.split("\n")]
    device = device_line([heading_cells(grid, section, index) for index in range(grid.width)])
    return (*lines, *((device,) if device else ()))


def is_size(sense: Sense) -> bool:
    """A heading such as "1.5–6 mm²" or "AWG 14–10" is a value, not a name."""
    return sense.figure and bool(sense.unit("area", "gauge"))


def _field_of(senses: list[Sense]) -> str:
    """Return the field that a column's heading cells, top to bottom, name together."""
    if not senses:
        return "blank"
    if any(sense.false_friend for sense in senses):
        return "other"
    if _heads_sizes(senses[-1]):
        return "conductor" + side_of(senses[-1:])
    names = {name for sense in senses for name in sense.fields}
    units = {unit.kind for sense in senses if not is_size(sense) for unit in sense.units}
    field = next((name for name in FIELD_ORDER if name in names), "")
    if field in _NAMES and "torque" in units:
        field = "torque"
    elif field in (*_NAMES, "model", "material", "ferrule", "stranding") and units & {"area", "gauge"}:
        field = "conductor"
    if field == "series" and _IN_AMPERE.search(senses[-1].text):
        field = "rated_current"  # "Setting range (A)"
    if field.startswith("torque") and _ends_in_other_unit(senses) and not _says_torque(senses[-1]):
        return "other"  # a heading over several columns may reach too far
    if field in ("torque", "conductor"):
        field += side_of(senses)
    if field == "terminal" and len(senses) > 1 and side_of(senses[-1:]):
        field = "unknown"  # a limit of a terminal's, whatever it may be: "Main circuit" over "min" and "max"
    if not field:
        field = _silent_field(names)
    return field


def _unit_doubts(field: str, senses: list[Sense]) -> Iterator[Doubt]:
    """Yield a doubt on a torque whose heading ends in brackets that may be a unit of something else, or a note."""
    if field.startswith("torque") and _ends_in_other_unit(senses):
        message = f"the heading {senses[-1].text!r} ends in what may be a unit of no torque; look what the figure is"
        yield Doubt(code="unit_not_torque", message=message)


def _limit_doubts(field: str, rests: list[str]) -> Iterator[Doubt]:
    """Yield a doubt on a torque of one limit whose heading also says "from": both limits ran into one heading."""
    whole = [match for rest in rests for match in spot("connective", rest) if match.printed == rest]
    ties = [match for match in whole if match.concept in ("from", "range")]
    if field in ("torque_min", "torque_max") and ties:
        message = f"the heading says {ties[0].printed!r} and the other limit too; look which figure is which"
        yield Doubt(code="condition_unread", message=message)


def _size_doubts(field: str, senses: list[Sense]) -> Iterator[Doubt]:
    """Yield a doubt on a torque whose heading also gives a size of conductors: "Torque N·m, ≤ 10 mm²"."""
    for sense in senses if field.startswith("torque") else ():
        if sense.unit("area", "gauge") and not is_size(sense) and has_figure(sense.rest):
            message = f"the heading {sense.text!r} gives a size of conductors too; say for which size the torque is"
            yield Doubt(code="condition_unread", message=message)


def _reach_doubts(field: str, senses: list[Sense]) -> Iterator[Doubt]:
    """Yield a doubt on sizes whose nearest heading names a length: one over several columns may reach too far."""
    lowest = senses[-1] if len(senses) > 1 else None
    if field.startswith("conductor") and lowest and lowest.has("other") and lowest.unit("length"):
        message = f"the heading {lowest.text!r} stands under one of sizes; look what its figures are"
        yield Doubt(code="condition_unread", message=message)


def _says_torque(sense: Sense) -> bool:
    return sense.has("torque", "torque_min", "torque_max")


def _ends_in_other_unit(senses: list[Sense]) -> bool:
    """Tell whether the lowest heading ends in a unit that is of no torque, and states none of torque.

    A length under another heading ("temperature mm") needs no brackets.
    """
    lowest = senses[-1] if senses else None
    if lowest is None or lowest.unit("torque", "force"):
        return False
    length = len(senses) > 1 and bool(lowest.unit("length")) and not has_figure(lowest.text)
    return length or _OTHER_UNIT.search(lowest.text) is not None


def _silent_field(names: set[str]) -> str:
    """Return the field of a heading that names no quantity: "Property, unit" heads names, "Unit" units."""
    if not names:
        return "unknown"
    if names == {"unit"}:
        return "unit"
    return "other" if names - {"property", "value", "unit"} else "name"


def _heads_sizes(sense: Sense) -> bool:
    """The lowest heading is the nearest: with its unit it says what stands below, whatever reaches in from above."""
    sized = bool(sense.unit("area", "gauge")) and not sense.unit("torque", "force")
    return sized and sense.has("conductor") and not sense.has("torque", "torque_min", "torque_max")


def side_of(senses: Sequence[Sense]) -> str:
    """Return "_min", "_max" or "" as the heading limits its figures to one side."""
    named = [sense for sense in senses if not sense.figure]  # "10 mm² or less" limits the size, not the torque
    low, high = any(s.minimum for s in named), any(s.maximum for s in named)
    if low == high:
        return ""
    return "_min" if low else "_max"
