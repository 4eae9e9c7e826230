"""What each column of a section holds, told from its headings and, where they are silent, its cells."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell, Doubt, Mark, TaughtHeading
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.roles import spot_roles
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import Sense, make_sense
from torquary_ingest.headings.taught import FIGURES, OF_TERMINALS, Printed, base, doubt_lone_word, judge
from torquary_schema.words import Kind, spot

_DIGIT = re.compile(r"\d")
_KINDS: tuple[Kind, ...] = ("stranding", "ferrule", "material")
_THREAD = re.compile(r"^\s*M\s?\d+(?:[.,]\d+)?\s*$", re.IGNORECASE)

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
    `marks` and `doubts` are those of the heading's cells. `taught` is what a layout profile says of the
    heading, `contradictions` why it cannot be so.
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
    taught: TaughtHeading | None = None
    contradictions: tuple[Doubt, ...] = ()


def name_columns(grid: Grid, section: Section) -> tuple[Column, ...]:
    """Return what the section's columns hold; field "unknown" where the heading says nothing known."""
    columns = [_name_column(grid, section, index) for index in range(grid.width)]
    columns = [_look_at_cells(grid, section, column) for column in columns]
    columns = _doubt_lone_words(grid, section, columns)
    return tuple(_find_labels(grid, section, columns))


def _name_column(grid: Grid, section: Section, index: int) -> Column:
    cells = [c for c in distinct(grid.rows[row][index] for row in section.headings) if not is_prose(c)]
    senses = [(cell, grid.sense(cell)) for cell in cells]
    field = _field_of([sense for _, sense in senses])
    taught = tuple(sense.taught for _, sense in senses if sense.taught is not None)
    contradictions: tuple[Doubt, ...] = ()
    if taught:
        field, contradictions = judge(taught, _as_printed(grid, section, index))
        field += _side([sense for _, sense in senses]) if field in FIGURES else ""
    size = next((cell for cell, sense in senses if is_size(sense)), None) if field.startswith("torque") else None
    kinds = {"torque": ("torque", "force"), "conductor": ("area", "gauge")}.get(field.split("_")[0], ())
    stated = [s.unit(*kinds) for cell, s in senses if cell is not size and s.unit(*kinds)] if kinds else []
    unit = " ".join(dict.fromkeys(stated))
    rests = [(cell, sense.rest) for cell, sense in senses if sense.rest and cell is not size]
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
        taught=taught[0] if taught else None,
        contradictions=contradictions,
    )


