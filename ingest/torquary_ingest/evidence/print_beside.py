"""What else is printed in the row of a held figure that lacks a name: a person may say that it is the name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_ingest.document import Cell, Table
from torquary_ingest.headings.grid import Grid, lay_out, text_of
from torquary_schema.findings import wanted
from torquary_schema.values import Beside, Place, Setting

_NAMES = ("device", "terminal")
_DEEPEST = 3
"""Rows at the head of a table that may hold its headings, at most (own choice)."""
_LONGEST = 120
"""Letters of a text that may be a name."""
_LEVEL = 2.0
"""Points by which rows of a table that the page's edge cut in two may stand apart (own choice)."""


def note_beside(tables: Sequence[Table], settings: Sequence[Setting]) -> tuple[Setting, ...]:
    """Return the settings, each that is held for want of a device or terminal with the other print of its row.

    A table cut in two by the edge of the page has the other half of the row on the other page.
    """
    grids = {(table.page, table.number): lay_out(table) for table in tables}
    used = {(setting.place.page, setting.place.table) for setting in settings}
    spare = [grid for key, grid in grids.items() if key not in used]
    return tuple(_note(setting, grids, spare) for setting in settings)


def _note(setting: Setting, grids: dict[tuple[int, int], Grid], spare: Sequence[Grid]) -> Setting:
    place = setting.place
    grid = _grid_of(place, grids)
    if grid is None or place.row is None or not any(wanted(finding.code) in _NAMES for finding in setting.findings):
        return setting
    said = {text.text for text in setting.scope if text.kind == "heading"}
    if text_of(grid.rows[place.row - 1][0]) in said:
        texts = [*_over(grid, place)]
    else:
        halves = (half for half in spare if _is_other_half(half.table, grid.table))
        texts = [*_in_row(grid, place), *(one for half in halves for one in _in_half(half, place.row))]
    return replace(setting, beside=tuple(dict.fromkeys(one for one in texts if one.text not in said)))


def _grid_of(place: Place, grids: dict[tuple[int, int], Grid]) -> Grid | None:
    """Return the table that has the row of a place."""
    grid = grids.get((place.page, place.table)) if place.page and place.table else None
    return grid if grid is not None and place.row is not None and place.row <= len(grid.rows) else None


def _in_row(grid: Grid, place: Place) -> Iterator[Beside]:
    """Yield the texts of the row but the figure's own."""
    heads, _ = _heads(grid)
    for at, cell in enumerate(grid.rows[(place.row or 1) - 1]):
        if at != (place.column or 1) - 1:
            yield from _text(heads[at], cell)


def _over(grid: Grid, place: Place) -> Iterator[Beside]:
    """Yield the texts at the head of the figure's column, in a turned table: its rows have the headings."""
    column, (_, depth) = (place.column or 1) - 1, _heads(grid)
    for row in grid.rows[: min(depth, (place.row or 1) - 1)]:
        if row[0] is not row[column]:
            yield from _text(text_of(row[0]), row[column])


def _in_half(half: Grid, row: int) -> Iterator[Beside]:
    heads, _ = _heads(half)
    where = f"page {half.table.page}"
    for at, cell in enumerate(half.rows[row - 1]):
        yield from _text(f"{where}: {heads[at]}" if heads[at] else where, cell)


def _text(heading: str, cell: Cell | None) -> Iterator[Beside]:
    text = text_of(cell)
    if text and text != heading and len(text) <= _LONGEST:
        yield Beside(heading=heading, text=text)


def _heads(grid: Grid) -> tuple[list[str], int]:
    """Return the headings of the columns, and of how many rows they are: as many as tell the columns apart."""
    names: list[str] = []
    depth = 0
    for depth in range(1, min(_DEEPEST, len(grid.rows)) + 1):
        columns = ([text_of(row[at]) for row in grid.rows[:depth]] for at in range(grid.table.columns))
        names = [" ".join(dict.fromkeys(text for text in column if text)) for column in columns]
        if len(set(names)) == len(names):
            break
    return names, depth


def _is_other_half(half: Table, table: Table) -> bool:
    """Tell whether two tables of two pages have their rows at the same heights."""
    if half.page == table.page or half.rows != table.rows:
        return False
    tops = [{cell.row: cell.box.top for cell in one.cells if cell.box is not None} for one in (half, table)]
    return bool(tops[0]) and all(
        row in tops[1] and abs(top - tops[1][row]) < _LEVEL for row, top in tops[0].items()
    )
