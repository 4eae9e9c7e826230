"""What each column of a section holds, told from its headings and, where they are silent, its cells."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell, Doubt, Mark
from torquary_ingest.figures import read_drive
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.heading_cells import device_line, device_under, heading_cells, is_prose
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import Sense, make_sense
from torquary_schema.vocabulary import role_of_marking
from torquary_schema.words import Kind, spot

_DIGIT = re.compile(r"\d")
_KINDS: tuple[Kind, ...] = ("stranding", "ferrule", "material")
_THREAD = re.compile(r"^\s*M\s?\d+(?:[.,]\d+)?(?!\w|[.,]\d)", re.IGNORECASE)

# Units in brackets that are of no torque: W, A, V, kg and their kin.
_OTHER_UNIT = re.compile(r"[\[(]\s*(?:k?W|[mk]?A|[mk]?V|k?VA|k?g|[mc]m|k?Hz|°C|%|m?s)\s*[\])]\s*$")

# Where several concepts stand in one heading, the first of these says what the column holds.
_ORDER = (
    "torque", "torque_min", "torque_max", "strip_length", "drive", "bit", "thread", "conductor_min",
    "conductor_max", "conductor", "stranding", "rated_current", "ferrule", "material", "clamp", "count",
    "terminal", "model", "series", "device", "maker", "family", "purpose", "edition", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its field, the printed unit and the heading text; `index` counts from 0.

    `qualifier` is what the heading says beyond field and unit ("Main circuit", "flexible"), joined by " / ".
    `size` is a heading cell that is itself a conductor size (a matrix with sizes across).
    `marks` and `doubts` are those of the heading's cells, `lines` their lines from top to bottom.
    """

    index: int
    field: str
    unit: str = ""
    heading: str = ""
    qualifier: str = ""
    size: Cell | None = None
    qualifier_cells: tuple[Cell, ...] = ()
    marks: tuple[Mark, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    lines: tuple[str, ...] = ()


def name_columns(grid: Grid, section: Section) -> tuple[Column, ...]:
    """Return what the section's columns hold; field "unknown" where the heading says nothing known."""
    columns = [_name_column(grid, section, index) for index in range(grid.width)]
    columns = _share_quantity(_without_stray_unit(columns))
    columns = [_look_at_cells(grid, section, column) for column in columns]
    return tuple(_find_labels(grid, section, _doubt_beside_limits(columns)))


def _doubt_beside_limits(columns: list[Column]) -> list[Column]:
    """Doubt a third column under the heading of two limits: the heading may reach too far."""
    heads = {side: {c.lines[0] for c in columns if c.field == f"torque_{side}" and c.lines} for side in ("min", "max")}
    both = heads["min"] & heads["max"]
    message = "stands under a heading of two limits and names neither; look at the sheet whether it is a torque"
    return [
        replace(c, doubts=(*c.doubts, Doubt(code="condition_unread", message=f"{c.lines[-1]!r} {message}")))
        if c.field == "torque" and len(c.lines) > 1 and c.lines[0] in both
        else c
        for c in columns
    ]


def _without_stray_unit(columns: list[Column]) -> list[Column]:
    """Leave a column of terminals what it is when a torque unit reached its heading from a band row beneath.

    It does so when another column names the torque and states no unit.
    """
    stray = [column.field == "torque" and _ends_in_band(column) for column in columns]
    others = [column for column, strange in zip(columns, stray, strict=True) if not strange]
    if not any(_names_torque(column) and not column.unit for column in others):
        return columns
    return [
        replace(column, field="terminal", unit="", qualifier="", qualifier_cells=()) if strange else column
        for column, strange in zip(columns, stray, strict=True)
    ]


def _ends_in_band(column: Column) -> bool:
    """Tell whether a heading names terminals, and a unit of torque only in a line beneath."""
    senses = [make_sense(line) for line in column.lines]
    named = any(s.has("terminal") and not s.has("torque") and not s.units for s in senses[:-1])
    return named and bool(senses[-1].unit("torque", "force"))


def _names_torque(column: Column) -> bool:
    return column.field.startswith("torque") and make_sense(column.heading).has("torque", "torque_min", "torque_max")


def _share_quantity(columns: list[Column]) -> list[Column]:
    """Give "max." the quantity of its neighbour "Torque min." when it says no more than the other limit."""
    shared = list(columns)
    for at, column in enumerate(columns):
        sense = make_sense(column.heading)
        if column.field != "unknown" or sense.rest or sense.units or sense.minimum == sense.maximum:
            continue
        mine = "min" if sense.minimum else "max"
        for other in (*columns[max(at - 1, 0) : at], *columns[at + 1 : at + 2]):
            quantity, _, side = other.field.rpartition("_")
            if quantity in ("torque", "conductor") and side in ("min", "max") and side != mine:
                shared[at] = replace(
                    column,
                    field=f"{quantity}_{mine}",
                    unit=other.unit,
                    qualifier=other.qualifier,
                    qualifier_cells=other.qualifier_cells,
                )
    return shared


def _name_column(grid: Grid, section: Section, index: int) -> Column:
    cells = heading_cells(grid, section, index)
    senses = [(cell, grid.sense(cell)) for cell in cells]
    field = _field_of([sense for _, sense in senses])
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
        doubts=tuple(doubt for cell in cells for doubt in cell.doubts),
        lines=tuple(line.strip() for cell in cells for line in cell.text.split("\n") if line.strip()),
    )


