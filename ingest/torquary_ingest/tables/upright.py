"""Headings set on their side over an upright table without rules, as words that stand in its heading line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import reduce

from torquary_ingest.document import Cell, Mark, Table, Word
from torquary_ingest.tables.wording import text_of
from torquary_schema.values import Box

Printed = dict[int, tuple[Word, ...]]
"""By the id of a word that was made: the words of the page that it stands for."""

NEAR = 2.0
"""Shares of the font size: so far above the first row a heading on its side ends at most."""

RUNS_ON = 1.0
"""Shares of the font size: words of one sideways line, or lines of one sideways heading, are no further apart."""


def stand_up(words: Sequence[Word]) -> tuple[list[Word], Printed]:
    """Return the words with each sideways heading replaced by one upright word at its foot, and what is printed there.

    Only two or more headings that end at one height, close above upright words, are taken for a heading line;
    other sideways words are left out.
    """
    upright = [w for w in words if w.turn == 0]
    made: list[tuple[Word, Sequence[Word]]] = []
    for turn in (90, 270):
        groups = _groups([w for w in words if w.turn == turn])
        heads = [_lay_down(group) for group in groups]
        for head, group in zip(heads, groups, strict=True):
            level = [h for h in heads if abs(h.box.bottom - head.box.bottom) <= 0.5 * head.size]
            started = [h for h in heads if abs(h.baseline - head.baseline) <= 0.5 * head.size]
            if max(len(level), len(started)) > 1 and _stands_over(head, upright, heads):
                made.append((head, group))
    if len(made) < 2:
        return upright, {}
    foot = max(head.box.bottom for head, _ in made)
    columns = _first_row(upright, foot, made[0][0].size)
    if len(columns) != len(made):
        return upright, {}
    made.sort(key=lambda one: one[0].box.x0)
    stood = [_at_foot(head, column, foot) for (head, _), column in zip(made, columns, strict=True)]
    return upright + stood, {id(word): tuple(group) for word, (_, group) in zip(stood, made, strict=True)}


def print_back(table: Table, printed: Printed) -> Table:
    """Return the table with the words that `stand_up` made exchanged for those on the page, and boxes to match."""
    if not any(id(word) in printed for cell in table.cells for word in cell.words):
        return table
    cells = tuple(_print_back(cell, printed) for cell in table.cells)
    boxes = [cell.box for cell in cells if cell.box is not None]
    return replace(table, cells=cells, box=reduce(Box.union, boxes, table.box or boxes[0]))


def _print_back(cell: Cell, printed: Printed) -> Cell:
    if not any(id(word) in printed for word in cell.words):
        return cell
    words = tuple(own for word in cell.words for own in printed.get(id(word), (word,)))
    return replace(cell, words=words, box=reduce(Box.union, (word.box for word in words)))


def _first_row(upright: Sequence[Word], foot: float, size: float) -> list[tuple[float, float]]:
    """Return where the texts of the first row under the headings stand, from left to right."""
    below = sorted((w for w in upright if w.box.top >= foot), key=lambda w: w.box.top)
    row = sorted((w for w in below if w.box.top - below[0].box.top < 0.5 * size), key=lambda w: w.box.x0)
    spans: list[tuple[float, float]] = []
    for word in row:
        if spans and word.box.x0 - spans[-1][1] < 0.6 * size:
            spans[-1] = (spans[-1][0], word.box.x1)
        else:
            spans.append((word.box.x0, word.box.x1))
    return spans


def _groups(words: Sequence[Word]) -> list[list[Word]]:
    """Words of one sideways heading: one or more sideways lines close beside one another."""
    groups: list[list[Word]] = []
    reach = RUNS_ON * max((word.size for word in words), default=0.0)
    ends: list[float] = []  # no word that begins further to the right goes on with the group
    for word in sorted(words, key=lambda w: (w.box.x0, w.box.top)):
        end = word.box.x1 + reach
        close = (at for at, last in enumerate(ends) if word.box.x0 <= last)
        near = next((at for at in close if any(_runs_on(other, word) for other in groups[at])), None)
        if near is None:
            groups.append([word])
            ends.append(end)
        else:
            groups[near].append(word)
            ends[near] = max(ends[near], end)
    return groups


def _runs_on(one: Word, other: Word) -> bool:
    reach = RUNS_ON * max(one.size, other.size)
    across = max(one.box.x0, other.box.x0) - min(one.box.x1, other.box.x1)
    down = max(one.box.top, other.box.top) - min(one.box.bottom, other.box.bottom)
    # Lines of one heading overlap along their length; words of one line share their band.
    return (across < 0 and down <= reach) or (across <= 0.4 * reach and down < 0)


def _lay_down(group: Sequence[Word]) -> Word:
    """Return the heading as one word in the box of the whole; its top is kept as baseline."""
    box = Box.around(word.box for word in group)
    marks: tuple[Mark, ...] = tuple(mark for word in group for mark in word.marks)
    doubts = tuple(dict.fromkeys(doubt for word in group for doubt in word.doubts))
    text = " ".join(text_of(group).split())
    return replace(group[0], text=text, box=box, turn=0, baseline=box.top, marks=marks, doubts=doubts)


def _stands_over(head: Word, upright: Sequence[Word], heads: Sequence[Word]) -> bool:
    """Tell whether upright words begin close below where the headings end, in the column of this one."""
    foot = max(h.box.bottom for h in heads if h.box.top < head.box.bottom and head.box.top < h.box.bottom)
    reach = NEAR * head.size
    return any(
        0 <= w.box.top - foot <= reach and w.box.x0 < head.box.x1 + reach and w.box.x1 > head.box.x0 - reach
        for w in upright
    )


def _at_foot(head: Word, column: tuple[float, float], foot: float) -> Word:
    """Return the heading as a word over the column that it stands over, as wide as both."""
    x0, x1 = min(head.box.x0, column[0]), max(head.box.x1, column[1])
    return replace(head, box=Box(x0=x0, top=foot - head.size, x1=x1, bottom=foot), baseline=foot)
