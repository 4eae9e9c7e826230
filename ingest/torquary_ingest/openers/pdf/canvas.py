"""The recorder: takes the painting operators of a page and writes down what they paint."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pdfminer.pdfdevice import PDFTextDevice
from pdfminer.pdffont import PDFType3Font
from pdfminer.utils import apply_matrix_pt, mult_matrix

from torquary_ingest.openers.pdf.colours import read_colour
from torquary_ingest.openers.pdf.fonts import FontShelf, font_name
from torquary_ingest.openers.pdf.opacity import Look
from torquary_ingest.openers.pdf.paint import Bounds, Colour, Glyph, Image, Painting, Path, Wash, surround

Matrix = tuple[float, float, float, float, float, float]
Point = tuple[float, float]

_STROKED = (1, 2, 5, 6)
"""Text rendering modes that stroke the outlines (ISO 32000-1, table 106)."""

SMALLEST_EM, LARGEST_EM = 0.5, 2.0
"""Heights of the letters of a font in font sizes, from its lowest to its highest, that make its square an em."""

_PALE = 0.3
"""Text with less opacity may not show."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pen:
    """What the glyphs of one show operator share: `near`, `far` bound vertical text, `low`, `high` other text."""

    font: str
    key: int
    vertical: bool
    near: float
    far: float
    low: float
    high: float
    size: float
    turn: int
    spacing: float
    colour: Colour | None
    alpha: float
    stroke: float
    unsure: bool


class Canvas(PDFTextDevice):
    """Records glyphs, paths and pictures of one page into a `Painting`."""

    def __init__(self, shelf: FontShelf, painting: Painting) -> None:
        super().__init__(shelf)
        self._shelf = shelf
        self.painting = painting
        self.look = Look(clip=painting.bounds)
        self._order = 0
        self._run = 0
        self._spacing = 0.0
        self._render = 0
        self._pen: _Pen | None = None

    def _next(self) -> int:
        self._order += 1
        return self._order

    def render_string(self, textstate: Any, seq: Any, ncs: Any, graphicstate: Any) -> None:
        """Record one show operator. The text state is the parser's own."""
        self._run += 1
        self._spacing = textstate.charspace * textstate.scaling * 0.01
        self._render = textstate.render
        self._pen = None
        super().render_string(textstate, seq, ncs, graphicstate)

    def render_char(
        self,
        matrix: Any,
        font: Any,
        fontsize: float,
        scaling: float,
        rise: float,
        cid: int,
        ncs: Any,
        graphicstate: Any,
    ) -> float:
        """Record one glyph; return how far the pen moves, in text space."""
        text, width = self._shelf.read(font, cid)
        advance = width * fontsize * scaling
        pen = self._pen
        if pen is None:
            pen = self._pen = self._take_pen(matrix, font, fontsize, graphicstate)
        a, b, c, d, e, f = matrix
        near, far = (pen.near, pen.far) if pen.vertical else (0.0, advance)
        low, high = (rise, advance + rise) if pen.vertical else (pen.low + rise, pen.high + rise)
        one, other = (a * near + c * low + e, b * near + d * low + f), (a * far + c * high + e, b * far + d * high + f)
        if b or c:  # not upright: the box goes round all four corners
            two = (a * near + c * high + e, b * near + d * high + f)
            three = (a * far + c * low + e, b * far + d * low + f)
            box = surround([one, two, three, other])
        else:
            box = _between(one, other)
        moved, raised = (0.0, advance + rise) if pen.vertical else (advance, rise)
        self._order += 1
        self.painting.glyphs.append(
            Glyph(
                text,
                a * 0.0 + c * rise + e,
                b * 0.0 + d * rise + f,
                a * moved + c * raised + e,
                b * moved + d * raised + f,
                pen.spacing,
                box,
                pen.size,
                pen.turn,
                self._run,
                self._order,
                pen.font,
                pen.key,
                cid,
                pen.colour,
                pen.alpha,
                self._render,
                self.look.clip,
                self.look.shown,
                pen.stroke,
                pen.unsure,
            )
        )
        return advance

    def _take_pen(self, matrix: Any, font: Any, fontsize: float, graphicstate: Any) -> _Pen:
        """Return what the glyphs of one show operator share; only their places and characters differ."""
        self.painting.fonts.setdefault(id(font), font)
        stroked = self._render in (1, 5)
        colour, space = (graphicstate.scolor, graphicstate.scs) if stroked else (graphicstate.ncolor, graphicstate.ncs)
        alpha = self.look.stroke_alpha if stroked else self.look.fill_alpha
        vertical = font.is_vertical()
        low, high = (0.0, 0.0) if vertical else _reach_up(font, fontsize)
        return _Pen(
            font=font_name(font),
            key=id(font),
            vertical=vertical,
            near=-fontsize / 2,
            far=fontsize / 2,
            low=low,
            high=high,
            size=_point_size(font, fontsize, matrix),
            turn=_turn_of(matrix, fontsize, vertical),
            spacing=self._spacing * math.hypot(matrix[0], matrix[1]),
            colour=read_colour(colour, str(getattr(space, "name", ""))),
            alpha=alpha,
            stroke=self._half_width(graphicstate.linewidth) if self._render in _STROKED else 0.0,
            unsure=self.look.mixes or alpha < _PALE,
        )

    def _half_width(self, width: float) -> float:
        """Return half of a line's width, in points of the page; the parser says 0 for the width of 1 at the start."""
        assert self.ctm is not None
        a, b, c, d = self.ctm[:4]
        return 0.5 * float(width or 1) * math.sqrt(abs(a * d - b * c))

    def paint_path(self, graphicstate: Any, stroke: bool, fill: bool, evenodd: bool, path: Sequence[Any]) -> None:
        """Record every subpath of a painted path."""
        fills = read_colour(graphicstate.ncolor, str(getattr(graphicstate.ncs, "name", "")))
        strokes = read_colour(graphicstate.scolor, str(getattr(graphicstate.scs, "name", "")))
        order = self._next()
        for part in _split_path(path):
            self._record(part, graphicstate.linewidth, (stroke, strokes), (fill, fills), order)

    def _record(
        self,
        part: list[Any],
        width: float,
        stroke: tuple[bool, Colour | None],
        fill: tuple[bool, Colour | None],
        order: int,
    ) -> None:
        assert self.ctm is not None
        points: list[Point] = []
        for step in part:
            numbers = step[1:]
            points += [
                apply_matrix_pt(self.ctm, (float(x), float(y)))
                for x, y in zip(numbers[::2], numbers[1::2], strict=False)
            ]
        if not points:
            return
        straight = all(step[0] in "mlh" for step in part)
        self.painting.paths.append(
            Path(
                points=tuple(points),
                box=surround(points),
                rectangle=straight and _is_rectangle(points),
                straight=straight,
                closed=part[-1][0] == "h",
                stroked=stroke[0],
                filled=fill[0],
                stroke_colour=stroke[1],
                fill_colour=fill[1],
                stroke_alpha=self.look.stroke_alpha,
                fill_alpha=self.look.ground_alpha,
                width=width,
                clip=self.look.clip,
                order=order,
                shown=self.look.shown,
            )
        )

    def paint_shading(self) -> None:
        """Record a shading, which fills the clip."""
        if self.look.shown:
            self.painting.washes.append(Wash(self.look.clip, self._next()))

    def render_image(self, name: str, stream: Any) -> None:
        """Record a raster picture, which fills the unit square of the current space."""
        assert self.ctm is not None
        corners = [apply_matrix_pt(self.ctm, (x, y)) for x in (0.0, 1.0) for y in (0.0, 1.0)]
        self.painting.images.append(
            Image(
                box=surround(corners),
                clip=self.look.clip,
                order=self._next(),
                shown=self.look.shown and self.look.fill_alpha > 0.05,
                stencil=bool(stream.get_any(("IM", "ImageMask"))),
                clear=self.look.ground_alpha < 0.95 or "SMask" in stream or "Mask" in stream,
            )
        )


