"""Heading lines of a page that is not read closely: text, size, weight and place of lines, from the quick look alone.

Which of them are headings of the sheet is told later, with those of the other pages.
"""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterator, Sequence

import pypdfium2
import pypdfium2.raw as pdfium

from torquary_ingest.document import HeadingLine
from torquary_ingest.openers.pdf.letters import clean_character
from torquary_ingest.skeleton.headings import pick_headings
from torquary_schema.values import Box

_BOLD = 600
"""Weight from which a font is bold, in the steps of a font's description (400 is regular)."""

_BOLD_NAMES = (b"bold", b"black", b"heavy", b"demi")
_INVISIBLE = 3
"""Rendering mode of text that is drawn without ink."""


def read_lines(page: pypdfium2.PdfPage, words: pypdfium2.PdfTextPage, number: int) -> tuple[HeadingLine, ...]:
    """Return the lines of an upright page, in the order of the file; () for a page that is turned."""
    if page.get_rotation():
        return ()
    left, _, _, top = page.get_bbox()
    return tuple(_lines(words, number, left, top))


def pick_heading_lines(lines: Sequence[HeadingLine]) -> tuple[HeadingLine, ...]:
    """Return those lines of a page that may be headings."""
    return tuple(pick_headings(lines, _usual_size(lines)))


def _lines(words: pypdfium2.PdfTextPage, number: int, left: float, top: float) -> Iterator[HeadingLine]:
    start = 0
    for text in words.get_text_range().split("\n"):
        plain = text.strip()
        shown = plain if plain.isascii() and plain.isprintable() else "".join(map(clean_character, text)).strip()
        first, last = start + len(text) - len(text.lstrip()), start + len(text.rstrip()) - 1
        start += len(text) + 1
        boxes = [box for at in (first, last) if (box := _box(words, at, left, top)) is not None]
        if shown and boxes and _shows(words, first):
            yield HeadingLine(
                page=number,
                text=shown,
                size=_size(words, first),
                bold=_is_bold(words, first),
                box=Box.around(boxes),
            )


def _usual_size(lines: Sequence[HeadingLine]) -> float:
    """Return the size in which most letters are set; 0 for a page without lines."""
    letters: dict[float, int] = {}
    for line in lines:
        letters[round(line.size, 1)] = letters.get(round(line.size, 1), 0) + len(line.text)
    return max(letters, key=letters.__getitem__, default=0.0)


def _shows(words: pypdfium2.PdfTextPage, at: int) -> bool:
    obj = pdfium.FPDFText_GetTextObject(words, at)
    return not obj or pdfium.FPDFTextObj_GetTextRenderMode(obj) != _INVISIBLE


def _size(words: pypdfium2.PdfTextPage, at: int) -> float:
    """Return the size in points in which a letter is drawn: that of its font, as the page scales it."""
    matrix = pdfium.FS_MATRIX()
    scaled = pdfium.FPDFText_GetMatrix(words, at, matrix)
    return float(pdfium.FPDFText_GetFontSize(words, at)) * (math.hypot(matrix.c, matrix.d) if scaled else 1.0)


def _is_bold(words: pypdfium2.PdfTextPage, at: int) -> bool:
    name = ctypes.create_string_buffer(128)
    pdfium.FPDFText_GetFontInfo(words, at, name, 128, None)
    return pdfium.FPDFText_GetFontWeight(words, at) >= _BOLD or any(one in name.value.lower() for one in _BOLD_NAMES)


def _box(words: pypdfium2.PdfTextPage, at: int, left: float, top: float) -> Box | None:
    sides = [ctypes.c_double() for _ in range(4)]
    if not pdfium.FPDFText_GetCharBox(words, at, *map(ctypes.byref, sides)):
        return None
    x0, x1, y0, y1 = (side.value for side in sides)
    return Box(x0=x0 - left, top=top - y1, x1=x1 - left, bottom=top - y0)
