"""What the cells of a column say where its heading has two meanings, or none."""

from __future__ import annotations

import re
from dataclasses import replace

from torquary_ingest.figures import read_drive
from torquary_ingest.figures.kinds import says_none
from torquary_ingest.headings.column import FIELD_ORDER, OF_VALUES, Column
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_ingest.lexis.figures import has_figure
from torquary_ingest.lexis.threads import begin_of_thread
from torquary_schema.roles import is_terminal, says_terminal, spot_roles
from torquary_schema.words import Kind, spot

_SIGNS = " ≤<≥>~("

# Columns that a heading over torques beside them may reach over.
_NAMED = ("terminal", "stranding", "material", "ferrule", "clamp", "drive", "thread", "device", "model", "series")

_KINDS: tuple[Kind, ...] = ("stranding", "ferrule", "material")
_PAIR = re.compile(r"\d+(?:[.,]\d+)?\s*[x×]\s*\d+(?:[.,]\d+)?(?:\s*mm)?")
_DRIVE_WORDS = 3
_COUNTS = ("1", "2", "3")
"""Conductors in one terminal; from four on they are met seldom, and 4 mm² often."""
_STANDARD = re.compile(r"\b(?:DIN|EN|IEC|ISO|VDE)(?:[ /-](?:DIN|EN|IEC|ISO|VDE))*\s?\d[\d-]*")
"""The number of a standard: "DIN 46234"."""

_MARKING = re.compile(r"[A-Z]\d{1,2}")


def look_at_cells(grid: Grid, section: Section, column: Column) -> Column:
    """Let the cells decide where a heading has two meanings ("Screw": a name or a thread) or none."""
    texts = [text for text in grid.texts(section.body, column.index) if not says_none(text)]
    if not texts or column.taught is not None:
        return column
    if field := _part_of_screw(grid, column, texts) or _other_than_headed(grid, section, column, texts):
        return replace(column, field=field)
    senses = [make_sense(text) for text in texts]
    if column.field == "torque" and (own := _named_beneath(column, texts)):
        return replace(column, field=own, unit="", qualifier="", qualifier_cells=())
    silent = column.field in ("unknown", "blank", "other", "name") and not make_sense(column.heading).false_friend
    if (silent or column.field == "torque") and all(s.units and not s.rest and not s.figure for s in senses):
        return replace(column, field="unit")
    # "Range" and "Size" head devices and conductors alike, and "Terminal" may stand in the corner of a matrix for
    # what goes across: cells that print mm² or AWG settle it.
    # Kinds of conductors may head their sizes: "Solid | Flexible with ferrule" over "6–50 mm² | 6–35 mm²".
    named = column.field in ("series", "model", "device", "clamp", "terminal", "rated_current", *_KINDS)
    sized = _are_sizes(texts)
    bare = all(s.figure and not s.units for s in senses) and is_kind_alone(column.heading)
    if (silent or named) and (sized or bare):
        return replace(column, field="conductor")
    if silent and is_kind_alone(column.heading) and all(map(_answers, texts)):
        return replace(column, field="stranding")  # "Al | yes | no"
    # So do cells that print a torque with its unit: the heading then names their terminal, the span over it is lost.
    given = all(s.figure and s.unit("torque") for s in senses)
    if (silent or column.field == "terminal") and given and not _beside_names(grid, section, column):
        return replace(column, field="torque")
    if column.field == "conductor" and not any(has_figure(text) for text in texts):
        if all(map(_names_kind, texts)):
            return replace(column, field="stranding")
        if all(_names_terminals(text) for text in texts):
            return replace(column, field="terminal")
    return column


def is_kind_alone(heading: str) -> bool:
    """Tell whether a heading is nothing but a kind of conductor, or what is put on its end: "flexible with ferrule".

    Figures under it are sizes, in the unit that a line over the list states.
    """
    said = _STANDARD.sub(" ", heading)
    spans = [(match.start, match.end) for kind in _KINDS for match in spot(kind, said)]
    spans += [(match.start, match.end) for match in spot("clamp", said) if match.concept == "lug"]
    return bool(spans) and not any(map(str.isalnum, cut_out(said, spans)))


