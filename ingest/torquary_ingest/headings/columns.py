"""What each column of a section holds, told from its headings and, where they are silent, its cells."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from torquary_ingest.document import Doubt
from torquary_ingest.figures import read_drive
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.heading_cells import device_line, device_under, heading_cells, is_prose
from torquary_ingest.headings.kinds_shared import share_upper_heading
from torquary_ingest.headings.limits_shared import doubt_beside_limits, share_quantity, without_stray_unit
from torquary_ingest.headings.lone_words import doubt_lone_words
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import Sense, make_sense
from torquary_ingest.headings.taught import FIGURES, Printed, judge
from torquary_schema.vocabulary import role_of_marking
from torquary_schema.words import Kind, fold, spot

_DIGIT = re.compile(r"\d")
_WORD = 4
"""Letters from which a heading is a word ("Terminal") and its 1, 2, 3 may be markings, not a count."""

_KINDS: tuple[Kind, ...] = ("stranding", "ferrule", "material")
_DRIVE_WORDS = 3
_MARKING = re.compile(r"[A-Z]\d{1,2}")
_THREAD = re.compile(r"^\s*M\s?\d+(?:[.,]\d+)?(?!\w|[.,]\d)", re.IGNORECASE)

# Units in brackets that are of no torque: W, A, V, kg and their kin.
_OTHER_UNIT = re.compile(r"[\[(]\s*(?:k?W|[mk]?A|[mk]?V|k?VA|k?g|[mc]m|k?Hz|°C|%|m?s)\s*[\])]\s*$")

# Where several concepts stand in one heading, the first of these says what the column holds.
_ORDER = (
    "torque", "torque_min", "torque_max", "strip_length", "drive", "bit", "thread", "conductor_min",
    "conductor_max", "conductor", "stranding", "rated_current", "ferrule", "material", "clamp", "count",
    "terminal", "model", "series", "device", "maker", "family", "purpose", "edition", "note",
)  # fmt: skip


def name_columns(grid: Grid, section: Section) -> tuple[Column, ...]:
    """Return what the section's columns hold; field "unknown" where the heading says nothing known."""
    columns = [_name_column(grid, section, index) for index in range(grid.width)]
    columns = share_upper_heading(grid, section, share_quantity(without_stray_unit(columns)))
    columns = [_look_at_cells(grid, section, column) for column in columns]
    columns = doubt_lone_words(grid, section, doubt_beside_limits(columns))
    return tuple(_find_labels(grid, section, columns))


def _name_column(grid: Grid, section: Section, index: int) -> Column:
    cells = heading_cells(grid, section, index)
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
        doubts=(*(doubt for cell in cells for doubt in cell.doubts), *_unit_doubts(field, [s for _, s in senses])),
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
        with_cells=_look_at_cells(plain, section, column).field,
        false_friend=any(plain.sense(cell).false_friend for cell in heads if not is_prose(cell)),
        texts=tuple(text for row in section.body if (text := text_of(grid.rows[row][index]))),
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
    if field.startswith("torque") and _ends_in_other_unit(senses) and not _says_torque(senses[-1]):
        return "other"  # a heading over several columns may reach too far
    if field in ("torque", "conductor"):
        field += _side(senses)
    if not field:
        field = _silent_field(names)
    return field


def _unit_doubts(field: str, senses: list[Sense]) -> Iterator[Doubt]:
    """Yield a doubt on a torque whose heading ends in brackets that may be a unit of something else, or a note."""
    if field.startswith("torque") and _ends_in_other_unit(senses):
        message = f"the heading {senses[-1].text!r} ends in what may be a unit of no torque; look what the figure is"
        yield Doubt(code="unit_not_torque", message=message)


def _says_torque(sense: Sense) -> bool:
    return sense.has("torque", "torque_min", "torque_max")


def _ends_in_other_unit(senses: list[Sense]) -> bool:
    """Tell whether the lowest heading ends in a unit that is of no torque, and states none of torque."""
    return bool(senses and _OTHER_UNIT.search(senses[-1].text)) and not senses[-1].unit("torque", "force")


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
    if not texts or column.taught is not None:
        return column
    if column.field in ("terminal", "unknown", "blank", "name") and all(map(_is_thread, texts)):
        return replace(column, field="thread")
    if column.field in ("terminal", "unknown", "name") and all(map(_is_drive, texts)):
        return replace(column, field="drive")
    senses = [make_sense(text) for text in texts]
    if column.field == "torque" and not any(s.figure or s.unit("torque") for s in senses):
        # A heading over several columns may reach too far: what names terminals and holds names are terminals.
        own = make_sense(column.lines[-1]) if len(column.lines) > 1 else None
        if own is not None and own.has("terminal") and not own.has("torque"):
            return replace(column, field="terminal", unit="", qualifier="", qualifier_cells=())
    silent = column.field in ("unknown", "blank", "other", "name") and not make_sense(column.heading).false_friend
    if silent and all(s.units and not s.rest and not s.figure for s in senses):
        return replace(column, field="unit")
    # "Range" and "Size" head devices and conductors alike, and "Terminal" may stand in the corner of a matrix for
    # what goes across: cells that print mm² or AWG settle it.
    named = column.field in ("series", "model", "device", "clamp", "terminal")
    if (silent or named) and all(s.figure and s.unit("area", "gauge") for s in senses):
        return replace(column, field="conductor")
    # So do cells that print a torque with its unit: the heading then names their terminal, the span over it is lost.
    if (silent or column.field == "terminal") and all(s.figure and s.unit("torque") for s in senses):
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


def _is_drive(text: str) -> bool:
    """Tell whether a cell under "Screw" is a drive with its size: "PZ2", "slotted 1x5.5"; T10 may be a terminal."""
    short = len(text.split()) <= _DRIVE_WORDS and _DIGIT.search(text) is not None
    return short and bool(read_drive(text)) and not _MARKING.fullmatch(text.strip())


def _names_kind(text: str) -> bool:
    """A cell such as "solid, stranded" or "flexible with ferrule" says which conductor, not how large."""
    return any(spot(kind, text) for kind in _KINDS)


def _find_labels(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Where no heading names the terminal, the first column of names does; threads and devices are asked later."""
    named = [column for column in columns if column.field == "terminal"]
    if len(named) > 1:
        return [replace(c, field="other") if _counts_rows(grid, section, c) else c for c in columns]
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
    """Tell whether a column of terminals under an abbreviation ("No.", "Pos.") only numbers the rows: 1, 2, 3 …"""
    if column.field != "terminal" or max(map(len, fold(column.heading).split()), default=0) >= _WORD:
        return False
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
