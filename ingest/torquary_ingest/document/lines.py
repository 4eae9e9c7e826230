"""Words of a page set in lines, as a reader's eye takes them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from torquary_ingest.document.frames import Gutter, find_gutters
from torquary_ingest.document.page import Page
from torquary_ingest.document.table import Table
from torquary_ingest.document.word import Word
from torquary_schema.values import Box

CLOSE = 0.8
"""Type sizes of white between the lines of one text at most (own choice)."""
_WIDE = 4.0
"""Type sizes between two words that stand in separate lines."""
_STOP = 0.7
"""Type sizes before a word that begins where words of other lines do, at least (own choice; a word space: 0.3)."""
_STOP_REACH = 8.0
"""Type sizes down a page in which three words begin at one place, at most (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Words on one baseline, left to right. `text` joins them with blanks; lengths in points.

    `glimpsed`: it is a heading of a page that was not read closely.
    """

    page: int
    words: tuple[Word, ...]
    text: str
    box: Box
    size: float
    glimpsed: bool = False

    @property
    def bold(self) -> bool:
        """Tell whether all of its words are bold."""
        return all(word.bold for word in self.words)


def set_lines(page: Page, tables: Iterable[Table] = ()) -> tuple[Line, ...]:
    """Return the upright lines of the page outside the given tables, top to bottom.

    Words a wide blank apart (over four times the type size) stand in separate lines: columns of text. So do those
    behind a narrower one where words of several lines begin at the same place, and those of two cards side by side.
    """
    boxes = [table.box for table in tables if table.box is not None and table.page == page.number]
    words = [w for w in page.words if not any(box.holds(w.box.middle) for box in boxes)]
    return lines_of(page.number, words, find_gutters(page))


def lines_of(page: int, words: Iterable[Word], gutters: Sequence[Gutter] = ()) -> tuple[Line, ...]:
    """Return the lines that upright words of a page stand in, top to bottom; `page` counts from 1."""
    rows: list[list[Word]] = []
    upright = (word for word in words if word.turn == 0)
    for word in sorted(upright, key=lambda w: (w.box.middle[1], w.box.x0)):
        row = next((r for r in reversed(rows[-6:]) if _same_line(r[-1], word)), None)
        if row is None:
            rows.append([word])
        else:
            row.append(word)
    rows = [sorted(row, key=lambda w: w.box.x0) for row in rows]
    stops = _find_stops(rows)
    parts = [part for row in rows for part in _between(row, gutters)]
    lines = [line for row in parts for line in _part(page, row, stops)]
    return tuple(sorted(lines, key=lambda line: (line.box.top, line.box.x0)))


def _same_line(one: Word, other: Word) -> bool:
    low = max(one.box.top, other.box.top)
    high = min(one.box.bottom, other.box.bottom)
    return high - low > 0.5 * min(one.box.height, other.box.height)


def _find_stops(rows: list[list[Word]]) -> frozenset[int]:
    """Return the places, in whole points, at which words behind a blank begin in several lines close together."""
    begun: dict[int, list[float]] = {}
    for row in rows:
        for before, word in pairwise(row):
            if _blank(before, word) > _STOP:
                begun.setdefault(round(word.box.x0), []).append(word.box.top / max(word.size, 1))
    near = {x: sorted((*tops, *begun.get(x + 1, ()))) for x, tops in begun.items()}
    found = {x for x, tops in near.items() if any(c - a < _STOP_REACH for a, c in zip(tops, tops[2:], strict=False))}
    return frozenset({*found, *(x + 1 for x in found)})


def _blank(before: Word, word: Word) -> float:
    """Return the width of what stands between two words, in type sizes."""
    return (word.box.x0 - before.box.x1) / max(word.size, before.size, 1)


def _between(row: list[Word], gutters: Sequence[Gutter]) -> Iterable[list[Word]]:
    """Yield the words of a row in parts, one for each card that they stand on."""
    start = 0
    for at, (left, right) in enumerate(pairwise(row), start=1):
        if any(gutter.parts(left.box, right.box) for gutter in gutters):
            yield row[start:at]
            start = at
    yield row[start:]


def _part(page: int, row: list[Word], stops: frozenset[int]) -> Iterable[Line]:
    start = 0
    for i in range(1, len(row) + 1):
        apart = i == len(row) or _blank(row[i - 1], row[i]) > (_STOP if round(row[i].box.x0) in stops else _WIDE)
        if apart:
            yield _line(page, row[start:i])
            start = i


def _line(page: int, words: list[Word]) -> Line:
    box = Box.around(word.box for word in words)
    return Line(
        page=page,
        words=tuple(words),
        text=" ".join(word.text for word in words),
        box=box,
        size=max(word.size for word in words),
    )


def is_note_line(line: Line) -> bool:
    """Tell whether a line is a footnote: it opens with a mark set smaller than, or raised above, its words."""
    if len(line.words) < 2 or len(line.words[0].text) > 3:
        return False
    mark, word = line.words[0], line.words[1]
    raised = mark.box.bottom < word.box.bottom - 0.15 * max(word.size, 1)
    return mark.size < 0.85 * word.size or raised or bool(re.fullmatch(r"[*†‡§]+|\w{1,2}\)|[¹²³⁴⁵⁶⁷⁸⁹]+\)?", mark.text))
