"""Words of one cell in reading order: the text of a cell."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache
from statistics import median

from torquary_ingest.document import Word
from torquary_schema.values import Box

GLUE = 0.08
"""Share of the font size: words closer than this are one."""

LEVEL = 0.1
"""Share of the font size: what stands higher or lower by more is no part of the word before."""

ALIKE = 0.85
"""Digits of which one is smaller than this part of the other are not of one number."""


def turned_box(box: Box, turn: int) -> Box:
    """The box as seen when text printed at `turn` degrees clockwise is held upright.

    The origin is then no page corner; only order and distance matter.
    """
    if turn == 90:
        return Box(x0=box.top, top=-box.x1, x1=box.bottom, bottom=-box.x0)
    if turn == 180:
        return Box(x0=-box.x1, top=-box.bottom, x1=-box.x0, bottom=-box.top)
    if turn == 270:
        return Box(x0=-box.bottom, top=box.x0, x1=-box.top, bottom=box.x1)
    return box


def text_of(words: Sequence[Word]) -> str:
    """Lines joined by a line feed, words by a blank; words that all but touch are glued."""
    return "\n".join(_line_text(line) for line in reading_lines(words))


def reading_order(words: Sequence[Word]) -> tuple[Word, ...]:
    """The same words, line by line."""
    return tuple(word for line in reading_lines(words) for word in line)


def reading_lines(words: Sequence[Word]) -> list[list[Word]]:
    """Words as lines in reading order; words of another turn follow as lines of their own."""
    out: list[list[Word]] = []
    for turn in sorted({w.turn for w in words}):
        mine = [(turned_box(w.box, turn), w) for w in words if w.turn == turn]
        for line in _stack(mine):
            out.append(_in_direction([w for _, w in sorted(line, key=lambda p: p[0].x0)]))
    return out


def _stack(boxed: list[tuple[Box, Word]]) -> list[list[tuple[Box, Word]]]:
    """Group by height on the page: a word joins a line that it overlaps by more than half."""
    lines: list[list[tuple[Box, Word]]] = []
    spans: list[tuple[float, float]] = []
    for box, word in sorted(boxed, key=lambda p: (p[0].middle[1], p[0].x0)):
        if lines:
            top, bottom = spans[-1]
            shared = min(bottom, box.bottom) - max(top, box.top)
            if shared > 0.5 * min(bottom - top, box.height):
                lines[-1].append((box, word))
                tops = [b.top for b, _ in lines[-1]]
                bottoms = [b.bottom for b, _ in lines[-1]]
                spans[-1] = (median(tops), median(bottoms))
                continue
        lines.append([(box, word)])
        spans.append((box.top, box.bottom))
    return lines


@lru_cache(maxsize=4096)
def _leftward(text: str) -> bool:
    """Tell whether the text is written from right to left."""
    return any(unicodedata.bidirectional(c) in ("R", "AL") for c in text)


def _in_direction(line: list[Word]) -> list[Word]:
    """Order a line as it is read: right to left where such letters stand, figures in it left to right."""
    if not any(_leftward(w.text) for w in line):
        return line
    runs: list[list[Word]] = []
    for word in line:
        if runs and not _leftward(word.text) and not _leftward(runs[-1][0].text):
            runs[-1].append(word)
        else:
            runs.append([word])
    return [word for run in reversed(runs) for word in run]


def _line_text(line: Sequence[Word]) -> str:
    parts: list[str] = []
    last: Word | None = None
    for word in line:
        if last is not None and not _touching(last, word):
            parts.append(" ")
        parts.append(word.text)
        last = word
    return "".join(parts)


def _touching(a: Word, b: Word) -> bool:
    first, second = turned_box(a.box, a.turn), turned_box(b.box, b.turn)
    gap = max(second.x0 - first.x1, first.x0 - second.x1)
    level = a.turn != 0 or abs(a.baseline - b.baseline) < LEVEL * min(a.size, b.size)
    alike = min(a.size, b.size) >= ALIKE * max(a.size, b.size) or not (a.text[-1:].isdigit() and b.text[:1].isdigit())
    return not a.marks and level and alike and gap < GLUE * min(a.size, b.size)
