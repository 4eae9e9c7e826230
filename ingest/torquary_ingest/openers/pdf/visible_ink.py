"""How much of a text's ink shows on the page: rendered with it, without it, and it alone."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray
from pdfminer.utils import mult_matrix

from torquary_ingest.openers.pdf.paint import Bounds, Glyph, Matrix, surround
from torquary_ingest.witness.view import PageView
from torquary_schema.values import Box

SCALE = 3.0
"""Pixels a point: strokes of 5 pt type are a pixel wide."""

LARGEST_PICTURE = 16_000_000
"""Pixels of the part of a page that is rendered."""

STEP = 24
"""Levels of 255 in a channel from which a difference is seen; the same as `colours.ALIKE`."""

_DEEPEST_FORM = 25
_NEAR = 0.05
"""Points within which two origins are one."""

_BLACK = (0, 0, 0, 255)
_SCHEME = pypdfium2.PdfColorScheme(path_fill=_BLACK, path_stroke=_BLACK, text_fill=_BLACK, text_stroke=_BLACK)

Levels = NDArray[np.int16]


class InkCheck:
    """Renders pages of one file to see which of their texts show."""

    def __init__(self, content: bytes, password: str) -> None:
        self._content, self._password = content, password
        self._document: Any = None

    def find_shares(
        self, number: int, matrix: Matrix, glyphs: Sequence[Glyph], asked: Collection[int]
    ) -> dict[int, float]:
        """Return which part of the ink of each glyph asked for shows, 0 to 1, by its `order`.

        `matrix` leads from the file's page to the reader's. A glyph whose text is not found in the rendered page is
        left out.
        """
        page = self._open()[number - 1]
        try:
            texts = _find_texts(page, matrix, glyphs, asked)
            wanted = [glyph for glyph in glyphs if glyph.order in asked and glyph.run in texts]
            return _compare(page, list(texts.values()), wanted) if wanted else {}
        finally:
            page.close()

    def look(self, number: int, places: Sequence[tuple[Box, int]]) -> list[NDArray[np.uint8]]:
        """Return grey pictures of boxes on a page, each turned back by the clockwise turn of its text."""
        view = PageView(self._open()[number - 1])
        try:
            return [np.rot90(view.picture(box).grey, turn // 90) for box, turn in places]
        finally:
            view.close()

    def _open(self) -> Any:
        if self._document is None:
            self._document = pypdfium2.PdfDocument(self._content, password=self._password or None)
            self._document.init_forms()  # else the fields that a reader sees are not rendered
        return self._document

    def close(self) -> None:
        """Let go of the file."""
        if self._document is not None:
            self._document.close()
            self._document = None


def _find_texts(page: Any, matrix: Matrix, glyphs: Iterable[Glyph], asked: Collection[int]) -> dict[int, Any]:
    """Return the text object of each show operator that drew a glyph asked for: the one at its place, in order."""
    starts: dict[int, Glyph] = {}
    wanted = set()
    for glyph in glyphs:
        starts.setdefault(glyph.run, glyph)
        if glyph.order in asked:
            wanted.add(glyph.run)
    objects: dict[tuple[int, int], list[Any]] = defaultdict(list)
    for text in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=_DEEPEST_FORM):
        *_, x, y = _way(text, matrix)
        objects[_cell(x, y)].append(text)
    found = {}
    for run, glyph in starts.items():
        here = objects.get(_nearest(objects, glyph))
        if here:
            text = here.pop(0)
            if run in wanted:
                found[run] = text
    return found


def _way(text: Any, matrix: Matrix) -> Matrix:
    """Return the matrix from a text's own space to the reader's page, through the forms around it."""
    whole: Matrix = text.get_matrix().get()
    holder = text.container
    while holder is not None:
        whole = mult_matrix(whole, holder.get_matrix().get())
        holder = holder.container
    return mult_matrix(whole, matrix)


def _cell(x: float, y: float) -> tuple[int, int]:
    return round(x / _NEAR), round(y / _NEAR)


def _nearest(objects: dict[tuple[int, int], list[Any]], glyph: Glyph) -> tuple[int, int]:
    across, down = _cell(glyph.x, glyph.y)
    around = [(across + right, down + low) for right in (0, -1, 1) for low in (0, -1, 1)]
    return next((cell for cell in around if objects.get(cell)), (across, down))


def _compare(page: Any, texts: list[Any], glyphs: list[Glyph]) -> dict[int, float]:
    """Return the share of each glyph's ink that makes a difference on the page."""
    frame = _Frame(page, surround([corner for g in glyphs for corner in (g.box[:2], g.box[2:])]))
    whole = frame.render()
    for text in texts:
        pdfium.FPDFPageObj_SetIsActive(text, False)
    seen = np.abs(whole - frame.render()).max(axis=2)
    for other in page.get_objects(max_depth=_DEEPEST_FORM):
        pdfium.FPDFPageObj_SetIsActive(other, other.type == pdfium.FPDF_PAGEOBJ_FORM)
    for text in texts:
        pdfium.FPDFPageObj_SetIsActive(text, True)
    bare = frame.render(color_scheme=_SCHEME, draw_annots=False, may_draw_forms=False)
    alone = 255 - bare.min(axis=2)
    shares = {}
    for glyph in glyphs:
        rows, columns = frame.pixels(glyph.box)
        ink = alone[rows, columns]
        strong = ink >= max(int(ink.max(initial=0)) / 2, STEP)
        shows = seen[rows, columns][strong] >= STEP * ink[strong] / 255
        shares[glyph.order] = float(shows.mean()) if shows.size else 0.0
    return shares


class _Frame:
    """The part of a page round a box, rendered again and again."""

    def __init__(self, page: Any, box: Bounds) -> None:
        wide, high = page.get_size()
        x0, top, x1, bottom = max(box[0] - 2, 0), max(box[1] - 2, 0), min(box[2] + 2, wide), min(box[3] + 2, high)
        self._page = page
        self._scale = min(SCALE, math.sqrt(LARGEST_PICTURE / max(1.0, (x1 - x0) * (bottom - top))))
        self._left, self._top = math.floor(x0 * self._scale), math.floor(top * self._scale)
        # pypdfium2 rounds each cut up to whole pixels: cut a hair less than a whole number of them.
        left, upper = (max(side - 0.25, 0) / self._scale for side in (self._left, self._top))
        self._crop = (left, max(high - bottom, 0), max(wide - x1, 0), upper)

    def render(self, **wishes: Any) -> Levels:
        """Return the colours of the pixels, one row of three levels each."""
        levels = self._page.render(scale=self._scale, crop=self._crop, **wishes).to_numpy()
        return np.array(levels[:, :, :3], dtype=np.int16)

    def pixels(self, box: Bounds) -> tuple[slice, slice]:
        """Return rows and columns of a box on the page."""
        x0, top, x1, bottom = (side * self._scale for side in box)
        rows = slice(max(math.floor(top) - self._top, 0), max(math.ceil(bottom) - self._top, 0))
        return rows, slice(max(math.floor(x0) - self._left, 0), max(math.ceil(x1) - self._left, 0))
