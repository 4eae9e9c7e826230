"""A page as pypdfium2 shows it: grey pictures of any part, and the live characters with their boxes."""

from __future__ import annotations

import ctypes
import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from torquary_schema.values import Box

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

PIXELS_PER_POINT = 4
"""288 dpi: a 5 pt decimal point is still two pixels wide, a page of 8 pt figures renders in milliseconds."""

_LARGEST_PICTURE = 24_000_000
_DEEPEST_FORM = 12
_INVISIBLE_MODES = frozenset({3, 7})


@dataclass(frozen=True, slots=True, kw_only=True)
class Glyph:
    """A live character. Lengths in points from the top left of the page as shown.

    `box` is the extent of the outline, `origin` the pen's place on the baseline, `em` the font size as
    shown, `turn` the clockwise angle (0, 90, 180, 270; None if slanted). `drawn` is False for a character
    that the page sets in an invisible rendering mode.
    """

    char: str
    box: Box
    origin: tuple[float, float]
    em: float
    turn: int | None
    font: str
    drawn: bool


@dataclass(frozen=True, slots=True)
class Picture:
    """Grey levels (0 black, 255 white), rows from the top; `left`/`top` in points, `scale` pixels a point."""

    grey: NDArray[numpy.uint8]
    left: float
    top: float
    scale_x: float
    scale_y: float

    def pixels(self, box: Box, grow: float = 0.0) -> tuple[int, int, int, int]:
        """Return (x0, y0, x1, y1) in pixels, half open, of a box grown by `grow` pixels and clipped."""
        high, wide = self.grey.shape
        x0 = math.floor((box.x0 - self.left) * self.scale_x - grow + 0.5)
        x1 = math.ceil((box.x1 - self.left) * self.scale_x + grow - 0.5)
        y0 = math.floor((box.top - self.top) * self.scale_y - grow + 0.5)
        y1 = math.ceil((box.bottom - self.top) * self.scale_y + grow - 0.5)
        x0, y0 = min(max(x0, 0), wide), min(max(y0, 0), high)
        return x0, y0, max(min(x1, wide), x0), max(min(y1, high), y0)

    def part(self, box: Box, grow: float = 0.0) -> Picture:
        """Return the picture of a box inside this one."""
        x0, y0, x1, y1 = self.pixels(box, grow)
        left, top = self.left + x0 / self.scale_x, self.top + y0 / self.scale_y
        return Picture(self.grey[y0:y1, x0:x1], left, top, self.scale_x, self.scale_y)


