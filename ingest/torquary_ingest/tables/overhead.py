"""Headings printed over the frame of a ruled table, outside its first rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.document import Cell, Table, Word
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line, make_lines
from torquary_ingest.tables.wording import reading_order, text_of
from torquary_schema.values import Box

CLOSE = 0.9
"""Shares of the font size: a heading stands no further above the frame, or above its next line."""

MOST_LINES = 3


def add_overhead(tables: Sequence[Table], words: Sequence[Word]) -> list[Table]:
    """Give each ruled table that begins with figures the headings that stand close over its columns, if any."""
    boxes = [t.box for t in tables if t.box is not None]
    lines = make_lines([w for w in words if not any(b.holds(w.box.middle) for b in boxes)])
    return [_with_heads(table, lines) for table in tables]


def _with_heads(table: Table, lines: Sequence[Line]) -> Table:
    columns = _columns(table)
    if table.box is None or not columns or not _begins_with_figures(table):
        return table
    held: dict[int, list[Word]] = {}
    edge = table.box.top
    above = sorted((n for n in lines if n.box.bottom <= table.box.top + 1), key=lambda n: -n.box.bottom)
    for line in above[:MOST_LINES]:
        placed = _place(line, columns)
        if edge - line.box.bottom > CLOSE * line.size or placed is None:
            break
        for column, found in placed.items():
            held.setdefault(column, []).extend(found)
        edge = line.box.top
    return _grow(table, held) if len(held) == len(columns) else table


def _columns(table: Table) -> list[tuple[float, float]]:
    """Return the extent of each column, from the first row; nothing when a cell there spans or has no box."""
    first = sorted((c for c in table.cells if c.row == 1), key=lambda c: c.column)
    spans = [(c.box.x0, c.box.x1) for c in first if c.box is not None and c.column_span == 1]
    return spans if len(spans) == table.columns and table.columns > 1 and table.means == "ruled" else []


def _begins_with_figures(table: Table) -> bool:
    texts = [c.text for c in table.cells if c.row == 1 and c.column > 1 and c.text.strip()]
    return bool(texts) and 2 * sum(map(is_figure, texts)) >= len(texts)


def _place(line: Line, columns: Sequence[tuple[float, float]]) -> dict[int, list[Word]] | None:
    """Return the line's words by column (from 0); None for figures, and for a text that runs over an edge."""
    placed: dict[int, list[Word]] = {}
    for chunk in line.chunks:
        middle = chunk.box.middle[0]
        at = next((k for k, (x0, x1) in enumerate(columns) if x0 <= middle <= x1), None)
        if at is None or is_figure(text_of(chunk.words)):
            return None
        if chunk.box.x0 < columns[at][0] - 1 or chunk.box.x1 > columns[at][1] + 1:
            return None
        placed.setdefault(at, []).extend(chunk.words)
    return placed


def _grow(table: Table, held: dict[int, list[Word]]) -> Table:
    heads = []
    box = table.box
    for column, words in sorted(held.items()):
        own = Box.around(word.box for word in words)
        box = box.union(own) if box is not None else own
        marks = tuple(mark for word in words for mark in word.marks)
        doubts = tuple(dict.fromkeys(doubt for word in words for doubt in word.doubts))
        order = reading_order(words)
        heads.append(
            Cell(row=1, column=column + 1, text=text_of(words), box=own, marks=marks, doubts=doubts, words=order)
        )
    body = tuple(replace(cell, row=cell.row + 1) for cell in table.cells)
    return replace(table, rows=table.rows + 1, cells=(*heads, *body), box=box)
