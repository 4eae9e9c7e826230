"""Pages of lines, each set at a size and height, as an opener gives them."""

from __future__ import annotations

from torquary_ingest.document import Document, Noted, Page, Word
from torquary_schema.values import Box

LETTER = 0.5
"""Width of a letter over its size."""


def line(text: str, size: float, top: float, left: float = 50.0, *, bold: bool = False) -> list[Word]:
    words = []
    for part in text.split():
        right = left + LETTER * size * len(part)
        box = Box(x0=left, top=top, x1=right, bottom=top + size)
        words.append(Word(text=part, box=box, size=size, baseline=top + 0.8 * size, bold=bold))
        left = right + LETTER * size
    return words


def page(*lines: tuple[str, float, float] | tuple[str, float, float, float], number: int = 1) -> Page:
    """Set (text, size, top) or (text, size, top, left) on a page of A4; a text that begins with "*" is bold."""
    words = tuple(w for text, *place in lines for w in line(text.lstrip("*"), *place, bold=text.startswith("*")))
    return Page(number=number, width=595.0, height=842.0, words=words)


def sheet(*pages: Page, file: str = "sheet.pdf", noted: Noted | None = None) -> Document:
    return Document(file=file, kind="pdf", pages=pages, page_count=len(pages), noted=noted or Noted())