def _between(one: Point, other: Point) -> Bounds:
    (x0, y0), (x1, y1) = one, other
    left, right = (x0, x1) if x0 <= x1 else (x1, x0)
    return (left, y0, right, y1) if y0 <= y1 else (left, y1, right, y0)


def _reach_up(font: Any, fontsize: float) -> tuple[float, float]:
    """Return how far a glyph's box reaches below and above its origin, in text space."""
    fontsize *= _em(font)
    ascent, descent = font.get_ascent(), font.get_descent()
    ascent = ascent if 0.6 <= ascent <= 1.0 else 0.75
    descent = descent if -0.35 <= descent <= -0.1 else -0.22
    return descent * fontsize, ascent * fontsize


def _point_size(font: Any, fontsize: float, matrix: Matrix) -> float:
    return abs(fontsize) * math.hypot(matrix[2], matrix[3]) * _em(font)


def _em(font: Any) -> float:
    """Return how tall the square that letters are drawn in is, in font sizes.

    It is one, whatever units a font counts it in (1000, 2048 or 2816), unless a font made of drawings has no such
    square: then its letters' box says how tall it is.
    """
    tall = abs(font.get_ascent() - font.get_descent()) if isinstance(font, PDFType3Font) else 0.0
    return tall if tall and not SMALLEST_EM <= tall <= LARGEST_EM else 1.0


def _turn_of(matrix: Matrix, fontsize: float, vertical: bool) -> int:
    across, down = (-matrix[2], -matrix[3]) if vertical else (matrix[0], matrix[1])
    if fontsize < 0:
        across, down = -across, -down
    angle = math.degrees(math.atan2(down, across)) % 360
    nearest = round(angle / 90) * 90
    return nearest % 360 if abs(angle - nearest) <= 3 else -1


def _split_path(path: Sequence[Any]) -> list[list[Any]]:
    parts: list[list[Any]] = []
    for step in path:
        if step[0] == "m" or not parts:
            parts.append([])
        parts[-1].append(step)
    return [part for part in parts if part[0][0] == "m" and len(part) > 1]


def _is_rectangle(points: list[Point]) -> bool:
    if len(points) == 5 and _near(points[0], points[4]):
        points = points[:4]
    if len(points) != 4:
        return False
    one, two, three, four = points
    flat_first = abs(one[1] - two[1]) < 0.05 and abs(three[1] - four[1]) < 0.05
    upright_first = abs(one[0] - two[0]) < 0.05 and abs(three[0] - four[0]) < 0.05
    if flat_first:
        return abs(two[0] - three[0]) < 0.05 and abs(four[0] - one[0]) < 0.05
    return upright_first and abs(two[1] - three[1]) < 0.05 and abs(four[1] - one[1]) < 0.05


def _near(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) < 0.05 and abs(one[1] - other[1]) < 0.05


def form_bounds(box: Sequence[float], matrix: Matrix, current: Matrix) -> Bounds:
    """Return the clip that a form's own bounding box lays on the page."""
    whole = mult_matrix(matrix, current)
    x0, y0, x1, y1 = (float(number) for number in box)
    return surround([apply_matrix_pt(whole, (x, y)) for x in (x0, x1) for y in (y0, y1)])
