"""Headings printed over the frame of a ruled table, outside its first rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from torquary_ingest.document import Cell, Table, Word
from torquary_ingest.tables.bands import make_bands
from torquary_ingest.tables.columns import Columns
from torquary_ingest.tables.filling import make_cell
from torquary_ingest.tables.head_search import Body, head_over
from torquary_ingest.tables.heads import plan_heads
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line, make_lines
from torquary_ingest.tables.plan import Spot
from torquary_schema.values import Box


def add_overhead(tables: Sequence[Table], words: Sequence[Word]) -> list[Table]:
    """Give each ruled table that begins with figures the headings that stand over its columns, if each has one."""
    boxes = [t.box for t in tables if t.box is not None]
    lines = make_lines([w for w in words if not any(b.holds(w.box.middle) for b in boxes)])
    return [_with_heads(table, lines) for table in tables]


def _with_heads(table: Table, lines: Sequence[Line]) -> Table:
    first = [cell for cell in table.cells if cell.row == 1 and cell.words]
    row = make_lines([word for cell in first for word in cell.words])
    body = _body_of(table, row)
    if table.box is None or body is None or not _begins_with_figures(first):
        return table
    above = [line for line in lines if line.box.bottom <= table.box.top + 1]
    head = head_over(body, row[0], above)
    spots, rows = plan_heads(make_bands(head, body.columns), body.columns, ()) if head else ([], 0)
    return _grow(table, spots, rows, body.columns) if _heads_all(spots, table.columns) else table


def _heads_all(spots: Sequence[tuple[Spot, list[Word]]], columns: int) -> bool:
    """Tell whether each column has a heading of its own, or one over it and others."""
    reaches = (range(spot.column, spot.column + spot.column_span) for spot, words in spots if words)
    return len({column for reach in reaches for column in reach}) == columns


def _body_of(table: Table, row: Sequence[Line]) -> Body | None:
    """Return the body that a table's first row shows; None when a cell there spans or has no box."""
    cells = sorted((c for c in table.cells if c.row == 1 and c.column_span == 1), key=lambda c: c.column)
    boxes = [cell.box for cell in cells if cell.box is not None]
    if table.means != "ruled" or len(boxes) != table.columns or table.columns < 2 or not row:
        return None
    return Body(
        columns=Columns(edges=(boxes[0].x0, *(box.x1 for box in boxes))),
        figured=frozenset(),
        pitch=median(box.height for box in boxes),
        size=median(line.size for line in row),
    )


def _begins_with_figures(first: Sequence[Cell]) -> bool:
    texts = [cell.text for cell in first if cell.column > 1]
    return bool(texts) and 2 * sum(map(is_figure, texts)) >= len(texts)


def _grow(table: Table, spots: Sequence[tuple[Spot, list[Word]]], rows: int, columns: Columns) -> Table:
    """Return the table with heading cells above its first row."""
    printed = Box.around(word.box for _, words in spots for word in words)
    heads = tuple(_head_cell(spot, words, printed, columns) for spot, words in spots)
    body = tuple(replace(cell, row=cell.row + rows) for cell in table.cells)
    box = table.box.union(printed) if table.box is not None else printed
    order = sorted((*heads, *body), key=lambda cell: (cell.row, cell.column))
    return replace(table, rows=table.rows + rows, cells=tuple(order), box=box)


def _head_cell(spot: Spot, words: list[Word], printed: Box, columns: Columns) -> Cell:
    x0, x1 = columns.edges[spot.column], columns.edges[spot.column + spot.column_span]
    own = Box.around(word.box for word in words) if words else Box(x0=x0, top=printed.top, x1=x1, bottom=printed.bottom)
    return make_cell(
        words,
        row=spot.row + 1,
        column=spot.column + 1,
        row_span=spot.row_span,
        column_span=spot.column_span,
        box=own,
    )
