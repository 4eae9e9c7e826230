"""Lists of properties that stand side by side in one table, each under the name of its own device: cards."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_ingest.document import Cell, Entry, Table
from torquary_ingest.document.lines import Line, lines_of
from torquary_ingest.extractors.cards import find_title, names_device
from torquary_ingest.extractors.long_tables import Part
from torquary_ingest.headings.designations import find_types, print_types
from torquary_ingest.headings.grid import Grid, lay_out, text_of
from torquary_ingest.headings.sense import make_sense
from torquary_schema.roles import says_terminal, spot_roles
from torquary_schema.words import spot

_PAIR = 2
"""Columns of a list: names and values."""

_LEAST = 3
"""Properties of each list at least (own choice)."""

_KNOWN = 2
"""Names of each list at least that are known as a property's or a terminal's (own choice)."""


def part_side_by_side(table: Table, lines: Sequence[Line]) -> tuple[Part, ...]:
    """Return the lists of a table that is nothing but names and values beside each other; any other table as it is.

    `lines` are those of its page: a type in larger letters over a list names its device. Cells keep their places.
    """
    if table.title is not None:
        typed = names_device(text_of(table.title))
        return (Part(table=table, device=Entry(field="device", cell=table.title) if typed else None),)
    grid = lay_out(table)
    if grid.width < 2 * _PAIR or grid.width % _PAIR or table.means == "list":
        return (Part(table=table),)
    starts = range(0, grid.width, _PAIR)
    first = next((at for at, row in enumerate(grid.rows) if any(_pair(row, start) for start in starts)), 0)
    lists = [[pair for row in grid.rows[first:] if (pair := _pair(row, start))] for start in starts]
    if not all(map(_is_list, lists)) or not _are_apart(grid, starts, first):
        return (Part(table=table),)
    return tuple(_list_of(grid, start, first, pairs, lines) for start, pairs in zip(starts, lists, strict=True))


def _are_apart(grid: Grid, starts: Sequence[int], first: int) -> bool:
    """Tell whether no text runs from list to list, and no title names terminals: those of one device are one list."""
    whole = all(_holds_alone(row, start) for row in grid.rows[first:] for start in starts)
    return whole and not any(_names_terminals(title) for start in starts for title in _titles(grid, start, first))


def _pair(row: Sequence[Cell | None], start: int) -> tuple[Cell, Cell] | None:
    name, value = row[start : start + _PAIR]
    if name is None or value is None or name is value or not (text_of(name) and text_of(value)):
        return None
    return name, value


def _holds_alone(row: Sequence[Cell | None], start: int) -> bool:
    """Tell whether a row holds a name and its value in a list, or nothing: no text of it runs on into another list."""
    cells = row[start : start + _PAIR]
    inside = (cell is None or start < cell.column <= start + 1 + _PAIR - cell.column_span for cell in cells)
    return all(inside) and (_pair(row, start) is not None or not any(map(text_of, cells)))


def _is_list(pairs: Sequence[tuple[Cell, Cell]]) -> bool:
    """Tell whether names are words, all different, and some of them known for a property or a terminal."""
    names = [make_sense(text_of(name)) for name, _ in pairs]
    known = sum(bool(sense.fields) or says_terminal(sense.text) for sense in names)
    differ = len({sense.text for sense in names}) == len(names)
    return len(pairs) >= _LEAST and known >= _KNOWN and differ and not any(sense.figure for sense in names)


def _list_of(grid: Grid, start: int, first: int, pairs: Sequence[tuple[Cell, Cell]], lines: Sequence[Line]) -> Part:
    table = grid.table
    titles = tuple(_titles(grid, start, first))
    cells = tuple(cell for pair in pairs for cell in pair)
    words = [word for row in grid.rows[: first + 1] for cell in row[start : start + 1] if cell for word in cell.words]
    head = next(iter(lines_of(table.page, words)), None)
    over = find_title(lines, head) if head is not None else None
    caption = [text for text in table.caption if over is None or text not in _beside(over.cell, lines)]
    own = replace(table, cells=cells, caption=(*caption, *titles))
    return Part(table=own, device=over or _typed_title(grid, start, first))


def _beside(title: Cell, lines: Sequence[Line]) -> Iterator[str]:
    """Yield the titles of other lists at the height of this one."""
    if title.box is not None:
        level = (line for line in lines if line.box.level_with(title.box))
        yield from (line.text for line in level if line.text != title.text)


def _typed_title(grid: Grid, start: int, first: int) -> Entry | None:
    """Return the type that a text over a list names, as the device's; None if none does."""
    cells = (cell for row in grid.rows[:first] if (cell := row[start]) is not None)
    typed = ((cell, print_types(text_of(cell))) for cell in cells)
    named = (replace(cell, text=" / ".join(types)) for cell, types in typed if types)
    return next((Entry(field="device", cell=cell) for cell in named), None)


def _names_terminals(title: str) -> bool:
    device = bool(spot("family", title)) or bool(find_types(title))  # "NT 24 power supply" is no terminal
    return bool(spot_roles(title)) and not device


def _titles(grid: Grid, start: int, first: int) -> Iterator[str]:
    for row in grid.rows[:first]:
        if text := text_of(row[start]):
            yield text

