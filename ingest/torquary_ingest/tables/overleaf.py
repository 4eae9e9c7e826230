"""Rows that a page's end leaves alone overleaf: too few to show columns of their own."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from torquary_ingest.document import Page, Table, Word
from torquary_ingest.tables.captions import add_captions
from torquary_ingest.tables.columns import WORD_SPACE
from torquary_ingest.tables.filling import make_cell
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line, make_lines
from torquary_schema.values import Box

_SLACK = 3.0
"""Points that a text may stand over the edge of its column."""

_LEAST_COLUMNS = 3

HEAD_LINES = 6
"""Lines at the head of a page, running heads left out, among which the end of a table begins."""

_NUMBER = re.compile(r"\d+")


def add_rows_overleaf(page: Page, found: Sequence[Table], before: Page, above: Sequence[Table]) -> tuple[Table, ...]:
    """Return the page's tables, the rows at its head that go on the last table of the page before among them.

    `before` is that page, `above` its tables. Lines under the columns, each text in one of them, with a figure
    where it has figures, are rows; running heads and lines that stand in a table are none.
    """
    framed = {table.box.bottom: table for table in above if table.box is not None}
    last = framed[max(framed)] if framed else None
    edges = _edges(last) if last is not None else ()
    if last is None or len(edges) <= _LEAST_COLUMNS:
        return tuple(found)
    figured = _figured(last, len(edges) - 1)
    rows: list[list[list[Word]]] = []
    for at, line in enumerate(lines_of_own(page, found, before, above)):
        cells = _cells_of(line, edges)
        if not rows and at >= HEAD_LINES:
            break
        if cells and any(is_figure(" ".join(w.text for w in cells[c])) for c in figured if cells[c]):
            rows.append(cells)
        elif rows:
            break
    if not rows:
        return tuple(found)
    upright = [w for w in page.words if w.turn == 0]
    [table] = add_captions([_build(rows, edges, page.number)], upright)
    return (table, *found)


def lines_of_own(page: Page, found: Sequence[Table], before: Page, above: Sequence[Table]) -> list[Line]:
    """Return the lines of a page outside its tables, from the top, without those that the page before prints too.

    A running head may stand where a row would; its numbers count pages. A row may well look like one of a table.
    """
    heads = {_pattern(line) for line in _free_lines(before, above)}
    return [line for line in _free_lines(page, found) if _pattern(line) not in heads]


def _free_lines(page: Page, tables: Sequence[Table]) -> list[Line]:
    boxes = [table.box for table in tables if table.box is not None]
    return make_lines(w for w in page.words if w.turn == 0 and not any(b.holds(w.box.middle) for b in boxes))


def _pattern(line: Line) -> str:
    """Return a line's text, numbers alike."""
    return _NUMBER.sub("0", " ".join(chunk.text for chunk in line.chunks))


def _edges(table: Table) -> tuple[float, ...]:
    """Return the edges of a table's columns in points, left to right; none where a column has no cell of its own."""
    sides: dict[int, tuple[float, float]] = {}
    for cell in table.cells:
        if cell.column_span == 1 and cell.box is not None:
            low, high = sides.get(cell.column, (cell.box.x0, cell.box.x1))
            sides[cell.column] = min(low, cell.box.x0), max(high, cell.box.x1)
    if len(sides) != table.columns:
        return ()
    return (*(sides[c][0] for c in sorted(sides)), sides[table.columns][1])


def _figured(table: Table, columns: int) -> list[int]:
    """Return the columns (from 0) whose texts are figures more often than not."""
    texts = [[c.text for c in table.cells if c.column == k and c.text.strip()] for k in range(1, columns + 1)]
    return [k for k, column in enumerate(texts) if 2 * sum(map(is_figure, column)) > max(len(column) - 1, 0)]


def _cells_of(line: Line, edges: Sequence[float]) -> list[list[Word]]:
    """Return the words of a line by column, or nothing when they do not stand under the columns as a row does."""
    words = sorted(line.words, key=lambda w: w.box.x0)
    places = [_column(word.box, edges) for word in words]
    cells: list[list[Word]] = [[] for _ in range(len(edges) - 1)]
    for word, place in zip(words, places, strict=True):
        if place is None:
            return []
        cells[place].append(word)
    for (one, here), (other, there) in pairwise(zip(words, places, strict=True)):
        if here != there and other.box.x0 - one.box.x1 < WORD_SPACE * one.size:
            return []
    filled = sum(map(bool, cells))
    return cells if filled >= max(2, len(cells) - 1) else []


def _column(box: Box, edges: Sequence[float]) -> int | None:
    """Return the column (from 0) in which a word stands; the last one is open to the right."""
    for k, (low, high) in enumerate(pairwise(edges)):
        last = k == len(edges) - 2
        if low - _SLACK <= box.x0 and (box.x1 <= high + _SLACK or (last and box.x0 < high)):
            return k
    return None


def _build(rows: Sequence[Sequence[Sequence[Word]]], edges: Sequence[float], page: int) -> Table:
    boxes = [Box.around(word.box for cell in row for word in cell) for row in rows]
    right = max([edges[-1], *(box.x1 for box in boxes)])
    sides = [*edges[:-1], right]
    cells = tuple(
        make_cell(
            words,
            row=r,
            column=c,
            row_span=1,
            column_span=1,
            box=Box(x0=sides[c - 1], top=boxes[r - 1].top, x1=sides[c], bottom=boxes[r - 1].bottom),
        )
        for r, row in enumerate(rows, 1)
        for c, words in enumerate(row, 1)
    )
    box = Box(x0=sides[0], top=boxes[0].top, x1=right, bottom=boxes[-1].bottom)
    return Table(
        page=page, number=1, rows=len(rows), columns=len(sides) - 1, cells=cells, box=box, means="aligned"
    )
