"""Prose on a page of our own making: a web page has no paper, and sentences are read from lines.

Each line stands under the one before it; lines of one block (parted by a line break) stand close together,
blocks apart. Boxes tell order and nearness only, in points.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from torquary_ingest.document import Word
from torquary_ingest.openers.web_page.content import Line
from torquary_schema.values import Box

_LEFT = 40.0
_SIZE = 10.0
_HEADING_SIZES = (_SIZE, 18.0, 16.0, 14.0, 13.0, 12.0, 11.0)
_LETTER = 0.5


def set_words(lines: Iterable[Line]) -> Iterator[Word]:
    """Yield the words of the lines with boxes that show their order; marks hang on a line's last word."""
    top = 40.0
    for line in lines:
        size = _HEADING_SIZES[line.level]
        for text in line.spoken.text.split("\n"):
            yield from _set_line(text, line, size, top)
            top += size * 1.2
        if not line.broken:
            top += size * 1.5


def _set_line(text: str, line: Line, size: float, top: float) -> Iterator[Word]:
    left = _LEFT
    words = text.split()
    for at, word in enumerate(words):
        right = left + len(word) * size * _LETTER
        yield Word(
            text=word,
            box=Box(x0=left, top=top, x1=right, bottom=top + size),
            size=size,
            baseline=top + 0.8 * size,
            bold=line.level > 0,
            marks=line.spoken.marks if at + 1 == len(words) else (),
            doubts=line.spoken.doubts,
        )
        left = right + size * _LETTER
