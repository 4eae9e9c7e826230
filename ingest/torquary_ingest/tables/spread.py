"""Values printed once and centred over several columns without rules: which columns each of them is for.

Only what cannot mean anything else is taken: the values of a row, each in the middle of columns that stand beside each
other, share out all columns of figures in one way.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace
from itertools import pairwise
from statistics import median

from torquary_ingest.document import Cell, Table
from torquary_ingest.lexis.dashes import is_dash
from torquary_ingest.tables.kinds import is_figure
from torquary_schema.values import Box

_OFF_ONE = 0.3
"""Share of the distance of columns by which a value may miss the middle of its own (own choice)."""

_OFF_MORE = 0.15
"""The same for a value over several columns: half a distance off is another number of columns (own choice)."""

_LEAST_COLUMNS = 3
"""Columns of figures from which values are looked for that run over some of them."""

Shares = tuple[tuple[int, int], ...]


def spread_centred(table: Table) -> Table:
    """Return a table without rules in which each centred value spans the columns that it stands over."""
    columns = _columns_of_figures(table)
    if table.means != "aligned" or len(columns) < _LEAST_COLUMNS:
        return table
    between = set(range(min(columns), max(columns) + 1)).difference(columns)
    rows = {row: _values(table, row, min(columns)) for row in range(1, table.rows + 1)}
    shared = {row: found for row, cells in rows.items() if (found := _share(cells, columns)) is not None}
    unplaced = {cell.column for row, cells in rows.items() if row not in shared for cell in cells}
    if unplaced & between or not _prints_so(rows, shared, list(columns)):
        return table
    pairs = (pair for row, found in shared.items() for pair in zip(rows[row], found, strict=True))
    return _without(table, between, {id(cell): reach for cell, reach in pairs if reach[0] < reach[1]})


def _columns_of_figures(table: Table) -> dict[int, float]:
    """Return the columns that a full row has values in, with the middle at which their values stand.

    Labels stand before the first of them. {} where full rows have values in others, or one is of labels.
    """
    single = [cell for cell in table.cells if cell.words and cell.column_span == 1]
    first = next((c for c in range(2, table.columns + 1) if _holds_figures(single, c)), table.columns)
    columns = _full_row([cell for cell in single if cell.column >= first])
    if not all(_holds_figures(single, column) for column in columns):
        return {}
    return {column: median(_middle(cell) for cell in single if cell.column == column) for column in columns}


def _full_row(cells: Sequence[Cell]) -> list[int]:
    """Return the columns of the rows with the most values, [] where these rows have them in different ones."""
    filled: dict[int, set[int]] = {}
    for cell in cells:
        filled.setdefault(cell.row, set()).add(cell.column)
    most = max(map(len, filled.values()), default=0)
    full = {frozenset(columns) for columns in filled.values() if len(columns) == most}
    return sorted(full.pop()) if len(full) == 1 else []


def _holds_figures(cells: Sequence[Cell], column: int) -> bool:
    texts = [cell.text for cell in cells if cell.column == column]
    figures = sum(is_figure(text) or is_dash(text) for text in texts)
    return bool(texts) and 2 * figures >= len(texts)


def _middle(cell: Cell) -> float:
    return (min(word.box.x0 for word in cell.words) + max(word.box.x1 for word in cell.words)) / 2


def _values(table: Table, row: int, first: int) -> list[Cell]:
    cells = (c for c in table.cells if c.row == row and c.column >= first and c.words)
    return sorted(cells, key=lambda cell: cell.column)


def _share(cells: Sequence[Cell], columns: dict[int, float]) -> Shares | None:
    """Return the first and last column of each value, if all columns can be shared out in one way alone."""
    if not cells or any(cell.column_span > 1 or cell.row_span > 1 for cell in cells):
        return None
    places = list(columns.items())
    pitch = min(right - left for left, right in pairwise(columns.values()))
    ways: list[tuple[int, Shares]] = [(0, ())]
    for cell in cells:
        ways = [
            (end, (*shares, (places[start][0], places[end - 1][0])))
            for start, shares in ways
            for end in range(start + 1, len(places) + 1)
            if _stands_over(_middle(cell), places[start][1], places[end - 1][1], pitch)
        ]
    whole = [shares for end, shares in ways if end == len(places)]
    return whole[0] if len(whole) == 1 else None


def _stands_over(middle: float, first: float, last: float, pitch: float) -> bool:
    off = abs(middle - (first + last) / 2)
    return off <= pitch * (_OFF_ONE if first == last else _OFF_MORE)


def _prints_so(rows: dict[int, list[Cell]], shared: dict[int, Shares], columns: Sequence[int]) -> bool:
    """Tell whether a table prints values over several columns: one stands between two of them, or dashes stand where
    there is none, so that a blank means something else.
    """
    reaches = ((columns.index(first), columns.index(last)) for found in shared.values() for first, last in found)
    dashes = any(is_dash(cell.text) for cells in rows.values() for cell in cells)
    several = [last - first + 1 for first, last in reaches if last > first]
    return bool(several) and (dashes or any(count % 2 == 0 for count in several))


def _without(table: Table, between: Set[int], spans: dict[int, tuple[int, int]]) -> Table:
    """Return the table without the columns between those of figures, values over several columns spanning them."""
    kept = [column for column in range(1, table.columns + 1) if column not in between]
    numbers = {column: number for number, column in enumerate(kept, start=1)}
    covered = {(c.row, n) for c in table.cells if id(c) in spans for n in _columns_of(c, spans)}
    cells: list[Cell] = []
    for cell in table.cells:
        columns = [column for column in _columns_of(cell, spans) if column in numbers]
        blank = id(cell) not in spans and (cell.row, cell.column) in covered
        if columns and not blank:
            box = _reach(table, columns, cell.box) if id(cell) in spans else cell.box
            cells.append(replace(cell, column=numbers[columns[0]], column_span=len(columns), box=box))
    return replace(table, columns=len(numbers), cells=tuple(cells))


def _columns_of(cell: Cell, spans: dict[int, tuple[int, int]]) -> range:
    """Return the columns that a cell stands over, those of its span if it has one."""
    first, last = spans.get(id(cell), (cell.column, cell.column + cell.column_span - 1))
    return range(first, last + 1)


def _reach(table: Table, columns: Sequence[int], box: Box | None) -> Box | None:
    """Return the box of a cell as wide as the columns that it spans."""
    single = (cell.box for cell in table.cells if cell.column_span == 1 and cell.column in columns)
    reach = [one for one in single if one is not None]
    if box is None or not reach:
        return box
    return replace(box, x0=min(one.x0 for one in reach), x1=max(one.x1 for one in reach))
