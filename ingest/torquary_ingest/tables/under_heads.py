"""The second line of a heading that spans columns: it stands under that heading, not over what lies beside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from torquary_ingest.document import Cell, Table
from torquary_schema.values import Box

_DEEPEST = 4
"""Rows from the top in which headings stand at most (own choice)."""


def narrow_heads(table: Table) -> Table:
    """Return a table in which a heading that spans columns spans none beyond the one right over it.

    "torque" under "Tightening" is of its columns alone, though nothing stands beside it.
    """
    return replace(table, cells=tuple(cell for one in table.cells for cell in _narrowed(table, one)))


def _narrowed(table: Table, cell: Cell) -> Iterator[Cell]:
    """Yield a heading under the one over it, and blank cells where it stands no more; any other cell as it is."""
    over = _over(table, cell)
    if over is None:
        yield cell
        return
    first, last = over.column, over.column + over.column_span
    for column in range(cell.column, cell.column + cell.column_span):
        if column == first:
            yield replace(cell, column=first, column_span=over.column_span, box=_reach(cell, over))
        elif not first <= column < last:
            yield Cell(row=cell.row, column=column, text="")


def _over(table: Table, cell: Cell) -> Cell | None:
    """Return the heading that a wider one goes on from: it holds all of the words, in the row right above."""
    if not cell.words or cell.column_span < 2 or not 1 < cell.row <= _DEEPEST:
        return None
    begin, end = cell.words[0].box.x0, max(word.box.x1 for word in cell.words)
    within = range(cell.column, cell.column + cell.column_span)
    for one in table.cells:
        above = one.row + one.row_span == cell.row and one.words and one.box is not None
        inside = one.column in within and one.column + one.column_span - 1 in within
        if above and inside and one.column_span < cell.column_span and _holds(one, begin, end):
            return one
    return None


def _holds(over: Cell, begin: float, end: float) -> bool:
    return over.box is not None and over.box.x0 <= begin and end <= over.box.x1


def _reach(cell: Cell, over: Cell) -> Box | None:
    if cell.box is None or over.box is None:
        return cell.box
    return replace(cell.box, x0=over.box.x0, x1=over.box.x1)