def _part_of_screw(grid: Grid, column: Column, texts: list[str]) -> str:
    """Return what a column gives of a terminal's screw: its thread, drive or clamp, whatever heads it; else ""."""
    if column.field in ("terminal", "unknown", "blank", "name") and all(map(_is_thread, texts)):
        return "thread"
    if column.field in ("terminal", "unknown", "name") and all(map(_is_drive, texts)) and any(map(has_figure, texts)):
        return "drive"
    if column.field == "terminal" and _heads_screws(column.heading) and _are_driven(texts):
        return "drive"
    clamped = grid.across and column.field in ("model", "device") and all(map(_names_clamp, texts))
    return "clamp" if clamped else ""


def _heads_screws(heading: str) -> bool:
    """Tell whether a heading is nothing but a word for a screw: "Screw", "Vis"."""
    words = (match for match in spot("instruction", heading) if match.concept == "fastener")
    return any(match.end - match.start == len(heading.strip()) for match in words)


def _are_driven(texts: list[str]) -> bool:
    """Tell whether cells say how screws are driven, by a drive or the size of a key, and none names a terminal."""
    return any(map(_is_drive, texts)) and all(map(has_figure, texts)) and not any(map(_names_terminals, texts))


def _beside_names(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether each figure stands beside the word for a torque: "Tightening torque | 1.5 N·m" is a list."""
    labels = [grid.sense(grid.rows[row][0]) for row in section.body if text_of(grid.rows[row][column.index])]
    return column.index > 0 and all(label.has("torque", "torque_min", "torque_max") for label in labels)


def part_conductors(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Tell what stands under "Cables" where another column gives the sizes in a unit, and this one prints none.

    "1 | 1 | 2" is a count, "solid" a kind, "Battery +/-" and "Bypass input L1" name the terminals that they go to.
    """
    if not any(column.field.startswith("conductor") and _has_unit(grid, section, column) for column in columns):
        return columns
    named = any(column.field == "terminal" for column in columns)
    return [_part_of_conductor(grid, section, column, named=named) for column in columns]


def _part_of_conductor(grid: Grid, section: Section, column: Column, *, named: bool) -> Column:
    texts = grid.texts(section.body, column.index)
    if column.field != "conductor" or column.unit or column.taught is not None or not texts:
        return column
    if all(text in _COUNTS for text in texts):
        return replace(column, field="count")
    if _are_kinds(texts):
        return replace(column, field="stranding")
    return replace(column, field="terminal") if not named and _are_names(texts) else column


def _are_kinds(texts: list[str]) -> bool:
    """Tell whether kinds of conductors stand among texts of which none is a size."""
    sized = any(sense.figure or sense.unit("area", "gauge") for sense in map(make_sense, texts))
    return not sized and any(map(_names_kind, texts))


def _are_names(texts: list[str]) -> bool:
    words = all(any(map(str.isalpha, text)) and not make_sense(text).units for text in texts)
    return words and 2 * sum(map(_names_terminals, texts)) > len(texts)


def _has_unit(grid: Grid, section: Section, column: Column) -> bool:
    texts = grid.texts(section.body, column.index)
    return bool(column.unit) or (bool(texts) and all(make_sense(text).unit("area", "gauge") for text in texts))


def _is_corner(grid: Grid, section: Section) -> bool:
    """Tell whether a torque heads the names of terminals, and what stands beside them is figures alone: a matrix.

    Under units of torque alone ("Torque | N·m | lb·in") any names are those of terminals.
    """
    labels = [grid.sense(grid.rows[row][0]) for row in section.body]
    heads = [grid.sense(cell) for row in section.headings[-1:] for cell in grid.rows[row][1:]]
    units = bool(heads) and all(head.unit("torque") and not head.rest and not head.figure for head in heads)
    cells = (cell for row in section.body for cell in grid.rows[row][1:])
    beside = [cell for cell in cells if text_of(cell) and not says_none(text_of(cell))]
    words = all(not (label.units or label.figure) and any(map(str.isalpha, label.text)) for label in labels)
    named = words and (units or all(label.has("terminal") for label in labels))
    return named and bool(beside) and all(grid.sense(cell).figure for cell in beside)


def _other_than_headed(grid: Grid, section: Section, column: Column, texts: list[str]) -> str:
    """Return what a column holds whose cells are not what its heading says; "" when they are.

    A torque in the corner of a matrix heads the names of terminals, and speaks for the figures beside them.
    "5.3 x 5.5" is how large a terminal is, an "AC drive" is of a motor; the "Frame size" of a device may
    have a name, "Frame 1".
    """
    if column.field == "torque" and column.index == 0 and _is_corner(grid, section):
        return "terminal"
    if column.field == "terminal" and _are_values(column, texts):
        return "other"
    if column.field == "clamp" and all(map(spot_roles, texts)):
        return "terminal"
    if column.field == "drive":
        drives = any(spot("drive", text) or read_drive(text, heading=column.heading) for text in texts)
        return "" if drives else "unknown"
    return "device" if column.field == "rated_current" and _are_no_ratings(texts) else ""


def _are_no_ratings(texts: list[str]) -> bool:
    """Tell whether no cell begins with a figure, as a current does, and they are no gauges either."""
    return not any(text.lstrip(_SIGNS)[:1].isdecimal() for text in texts) and not _are_sizes(texts)


def _are_sizes(texts: list[str]) -> bool:
    """Tell whether cells are sizes with their unit: "AWG 16–8"."""
    return all(sense.figure and sense.unit("area", "gauge") for sense in map(make_sense, texts))


def _are_values(column: Column, texts: list[str]) -> bool:
    """Tell whether a column under a word for terminals gives how large they are, or voltages: "Uc V AC"."""
    return all(map(_PAIR.fullmatch, texts)) or OF_VALUES.search(column.heading) is not None


def _named_beneath(column: Column, texts: list[str]) -> str:
    """Return what a column holds that a torque heading over its neighbours reached over; "" when it holds torques.

    Its own line names it, and its cells are no torques: names alone, or markings of terminals ("PE", "2") among them.
    """
    own = make_sense(column.lines[-1]) if len(column.lines) > 1 else None
    if own is None or own.unit("torque", "force") or own.has("torque", "torque_min", "torque_max"):
        return ""
    field = next((name for name in FIELD_ORDER if name in own.fields and name in _NAMED), "")
    senses = [make_sense(text) for text in texts]
    if own.fields == ("unit",) and all(s.units and not s.rest and not s.figure for s in senses):
        return "unit"
    figures = [text for text, sense in zip(texts, senses, strict=True) if sense.figure or sense.unit("torque")]
    marked = field == "terminal" and any(is_terminal(text) for text in texts if text not in figures)
    return field if not figures or (marked and all(map(str.isdigit, figures))) else ""


def cut_thread(text: str) -> str:
    """Return the thread that a cell begins with ("M5" of "M5, cross-recess PZ2"); the text when it begins with none."""
    return begin_of_thread(text) or text


def _is_thread(text: str) -> bool:
    """Tell whether a cell is a thread alone, or with the drive of its screw: "M5", "M5, cross-recess PZ2"."""
    thread = begin_of_thread(text)
    rest = text.strip().removeprefix(thread).strip(" ,;/")
    return bool(thread) and (not rest or bool(read_drive(rest) or spot("drive", rest)))


def _names_terminals(text: str) -> bool:
    """Tell whether a text names terminals, as those across a table do under "Conductor" in its corner."""
    return bool(spot_roles(text)) or make_sense(text).has("terminal")


def _names_clamp(text: str) -> bool:
    """Tell whether the type in a list of a terminal's properties is that of the terminal: "Cage clamp with screw"."""
    said = bool(spot("clamp", text)) or says_terminal(text)
    return said and not any(map(str.isdigit, text)) and not spot("family", text)


def _is_drive(text: str) -> bool:
    """Tell whether a cell under "Screw" is a drive, with its size or none: "PZ2", "slotted 1x5.5", "slot".

    T10 may be a terminal.
    """
    spans = [(drive.start, drive.end) for drive in spot("drive", text)]
    named = bool(spans) and not any(c.isalpha() and c not in "x×m" for c in cut_out(text, spans))
    short = len(text.split()) <= _DRIVE_WORDS
    return (named or (short and has_figure(text) and bool(read_drive(text)))) and not _MARKING.fullmatch(text.strip())


def _answers(text: str) -> bool:
    return any(match.concept in ("yes", "no") for match in spot("connective", text))


def _names_kind(text: str) -> bool:
    """A cell such as "solid, stranded", "flexible with ferrule" or "ring lug" says which conductor, not how large."""
    lugged = any(match.concept == "lug" for match in spot("clamp", text))
    return lugged or any(spot(kind, text) for kind in _KINDS)
