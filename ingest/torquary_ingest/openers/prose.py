"""Lines of a file without paper, set on a page of our own making: boxes tell order and nearness only, in points."""

from __future__ import annotations

from collections.abc import Iterator

from torquary_ingest.document import Doubt, Mark, Word
from torquary_schema.values import Box

SIZE = 10.0
"""Type size of a plain line, in points (own choice)."""
_LEFT = 40.0
_LETTER = 0.5


def set_line(
    text: str,
    top: float,
    *,
    size: float = SIZE,
    bold: bool = False,
    marks: tuple[Mark, ...] = (),
    doubts: tuple[Doubt, ...] = (),
) -> Iterator[Word]:
    """Yield the words of a line that stands `top` points below the page's edge; marks hang on the last one."""
    left = _LEFT
    words = text.split()
    for at, word in enumerate(words):
        right = left + len(word) * size * _LETTER
        yield Word(
            text=word,
            box=Box(x0=left, top=top, x1=right, bottom=top + size),
            size=size,
            baseline=top + 0.8 * size,
            bold=bold,
            marks=marks if at + 1 == len(words) else (),
            doubts=doubts,
        )
        left = right + size * _LETTER
