"""Prose on a page of our own making: a web page has no paper, and sentences are read from lines.

Each line stands under the one before it; lines of one block (parted by a line break) stand close together,
blocks apart. Boxes tell order and nearness only, in points.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from torquary_ingest.document import Word
from torquary_ingest.openers.prose import SIZE, set_line
from torquary_ingest.openers.web_page.content import Line

_HEADING_SIZES = (SIZE, 18.0, 16.0, 14.0, 13.0, 12.0, 11.0)


def set_words(lines: Iterable[Line]) -> Iterator[Word]:
    """Yield the words of the lines with boxes that show their order; marks hang on a line's last word."""
    top = 40.0
    for line in lines:
        size = _HEADING_SIZES[line.level]
        for text in line.spoken.text.split("\n"):
            spoken = line.spoken
            yield from set_line(text, top, size=size, bold=line.level > 0, marks=spoken.marks, doubts=spoken.doubts)
            top += size * 1.2
        if not line.broken:
            top += size * 1.5
