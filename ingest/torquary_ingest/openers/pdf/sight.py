"""Tells which pages must be looked at because their text does not say all: pictures, and characters without meaning."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pypdfium2
import pypdfium2.raw as pdfium

from torquary_ingest.openers.pdf.pictured import may_hold_table

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_LOOKING_SCALE = 2.0
_LARGEST_LOOK = 8_000_000
"""Pixels a point, and pixels at most, of a page that is rendered to see whether its pictures show print."""


def needs_eyes(page: pypdfium2.PdfPage, words: pypdfium2.PdfTextPage, text: str) -> bool:
    """Tell a page whose text does not say all: print in pictures, notes laid over it, characters without meaning."""
    if pdfium.FPDFPage_GetAnnotCount(page) > 0:
        return True
    letters = [letter for letter in text if not letter.isspace()]
    if not letters:
        return bool(pdfium.FPDFPage_CountObjects(page) > 0)
    if len(letters) >= 12:
        strange = sum(letter < " " or letter == "\ufffd" or "\ue000" <= letter <= "\uf8ff" for letter in letters)
        plain = sum(letter.isalnum() for letter in letters)
        if strange > 0 or plain < 0.4 * len(letters):
            return True
    pictures = list(_large_pictures(page))
    return bool(pictures) and _show_print(page, words, pictures)


def stored_sizes(page: pypdfium2.PdfPage) -> Iterator[tuple[int, int]]:
    """Yield the pixels across and down of each picture that the page shows."""
    for image in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=8):
        yield image.get_px_size()


def _large_pictures(page: pypdfium2.PdfPage) -> Iterator[tuple[float, float, float, float]]:
    """Yield left, bottom, right and top of each picture on the page that is large enough for a table.

    For one inside a form, whose own frame its bounds are in, the whole page.
    """
    for image in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=6):
        left, bottom, right, top = image.get_bounds()
        if may_hold_table(right - left, top - bottom):
            yield page.get_bbox() if image.level else (left, bottom, right, top)


def _show_print(
    page: pypdfium2.PdfPage, words: pypdfium2.PdfTextPage, pictures: list[tuple[float, float, float, float]]
) -> bool:
    """Tell whether one of the pictures may show print, the page's live text left out; True where it cannot be told."""
    import numpy as np

    from torquary_ingest.scans import may_show_print
    from torquary_ingest.scans.budget import MOST_PIXELS

    wide, high = page.get_size()
    scale = min(_LOOKING_SCALE, math.sqrt(_LARGEST_LOOK / max(wide * high, 1)))
    if page.get_rotation() or any(wide * high > MOST_PIXELS for wide, high in stored_sizes(page)):
        return True
    try:
        levels = page.render(scale=scale, grayscale=True).to_numpy()
    except pypdfium2.PdfiumError:
        return True
    grey = np.array(levels.reshape(levels.shape[0], levels.shape[1]))
    left, bottom, *_ = page.get_bbox()
    places = [_pixels(picture, left, bottom + high, scale) for picture in pictures]
    seen = np.zeros(grey.shape, bool)
    for rows, columns in places:
        seen[rows, columns] = True
    grey[~seen] = 255
    for at in range(words.count_rects()):
        x0, y0, x1, y1 = words.get_rect(at)
        rows, columns = _pixels((x0 - 1, y0 - 1, x1 + 1, y1 + 1), left, bottom + high, scale)
        grey[rows, columns] = _ground(grey[rows, columns])
    return any(may_show_print(grey[rows, columns], scale) for rows, columns in places if grey[rows, columns].size)


def _ground(part: NDArray[numpy.uint8]) -> int:
    import numpy as np

    return int(np.median(part)) if part.size else 255


def _pixels(box: tuple[float, float, float, float], left: float, top: float, scale: float) -> tuple[slice, slice]:
    x0, y0, x1, y1 = box
    rows = slice(max(0, math.floor((top - y1) * scale)), max(0, math.ceil((top - y0) * scale)))
    return rows, slice(max(0, math.floor((x0 - left) * scale)), max(0, math.ceil((x1 - left) * scale)))
