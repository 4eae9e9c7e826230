"""Tells which pages must be looked at because their text does not say all: pictures, and characters without meaning."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pypdfium2
import pypdfium2.raw as pdfium

from torquary_ingest.openers.pdf.page_text import PageText
from torquary_ingest.openers.pdf.pictured import may_hold_table

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

Bounds = tuple[float, float, float, float]
_Pictured = tuple[pypdfium2.PdfImage, Bounds]

_BULLET = re.compile(r"^\W?[\ue000-\uf8ff]\W?|[\u0002\ufffe\r\n]", re.MULTILINE)
"""A sign before a line, mostly of a face of signs, and what the library sets for a hyphen at a line's end."""

_STRANGE, _NO_SIGN = re.compile(r"[\x00-\x1f\ufffd\ue000-\uf8ff]"), re.compile(r"[\W_]+")
_LEADERS = re.compile(r"(?:[.…_]\s?){4,}")
_FEW_LETTERS, _PLAIN, _MANY = 12, 0.4, 0.05
"""Letters and digits of a text at least, and their share, by which its characters are known to have a meaning; share of
those without one from which it is not known what a text says."""

_SPARSE = 40
"""Words of a page beside whose picture text is sparse: it may be all that the page tells."""

_LOOKING_SCALE = 2.0
_LARGEST_LOOK = 8_000_000
"""Pixels a point, and pixels at most, of a page that is rendered to see whether its pictures show print."""


class Eyes:
    """Looks at the pages of one file in order. `passed` tells that pictures of the last page were left unsearched."""

    def __init__(self) -> None:
        self.passed = False
        self._without_print: set[tuple[int, ...]] = set()

    def why_read(self, page: pypdfium2.PdfPage, words: pypdfium2.PdfTextPage, text: PageText, *, about: bool) -> str:
        """Return why a page must be looked at though its text tells of no torque, in words; "" if it need not be.

        Its text does not say all where notes are laid over it, where characters have no meaning, or where a picture
        may show print: pictures are searched where text is sparse, or where the page or its section is `about` torques
        or terminals. Links are no notes, and a lone sign without a meaning hides no torque where none is spoken of.
        """
        self.passed = False
        if any(_is_drawn(page, at) for at in range(pdfium.FPDFPage_GetAnnotCount(page))):
            return "notes or fields are laid over it"
        letters = "".join(_BULLET.sub("", _LEADERS.sub("", text.text)).split())
        if not letters:
            return "it has no text" if pdfium.FPDFPage_CountObjects(page) > 0 else ""
        if len(letters) >= _FEW_LETTERS and _is_strange(letters, speaks=text.speaks_of_screws):
            return "it has characters without a meaning"
        pictures = list(_large_pictures(page))
        self.passed = bool(pictures) and not about and len(text.text.split()) > _SPARSE
        if pictures and not self.passed and self._show_print(page, words, pictures):
            return "a picture on it may show print"
        return ""

    def _show_print(self, page: pypdfium2.PdfPage, words: pypdfium2.PdfTextPage, pictures: list[_Pictured]) -> bool:
        """Tell whether a picture may show print; one that showed none is not looked at again where it is repeated."""
        known = {box: _identify(image, box) for image, box in pictures}
        new = [box for box, key in known.items() if key not in self._without_print]
        if new and _show_print(page, words, new):
            return True
        self._without_print |= {key for box, key in known.items() if key and not _is_written_over(words, box)}
        return False


def _identify(image: pypdfium2.PdfImage, box: Bounds) -> tuple[int, ...]:
    """Return what a picture is known by where it is repeated: its bytes and sizes; () inside a form."""
    left, bottom, right, top = box
    return () if image.level else (hash(bytes(image.get_data())), round(right - left), round(top - bottom))


def _is_drawn(page: pypdfium2.PdfPage, at: int) -> bool:
    note = pdfium.FPDFPage_GetAnnot(page, at)
    kind = pdfium.FPDFAnnot_GetSubtype(note)
    pdfium.FPDFPage_CloseAnnot(note)
    return kind not in (pdfium.FPDF_ANNOT_LINK, pdfium.FPDF_ANNOT_POPUP)


def _is_strange(letters: str, *, speaks: bool) -> bool:
    strange = len(_STRANGE.findall(letters))
    return strange > (0 if speaks else _MANY * len(letters)) or len(_NO_SIGN.sub("", letters)) < _PLAIN * len(letters)


def _is_written_over(words: pypdfium2.PdfTextPage, box: Bounds) -> bool:
    left, bottom, right, top = box
    return bool(words.get_text_bounded(left, bottom, right, top).strip())


def stored_sizes(page: pypdfium2.PdfPage) -> Iterator[tuple[int, int]]:
    """Yield the pixels across and down of each picture that the page shows."""
    for image in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=8):
        yield image.get_px_size()


def _large_pictures(page: pypdfium2.PdfPage) -> Iterator[_Pictured]:
    """Yield each picture on the page that is large enough for a table, with its left, bottom, right and top.

    For one inside a form, whose own frame its bounds are in, the whole page.
    """
    for image in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=6):
        left, bottom, right, top = image.get_bounds()
        if may_hold_table(right - left, top - bottom):
            yield image, page.get_bbox() if image.level else (left, bottom, right, top)


def _show_print(
    page: pypdfium2.PdfPage, words: pypdfium2.PdfTextPage, pictures: list[Bounds]
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


def _pixels(box: Bounds, left: float, top: float, scale: float) -> tuple[slice, slice]:
    x0, y0, x1, y1 = box
    rows = slice(max(0, math.floor((top - y1) * scale)), max(0, math.ceil((top - y0) * scale)))
    return rows, slice(max(0, math.floor((x0 - left) * scale)), max(0, math.ceil((x1 - left) * scale)))