def prose_of(grid: Grid, section: Section) -> tuple[str, ...]:
    """Return the running lines among the heading rows: they speak for the section as a caption does.

    So does a device's name that stands close under the heading of the first column: a band taken into it.
    """
    cells = distinct(cell for row in section.headings for cell in grid.rows[row])
    lines = [line for cell in cells if is_prose(cell) for line in cell.text.split("\n")]
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
        return "conductor" + _side(senses[-1:])
    names = {name for sense in senses for name in sense.fields}
    units = {unit.kind for sense in senses if not is_size(sense) for unit in sense.units}
    field = next((name for name in _ORDER if name in names), "")
    if field in ("", "terminal", "device", "clamp") and "torque" in units:
        field = "torque"
    elif field in ("", "terminal", "device", "clamp", "material", "ferrule", "stranding") and units & {"area", "gauge"}:
        field = "conductor"
    if field.startswith("torque") and _OTHER_UNIT.search(senses[-1].text) and not senses[-1].unit("torque", "force"):
        return "other"  # a heading over several columns may reach too far
    if field in ("torque", "conductor"):
        field += _side(senses)
    if not field:
        field = _silent_field(names)
    return field


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


def _side(senses: list[Sense]) -> str:
    """Return "_min", "_max" or "" as the heading limits its figures to one side."""
    low, high = any(s.minimum for s in senses), any(s.maximum for s in senses)
    if low == high:
        return ""
    return "_min" if low else "_max"


def _look_at_cells(grid: Grid, section: Section, column: Column) -> Column:
    """Let the cells decide where a heading has two meanings ("Screw": a name or a thread) or none."""
    texts = [text for row in section.body if (text := text_of(grid.rows[row][column.index]))]
    if not texts:
        return column
    if column.field in ("terminal", "unknown", "blank", "name") and all(map(_is_thread, texts)):
        return replace(column, field="thread")
    senses = [make_sense(text) for text in texts]
    if column.field == "torque" and not any(s.figure or s.unit("torque") for s in senses):
        # A heading over several columns may reach too far: what names terminals and holds names are terminals.
        own = make_sense(column.lines[-1]) if len(column.lines) > 1 else None
        if own is not None and own.has("terminal") and not own.has("torque"):
            return replace(column, field="terminal", unit="", qualifier="", qualifier_cells=())
    silent = column.field in ("unknown", "blank", "other", "name")
    if silent and all(s.units and not s.rest and not s.figure for s in senses):
        return replace(column, field="unit")
    # "Range" and "Size" head devices and conductors alike, and "Terminal" may stand in the corner of a matrix for
    # what goes across: cells that print mm² or AWG settle it.
    named = column.field in ("series", "model", "device", "clamp", "terminal")
    if (silent or named) and all(s.figure and s.unit("area", "gauge") for s in senses):
        return replace(column, field="conductor")
    if silent and all(s.figure and s.unit("torque") for s in senses):
        return replace(column, field="torque")
    if column.field == "conductor" and not any(_DIGIT.search(text) for text in texts) and all(map(_names_kind, texts)):
        return replace(column, field="stranding")
    return column


def cut_thread(text: str) -> str:
    """Return the thread that a cell begins with ("M5" of "M5, cross-recess PZ2"); the text when it begins with none."""
    thread = _THREAD.match(text)
    return thread[0].strip() if thread else text


def _is_thread(text: str) -> bool:
    """Tell whether a cell is a thread alone, or with the drive of its screw: "M5", "M5, cross-recess PZ2"."""
    thread = _THREAD.match(text)
    rest = text[thread.end() :].strip(" ,;/") if thread else ""
    return thread is not None and (not rest or bool(read_drive(rest) or spot("drive", rest)))


def _names_kind(text: str) -> bool:
    """A cell such as "solid, stranded" or "flexible with ferrule" says which conductor, not how large."""
    return any(spot(kind, text) for kind in _KINDS)


def _find_labels(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Where no heading names the terminal, the first column of names does; threads and devices are asked later."""
    named = [column for column in columns if column.field == "terminal"]
    if len(named) > 1:
        return [replace(c, field="other") if c in named and _counts_rows(grid, section, c) else c for c in columns]
    if named:
        return columns
    for fields in (("blank", "name"), ("unknown",)):
        for position, column in enumerate(columns):
            if column.field in fields and _has_names(grid, section, column):
                columns[position] = replace(column, field="terminal")
                return columns
    for position, column in enumerate(columns):
        if column.field == "other" and _has_markings(grid, section, column):
            columns[position] = replace(column, field="terminal")
            break
    return columns


def _counts_rows(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether a column beside the one of terminals only numbers the rows: 1, 2, 3 …"""
    texts = [text_of(grid.rows[row][column.index]).strip(" .") for row in section.body]
    return len(texts) > 1 and texts == [str(number) for number in range(1, len(texts) + 1)]


def _has_markings(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether a column under another heading ("Pole", "Phase") holds markings of terminals, no numbers."""
    texts = [text for row in section.body if (text := text_of(grid.rows[row][column.index]))]
    named = [text for text in texts if any(role_of_marking(part) for part in re.split(r"[\s,;/–-]+", text) if part)]
    return bool(texts) and len(named) * 2 >= len(texts) and len(set(texts)) == len(texts)


def _has_names(grid: Grid, section: Section, column: Column) -> bool:
    texts = [text_of(grid.rows[row][column.index]) for row in section.body]
    named = [text for text in texts if text]
    if not named or len(named) * 2 < len(texts):
        return False
    return column.index == 0 or any(not make_sense(text).figure for text in named)
