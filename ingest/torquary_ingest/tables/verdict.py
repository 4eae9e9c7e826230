"""Whether a plan is a table at all: text in columns, lists and charts are not."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from torquary_ingest.document import Cell, Table, Word
from torquary_ingest.tables.kinds import is_figure, is_list_mark
from torquary_ingest.tables.lines import make_chunks, make_lines
from torquary_schema.values import Box

BASELINE = 0.5
"""Points by which baselines of one line differ at most, once more for rounding (own choice)."""

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def is_table(table: Table, bounded: bool) -> bool:
    """Tell whether an aligned table is one; rules above and below (`bounded`) lower the bar."""
    if table.rows < 2 or table.columns < 2:
        return False
    filled = [c for c in table.cells if c.text]
    if not any(_share_line(one, other) for one, other in pairwise(filled)):
        return False
    share = len(filled) / (table.rows * table.columns)
    if share < (0.2 if bounded else 0.4) or _is_list(table) or _is_prose(table, bounded) or is_chart(table):
        return False
    figures = sum(is_figure(c.text) for c in filled) / len(filled)
    straight = _straightness(table)
    if bounded:
        return straight >= 0.4 and _full_rows(table) >= 0.35 and (table.rows * table.columns > 4 or figures > 0)
    if _full_rows(table) < 0.5 or (table.rows < 3 and figures < 0.3):
        return False
    if figures < 0.25:
        return table.rows >= 3 and table.columns >= 3 and straight >= 0.75
    return straight >= 0.6


def _share_line(cell: Cell, other: Cell) -> bool:
    """Tell whether two cells of a row have texts on one baseline: call-outs that stand beside each other have none."""
    lines = [{round(word.baseline / BASELINE) for word in one.words} for one in (cell, other)]
    near = {at + step for at in lines[0] for step in (-1, 0, 1)}
    return cell.row == other.row and bool(near & lines[1])


def _full_rows(table: Table) -> float:
    """Share of the rows that hold more than one text."""
    rows = [0] * table.rows
    for cell in table.cells:
        if cell.text:
            rows[cell.row - 1] += 1
    return sum(n > 1 for n in rows) / table.rows


def is_chart(table: Table) -> bool:
    """Tell whether many rows hold nothing but the steps of an axis: 0, 50, 100, 150."""
    axes = {c for c in range(1, table.columns + 1) if _is_axis(table, c)}
    if not axes:
        return False
    rows: dict[int, set[int]] = {}
    for cell in table.cells:
        if cell.text:
            rows.setdefault(cell.row, set()).add(cell.column)
    return sum(columns <= axes for columns in rows.values()) >= 0.33 * len(rows)


def _is_axis(table: Table, column: int) -> bool:
    """Tell whether the figures of a column go up or down by even steps."""
    texts = [c.text.replace(",", "").rstrip("%") for c in table.cells if c.column == column]
    figures = [float(t) for t in texts if _NUMBER.fullmatch(t)]
    steps = [b - a for a, b in pairwise(figures)]
    if len(steps) < 3:
        return False
    usual = max(set(steps), key=steps.count)
    return usual != 0 and steps.count(usual) >= 0.7 * len(steps)


def is_grid(table: Table) -> bool:
    """Tell whether what rules draw is a table, not a page's frame, a boxed text or a chart's grid."""
    if table.columns < 2:
        return False
    filled = [c for c in table.cells if c.words]
    words = [len(c.words) for c in filled]
    if max(words) > 60 and max(words) > 0.6 * sum(words):
        return False
    if table.rows == 1 and max(words) > 12:
        return False
    hollow = sum(not c.words and c.row_span * c.column_span > 1 for c in table.cells)
    if hollow > max(2, 0.12 * len(table.cells)):
        return False
    return len(filled) >= max(2, 0.2 * len(table.cells))


def loose_share(table: Table) -> float:
    """Share of filled cells in which texts stand so far apart on a line that they look like several cells."""
    filled = [c for c in table.cells if c.words]
    if table.columns < 2 or not filled:
        return 1.0
    loose = sum(any(len(make_chunks(n.words, 1.5)) > 1 for n in make_lines(c.words)) for c in filled)
    return loose / len(filled)


def _is_list(table: Table) -> bool:
    """Tell whether the first of two columns only numbers or marks the items of the second."""
    first = [c.text for c in table.cells if c.column == 1 and c.text]
    return table.columns == 2 and bool(first) and all(is_list_mark(t) for t in first)


def _is_prose(table: Table, bounded: bool) -> bool:
    """Tell whether cells are lines of running text."""
    filled = [c for c in table.cells if c.text]
    words = [len(c.text.split()) for c in filled]
    wordy = sum(n > 6 for n in words) / len(words)
    figures = sum(is_figure(c.text) for c in filled) / len(filled)
    limit = 0.6 if bounded else 0.3
    return wordy > limit and figures < 0.3


def _straightness(table: Table) -> float:
    """Share of cells whose left, right or middle stands where most of their column's do."""
    right, total = 0, 0
    for column in range(1, table.columns + 1):
        cells = [c.words for c in table.cells if c.column == column and c.column_span == 1 and c.words]
        if len(cells) < 2:
            continue
        total += len(cells)
        right += max(_agreeing(cells, side) for side in range(3))
    return right / total if total else 0.0


def _agreeing(cells: Sequence[Sequence[Word]], side: int) -> int:
    boxes = [Box.around(w.box for w in words) for words in cells]
    places = [(b.x0, b.middle[0], b.x1)[side] for b in boxes]
    usual = median(places)
    best = 0
    for centre in (usual, *sorted(set(places))[:12]):
        best = max(best, sum(abs(p - centre) < 2.5 for p in places))
    return best
