"""Which column names the terminals where no heading does."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from torquary_ingest.document import Cell
from torquary_ingest.headings.column import OF_VALUES, Column
from torquary_ingest.headings.designations import are_named_by_types, are_types_of_series, find_types
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.lexis.dashes import is_dash
from torquary_ingest.lexis.threads import is_counted_thread, is_thread
from torquary_schema.roles import is_terminal, says_terminal, spot_roles
from torquary_schema.vocabulary import roles_of_markings
from torquary_schema.words import fold, spot

_DECIMAL = re.compile(r"\d+[.,]\d+")
_NAMING = ("model", "device", "series", "thread", "rated_current", "qualifier")
_SILENT = ("unknown", "blank", "name", "other")
_CODE = r"[A-Z]{0,3}\d{0,3}[+-]?"
_CODES = re.compile(rf"(?=.*[A-Z]){_CODE}|{_CODE}(?:\s?[,;/–-]\s?{_CODE})+")
"""Markings: "A, B, GND", "95-98"; a number alone counts."""

_WORD = 4
"""Letters from which a heading is a word ("Terminal") and its 1, 2, 3 may be markings, not a count."""


def find_labels(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Where no heading names the terminal, the first column of names does; threads and devices are asked later.

    A column headed by a kind of connection names rows when none of its cells names such a kind. In a list of properties
    only a value that is itself a word for a terminal, or its marking, names it: "Contacts | 1 NO + 1 NC" does not.
    """
    if grid.across and len(section.body) == 1:
        return [_as_property(grid, section.body[0], column) for column in columns]
    return _find_in_rows(grid, section, columns)