def _doubt_lone_words(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Doubt a column that is a torque by a person's word alone where the print does not bear it out.

    That is where it names another torque for the rows, or where nothing speaks of terminals: in another table of
    the sheet the same abbreviation may mean another thing.
    """
    torques = [column for column in columns if base(column.field) == "torque"]
    said = [column for column in torques if column.taught and not _prints_torque(grid, section, column)]
    if not said:
        return columns
    named = next((column.heading for column in torques if column not in said), "")
    if not named and any(_is_of_terminals(grid, section, column) for column in columns if column not in said):
        return columns
    if not named and any(make_sense(line).has("terminal") or spot_roles(line) for line in grid.table.caption):
        return columns
    return [
        replace(column, contradictions=(*column.contradictions, doubt_lone_word(column.taught, named)))
        if column in said and column.taught
        else column
        for column in columns
    ]


def _is_of_terminals(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether a column's heading or cells speak of terminals or of what goes into them."""
    if column.taught or column.field in ("conductor", "conductor_min", "conductor_max", "thread", "stranding"):
        return column.field in OF_TERMINALS
    heads = [grid.sense(grid.rows[row][column.index]) for row in section.headings]
    texts = [text_of(grid.rows[row][column.index]) for row in section.body]
    return any(sense.has(*OF_TERMINALS) for sense in heads) or any(map(spot_roles, texts))


def _prints_torque(grid: Grid, section: Section, column: Column) -> bool:
    texts = (text_of(grid.rows[row][column.index]) for row in section.body)
    return bool(column.unit) or any(make_sense(text).unit("torque") for text in texts)


def _as_printed(grid: Grid, section: Section, index: int) -> Printed:
    """Return what a column is without what a person explained."""
    plain = replace(grid, taught=())
    column = _name_column(plain, section, index)
    heads = distinct(grid.rows[row][index] for row in section.headings)
    return Printed(
        by_headings=column.field,
        with_cells=_look_at_cells(plain, section, column).field,
        false_friend=any(plain.sense(cell).false_friend for cell in heads if not is_prose(cell)),
        texts=tuple(text for row in section.body if (text := text_of(grid.rows[row][index]))),
    )


def is_prose(cell: Cell) -> bool:
    """A running line over several columns, taken into the heading because it stands close, names no column."""
    text = text_of(cell)
    return cell.column_span > 1 and (len(text) > 60 or (len(text) > 25 and bool(_DIGIT.search(text))))


def prose_of(grid: Grid, section: Section) -> tuple[str, ...]:
    """Return the running lines among the heading rows: they speak for the section as a caption does."""
    cells = distinct(cell for row in section.headings for cell in grid.rows[row])
    return tuple(line for cell in cells if is_prose(cell) for line in cell.text.split("\n"))


def is_size(sense: Sense) -> bool:
    """A heading such as "1.5–6 mm²" or "AWG 14–10" is a value, not a name."""
    return sense.figure and bool(sense.unit("area", "gauge"))


def _field_of(senses: list[Sense]) -> str:
    """Return the field that a column's heading cells, top to bottom, name together."""
    if not senses:
        return "blank"
    if any(sense.false_friend for sense in senses):
        return "other"
    names = {name for sense in senses for name in sense.fields}
    units = {unit.kind for sense in senses if not is_size(sense) for unit in sense.units}
    field = next((name for name in _ORDER if name in names), "")
    if field in ("", "terminal", "device", "clamp") and "torque" in units:
        field = "torque"
    elif field in ("", "terminal", "device", "clamp", "material", "ferrule", "stranding") and units & {"area", "gauge"}:
        field = "conductor"
    if field in ("torque", "conductor"):
        field += _side(senses)
    if not field:
        field = "other" if names - {"property", "value"} else ("name" if names else "unknown")
    return field


def _side(senses: list[Sense]) -> str:
    """Return "_min", "_max" or "" as the heading limits its figures to one side."""
    low, high = any(s.minimum for s in senses), any(s.maximum for s in senses)
    if low == high:
        return ""
    return "_min" if low else "_max"


def _look_at_cells(grid: Grid, section: Section, column: Column) -> Column:
    """Let the cells decide where a heading has two meanings ("Screw": a name or a thread) or none."""
    texts = [text for row in section.body if (text := text_of(grid.rows[row][column.index]))]
    if not texts or column.taught is not None:
        return column
    if column.field in ("terminal", "unknown", "blank", "name") and all(_THREAD.match(text) for text in texts):
        return replace(column, field="thread")
    senses = [make_sense(text) for text in texts]
    silent = column.field in ("unknown", "blank", "other", "name")
    if silent and all(s.units and not s.rest and not s.figure for s in senses):
        return replace(column, field="unit")
    # "Range" and "Size" head devices and conductors alike: cells that print mm² or AWG settle it.
    named = column.field in ("series", "model", "device", "clamp")
    if (silent or named) and all(s.figure and s.unit("area", "gauge") for s in senses):
        return replace(column, field="conductor")
    if silent and all(s.figure and s.unit("torque") for s in senses):
        return replace(column, field="torque")
    if column.field == "conductor" and not any(_DIGIT.search(text) for text in texts) and all(map(_names_kind, texts)):
        return replace(column, field="stranding")
    return column


def _names_kind(text: str) -> bool:
    """A cell such as "solid, stranded" or "flexible with ferrule" says which conductor, not how large."""
    return any(spot(kind, text) for kind in _KINDS)


def _find_labels(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Where no heading names the terminal, the first column of names does, then threads, then devices."""
    if any(column.field == "terminal" for column in columns):
        return columns
    for fields in (("blank", "name"), ("unknown",), ("thread",)):
        for position, column in enumerate(columns):
            if column.field in fields and _has_names(grid, section, column):
                columns[position] = replace(column, field="terminal")
                return columns
    return columns


def _has_names(grid: Grid, section: Section, column: Column) -> bool:
    texts = [text_of(grid.rows[row][column.index]) for row in section.body]
    named = [text for text in texts if text]
    if not named or len(named) * 2 < len(texts):
        return False
    return column.index == 0 or any(not make_sense(text).figure for text in named)