class PageView:
    """One page of an open pypdfium2 document. Pictures and characters are made once and kept."""

    def __init__(self, page: Any) -> None:
        import pypdfium2.raw as pdfium

        self._page = page
        self._raw = pdfium
        self.width, self.height = page.get_size()
        self._picture: Picture | None = None
        self._glyphs: dict[int, Glyph] = {}

    def picture(self, box: Box, finer: int = 1) -> Picture:
        """Return the picture of a box at `finer` times the usual scale; at 1, the last prepared area costs nothing."""
        kept = self._picture
        if kept is not None and finer == 1:
            high, wide = kept.grey.shape
            right, bottom = kept.left + wide / kept.scale_x, kept.top + high / kept.scale_y
            if kept.left <= box.x0 and kept.top <= box.top and box.x1 <= right and box.bottom <= bottom:
                return kept.part(box)
        return self._render(box, finer)

    def prepare(self, box: Box) -> None:
        """Render an area once, so that the pictures of its cells are cut from it (if it is not too large)."""
        box = self._clip(box)
        if box.width * box.height * PIXELS_PER_POINT**2 <= _LARGEST_PICTURE:
            self._picture = self._render(box)

    def _clip(self, box: Box) -> Box:
        x0, top = min(max(box.x0, 0.0), self.width), min(max(box.top, 0.0), self.height)
        return Box(x0=x0, top=top, x1=max(min(box.x1, self.width), x0), bottom=max(min(box.bottom, self.height), top))

    def _render(self, box: Box, finer: int = 1) -> Picture:
        box = self._clip(box)
        scale: float = PIXELS_PER_POINT * finer
        if box.width * box.height * scale**2 > _LARGEST_PICTURE:
            scale = math.sqrt(_LARGEST_PICTURE / (box.width * box.height))
        wide, high = math.ceil(self.width * scale), math.ceil(self.height * scale)
        x0, y0 = min(math.floor(box.x0 * scale), wide - 1), min(math.floor(box.top * scale), high - 1)
        x1, y1 = max(math.ceil(box.x1 * scale), x0 + 1), max(math.ceil(box.bottom * scale), y0 + 1)
        x1, y1 = min(x1, wide), min(y1, high)
        # pypdfium2 rounds each cut up to whole pixels: cut a hair less than a whole number of them.
        cut = tuple(max(side - 0.25, 0) / scale for side in (x0, high - y1, wide - x1, y0))
        bitmap = self._page.render(scale=scale, grayscale=True, crop=cut)
        scale_x, scale_y = wide / self.width, high / self.height
        return Picture(bitmap.to_numpy().reshape(y1 - y0, x1 - x0), x0 / scale_x, y0 / scale_y, scale_x, scale_y)

    @cached_property
    def _text(self) -> Any:
        self._drop_replacements()
        return self._page.get_textpage()

    def _drop_replacements(self) -> None:
        """Take away the texts that content bears for other readers (/ActualText): what is drawn has to testify.

        pdfium would give those characters in place of the drawn ones, each with an even share of their box.
        """
        raw = self._raw
        for piece in self._page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], max_depth=_DEEPEST_FORM):
            for index in range(raw.FPDFPageObj_CountMarks(piece)):
                mark = raw.FPDFPageObj_GetMark(piece, index)
                raw.FPDFPageObjMark_RemoveParam(piece, mark, b"ActualText")

    @cached_property
    def _frame(self) -> tuple[float, float, float, float, float, float]:
        """The affine way from PDF user space to the page as shown: x = a·u + b·v + c, y = d·u + e·v + f."""
        fine = 1000
        ends = []
        for u, v in ((0, 0), (fine, 0), (0, fine)):
            x, y = ctypes.c_int(), ctypes.c_int()
            size = (round(self.width * fine), round(self.height * fine))
            self._raw.FPDF_PageToDevice(self._page, 0, 0, *size, 0, u, v, x, y)
            ends.append((x.value / fine, y.value / fine))
        (cx, cy), (ax, ay), (bx, by) = ends
        return (ax - cx) / fine, (bx - cx) / fine, cx, (ay - cy) / fine, (by - cy) / fine, cy

    def _shown(self, u: Any, v: Any) -> tuple[Any, Any]:
        """Return where a point, or each of many, lies on the page as shown."""
        a, b, c, d, e, f = self._frame
        return a * u + b * v + c, d * u + e * v + f

    @cached_property
    def _inked(self) -> tuple[list[int], NDArray[numpy.float64]]:
        """Indices of the inked characters on the page, and their left, top, right and bottom, one row each.

        Blanks and line ends are left out.
        """
        import numpy as np

        raw, text = self._raw, self._text
        indices, corners = [], []
        left, right, low, high = ends = [ctypes.c_double() for _ in range(4)]
        places = [ctypes.byref(end) for end in ends]
        for index in range(text.count_chars()):
            if chr(raw.FPDFText_GetUnicode(text, index)).isspace() or raw.FPDFText_IsGenerated(text, index) == 1:
                continue
            if raw.FPDFText_GetCharBox(text, index, *places):
                indices.append(index)
                corners.append((left.value, low.value, right.value, high.value))
        u0, v0, u1, v1 = np.array(corners, np.float64).reshape(-1, 4).T
        (x0, y0), (x1, y1) = self._shown(u0, v0), self._shown(u1, v1)
        sides = np.array([np.minimum(x0, x1), np.minimum(y0, y1), np.maximum(x0, x1), np.maximum(y0, y1)])
        return indices, sides

    def glyphs(self, area: Box) -> tuple[Glyph, ...]:
        """Return the live characters whose box meets the area, in the file's order."""
        indices, sides = self._inked
        x0, top, x1, bottom = sides
        meets = (x0 <= area.x1) & (area.x0 <= x1) & (top <= area.bottom) & (area.top <= bottom)
        found = []
        for at in meets.nonzero()[0].tolist():
            index = indices[at]
            if index not in self._glyphs:
                left, high, right, low = sides[:, at].tolist()
                self._glyphs[index] = self._glyph(index, Box(x0=left, top=high, x1=right, bottom=low))
            found.append(self._glyphs[index])
        return tuple(found)

    def _glyph(self, index: int, box: Box) -> Glyph:
        raw, text = self._raw, self._text
        matrix = raw.FS_MATRIX()
        raw.FPDFText_GetMatrix(text, index, matrix)
        x, y = ctypes.c_double(), ctypes.c_double()
        raw.FPDFText_GetCharOrigin(text, index, x, y)
        a, b, _, d, e, _ = self._frame
        along = (a * matrix.a + b * matrix.b, d * matrix.a + e * matrix.b)
        up = (a * matrix.c + b * matrix.d, d * matrix.c + e * matrix.d)
        name = ctypes.create_string_buffer(128)
        flags = ctypes.c_int()
        size = raw.FPDFText_GetFontInfo(text, index, name, 128, flags)
        piece = raw.FPDFText_GetTextObject(text, index)
        mode = raw.FPDFTextObj_GetTextRenderMode(piece) if piece else 0
        return Glyph(
            char=chr(raw.FPDFText_GetUnicode(text, index)),
            box=box,
            origin=self._shown(x.value, y.value),
            em=math.hypot(*up) * raw.FPDFText_GetFontSize(text, index) or 1.0,
            turn=_quarter(along),
            font=name.raw[: max(0, min(size, 128) - 1)].decode("utf-8", "replace") if size else "",
            drawn=mode not in _INVISIBLE_MODES,
        )

    def close(self) -> None:
        """Free the page."""
        if "_text" in self.__dict__:
            self._text.close()
        self._page.close()


def _quarter(along: tuple[float, float]) -> int | None:
    """Return the clockwise angle of a writing direction if it is a quarter turn (within 3 degrees)."""
    angle = math.degrees(math.atan2(along[1], along[0])) % 360
    nearest = round(angle / 90) * 90
    return nearest % 360 if abs(angle - nearest) <= 3 else None