def _find_in_rows(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Return the columns of a table of rows with the one that names terminals."""
    columns = [_as_clamp(grid, section, _as_type(grid, section, columns, column)) for column in columns]
    named = [column for column in columns if column.field == "terminal"]
    if len(named) > 1:
        return [replace(c, field="other") if _counts_rows(grid, section, c) else c for c in columns]
    if named:
        return _with_types_first(grid, section, columns)
    roles = next((at for at, column in enumerate(columns) if _may_have_roles(grid, section, column)), None)
    if roles is not None:
        columns[roles] = replace(columns[roles], field="terminal")
        return [replace(c, field="series") if _has_types(grid, section, c) else c for c in columns]
    return _find_named(grid, section, columns)


def _with_types_first(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Return the columns of a list of terminals, its first one the device's where each cell of it is a type.

    Whatever heads it ("Block", "Motor"), no other column names the devices.
    """
    typed = columns[0].field in ("unknown", "name") and _are_types(grid, section, columns[0])
    if not typed or any(column.field in ("model", "device", "series") for column in columns):
        return columns
    return [replace(columns[0], field="model"), *columns[1:]]


def _may_have_roles(grid: Grid, section: Section, column: Column) -> bool:
    silent = column.field in _SILENT and not OF_VALUES.search(column.heading)
    return silent and _has_roles(grid, section, column)


def _as_type(grid: Grid, section: Section, columns: list[Column], column: Column) -> Column:
    """Return the column of a turned table that heads its records by the types of one series.

    What may be markings ("DI1", "DI2") are types where a row of the table is headed by words for terminals.
    """
    texts = grid.texts(section.body, column.index)
    heads = grid.across and column.index == 0 and column.field in (*_SILENT, "purpose")
    typed = are_types_of_series(texts) or are_named_by_types(texts)
    if not heads or not typed or len(texts) < len(section.body):
        return column
    if any(map(_CODES.fullmatch, texts)) and not any(_names_terminals(cell.text) for cell in _first_cells(grid)):
        return column
    return replace(column, field="series" if any(one.field == "model" for one in columns) else "model")


def _as_clamp(grid: Grid, section: Section, column: Column) -> Column:
    """Return a property of devices whose values only tell how a terminal clamps ("Connection | screw | push-in"):
    what the terminal is called stands elsewhere.
    """
    if not grid.across or column.field not in ("terminal", "model"):
        return column
    texts = [text for text in grid.texts(section.body, column.index) if text and not is_dash(text)]
    if not texts or not _tell_clamps(texts, typed=column.field == "model"):
        return column
    return replace(column, field="clamp" if any(spot("clamp", text) for text in texts) else "other")


def _tell_clamps(texts: list[str], *, typed: bool) -> bool:
    """Tell whether values tell kinds of clamp: all of them, under "Type" one of them where none has a figure."""
    clamps = list(map(_only_clamps, texts))
    return any(clamps) and not any(map(str.isdigit, "".join(texts))) if typed else all(clamps)


def _only_clamps(text: str) -> bool:
    """Tell whether a text tells a kind of clamp and has no word for a terminal: "Screw", "à cage"."""
    called = any(match.concept == "terminal" for match in spot("tightened", text))
    named = called or spot_roles(text) or spot("purpose", text) or is_terminal(text) or any(map(str.isdigit, text))
    fastened = any(match.concept == "fastener" for match in spot("instruction", text))
    return not named and (fastened or bool(spot("clamp", text)))


def _first_cells(grid: Grid) -> Iterator[Cell]:
    """Yield the cells of a turned table that head its rows, those of its bands too."""
    first = min((cell.column for cell in grid.table.cells), default=0)
    return (cell for cell in grid.table.cells if cell.column == first)


def _names_terminals(text: str) -> bool:
    return bool(spot_roles(text)) or says_terminal(text)


def _as_property(grid: Grid, row: int, column: Column) -> Column:
    """Return a property, "other" where its value names no terminal, and no screw that its name is of."""
    if column.field == "terminal" and _only_clamps(text_of(grid.rows[row][column.index])):
        return replace(column, field="clamp")
    names = column.field != "terminal" or _names_terminal(text_of(grid.rows[row][column.index]))
    return column if names else replace(column, field="other")


def _names_terminal(text: str) -> bool:
    said = says_terminal(text)
    thread = not text or is_thread(text) or is_counted_thread(text)
    return said or thread or is_terminal(text) or _CODES.fullmatch(text) is not None


def _find_named(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Return the columns with the first one of names as that of terminals, if any may be."""
    may = (at for at in _that_may_name(grid, section, columns) if not OF_VALUES.search(columns[at].heading))
    found = next(may, None)
    if found is not None:
        columns[found] = replace(columns[found], field="terminal")
    return columns


def _that_may_name(grid: Grid, section: Section, columns: list[Column]) -> Iterator[int]:
    """Yield the places of columns that may name terminals: names first, then markings, numbers where nothing else does.

    Beside types of devices, where each torque is headed by a terminal, a column of unknown things names none; nor does
    one behind the torques: prices, groups and packing units stand there.
    """
    for field in _naming_fields(grid, columns):
        for position, column in enumerate(columns):
            named = column.field in field and not _stands_behind(columns, column) and _has_names(grid, section, column)
            if named and not _numbers_named_rows(grid, section, columns, column):
                yield position
    others = [position for position, column in enumerate(columns) if column.field == "other"]
    yield from (position for position in others if _has_markings(grid, section, columns[position]))
    if not any(column.field in _NAMING for column in columns):
        yield from (position for position in others if numbers_terminals(grid, section, columns[position]))


def _naming_fields(grid: Grid, columns: list[Column]) -> Iterator[tuple[str, ...]]:
    """Yield the fields whose columns may name terminals, by rank; in a turned table a kind of clamp names none."""
    yield ("blank", "name")
    if not _names_in_heads(columns):
        yield ("unknown",)
    if not grid.across:
        yield ("clamp",)


def _stands_behind(columns: list[Column], column: Column) -> bool:
    """Tell whether a column that is not known stands behind all torques."""
    torques = [one.index for one in columns if one.field.startswith("torque")]
    return column.field == "unknown" and bool(torques) and column.index > max(torques)


def _names_in_heads(columns: list[Column]) -> bool:
    """Tell whether a table of types of devices heads each of its torques by a terminal."""
    torques = [column for column in columns if column.field.startswith("torque")]
    typed = any(column.field in ("model", "device", "series") for column in columns)
    return typed and bool(torques) and all(spot_roles(column.qualifier) for column in torques)


def numbers_terminals(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether numbers that differ stand under a word for a terminal ("Pole"): names, or counts of devices."""
    texts = grid.texts(section.body, column.index)
    counted = make_sense(column.heading).has("other") and bool(spot("role", column.heading))
    return counted and all(map(str.isdecimal, texts)) and 1 < len(set(texts)) == len(texts)


def _counts_rows(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether a column of terminals under an abbreviation ("No.", "Pos.") only numbers the rows: 1, 2, 3 …"""
    if column.field != "terminal" or max(map(len, fold(column.heading).split()), default=0) >= _WORD:
        return False
    return numbers_rows(grid, section, column)


def numbers_rows(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether a column numbers the rows: 1, 2, 3 …"""
    texts = [text_of(grid.rows[row][column.index]).strip(" .") for row in section.body]
    return len(texts) > 1 and texts == [str(number) for number in range(1, len(texts) + 1)]


def _numbers_named_rows(grid: Grid, section: Section, columns: list[Column], column: Column) -> bool:
    """Tell whether a column counts the rows, as the legend of a picture does, and another names their terminals."""
    others = [other for other in columns if other is not column and other.field in ("blank", "name", "unknown")]
    return numbers_rows(grid, section, column) and any(
        all(spot_roles(text) or make_sense(text).has("terminal") for text in texts)
        for other in others
        if (texts := grid.texts(section.body, other.index)) and len(texts) == len(section.body)
    )


def _has_roles(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether each cell of a column is the role or the marking of a terminal, whatever its heading says."""
    texts = grid.texts(section.body, column.index)
    return len(set(texts)) > 1 and len(texts) == len(section.body) and all(map(_opens_with_role, texts))


def _opens_with_role(text: str) -> bool:
    """Tell whether a text is a terminal's role or marking, and what tells it from others of it: "Load, large"."""
    roles = (role for role in spot_roles(text) if role.start == 0 and len(role.printed) > 1)
    return is_terminal(text) or any(text[role.end :].startswith((",", " (")) for role in roles)


def _has_types(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether each cell under a heading that is not known is the type of a device."""
    return column.field == "unknown" and _are_types(grid, section, column)


def _are_types(grid: Grid, section: Section, column: Column) -> bool:
    texts = grid.texts(section.body, column.index)
    return len(texts) == len(section.body) and all(map(find_types, texts))


def _has_markings(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether a column under another heading ("Pole", "Phase") holds markings of terminals, no numbers."""
    texts = grid.texts(section.body, column.index)
    named = [text for text in texts if any(roles_of_markings(part) for part in re.split(r"[\s,;/–-]+", text) if part)]
    return bool(texts) and len(named) * 2 >= len(texts) and len(set(texts)) == len(texts)


def _says_one_thing(texts: list[str]) -> bool:
    """Tell whether a column says the same of each row, a currency for instance: it names no terminal."""
    return len(texts) > 1 and len(set(texts)) == 1 and not is_terminal(texts[0])


def _has_names(grid: Grid, section: Section, column: Column) -> bool:
    named = grid.texts(section.body, column.index)
    if column.field == "clamp" and any(spot("clamp", text) for text in named):
        return False
    if not named or len(named) * 2 < len(section.body) or _says_one_thing(named):
        return False
    figures = [text for text in named if make_sense(text).figure]
    if len(figures) < len(named):
        return True
    return column.index == 0 and not any(_DECIMAL.fullmatch(text) for text in figures)  # no terminal is called "0.75"
