"""Records a page as pdfplumber does, with what its objects lack: clip, opacity, layer, order of painting.

pdfplumber hangs the number of its marked content on each object that it records; in the same place what
was in force when it was painted is hung on it here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from pdfminer.pdffont import PDFType3Font
from pdfplumber.page import PDFPageAggregatorWithMarkedContent

from torquary_ingest.openers.pdf.colours import read_colour
from torquary_ingest.openers.pdf.fonts import FontShelf, font_name
from torquary_ingest.openers.pdf.opacity import Look
from torquary_ingest.openers.pdf.paint import Bounds, Colour, Matrix, Wash

_STROKED = (1, 2, 5, 6)
"""Text rendering modes that stroke the outlines (ISO 32000-1, table 106)."""

_STROKED_ALONE = (1, 5)
"""Those that stroke them and do not fill."""

_SMALLEST_EM, _LARGEST_EM = 0.5, 2.0
"""Heights of the letters of a font in font sizes, from its lowest to its highest, that make its square an em."""

_PALE = 0.3
"""Text with less opacity may not show."""

_ASCENTS, _USUAL_ASCENT = (0.6, 1.0), 0.75
_DESCENTS, _USUAL_DESCENT = (-0.35, -0.1), -0.22
"""Heights of letters above and below the line in ems: what a font says is believed within the bounds of usual
typefaces, else the usual height is taken (common practice)."""

_TURNED_BY = 3
"""Degrees by which a line of text may be off a quarter turn and still count as lying so."""


class Pen(NamedTuple):
    """What the glyphs of one show operator share; `run` numbers it.

    `near`, `far` bound vertical text, `low`, `high` other text, in text space from the origin.
    """

    run: int
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
    render: int
    stroke: float
    unsure: bool


class Added(NamedTuple):
    """What a page object of pdfplumber has besides its own: look and order of painting.

    A character has its pen, its code and its rise over the line, a path the names of its colour spaces.
    """

    look: Look
    order: int
    pen: Pen | None = None
    cid: int = 0
    rise: float = 0.0
    stroke_space: str = ""
    fill_space: str = ""


class Recorder(PDFPageAggregatorWithMarkedContent):
    """Records the objects of a page. `glyphs` counts its characters, `washes` are its shadings."""

    def __init__(self, shelf: FontShelf, number: int, window: Bounds) -> None:
        super().__init__(shelf, pageno=number)
        self.look = Look(clip=window)
        self.glyphs = 0
        self.washes: list[Wash] = []
        self._order = 0
        self._run = 0
        self._textstate: Any = None
        self._pen: Pen | None = None

    def _next(self) -> int:
        self._order += 1
        return self._order

    def begin_figure(self, name: str, bbox: Any, matrix: Any) -> None:
        """Begin a form or picture; the bounds of a form clip it (`ContentInterpreter`) and may be damaged."""
        super().begin_figure(name, bbox if _is_box(bbox) else (0, 0, 0, 0), matrix)

    def render_string(self, textstate: Any, seq: Any, ncs: Any, graphicstate: Any) -> None:
        """Record one show operator. The text state is the parser's own."""
        self._run += 1
        self._textstate = textstate
        self._pen = None
        super().render_string(textstate, seq, ncs, graphicstate)

    def render_char(self, matrix: Any, font: Any, fontsize: float, *rest: Any) -> float:
        """Record one glyph; return how far the pen moves, in text space."""
        _, rise, cid, _, graphicstate = rest
        if self._pen is None:
            self._pen = self._take_pen(matrix, font, fontsize, graphicstate)
        advance: float = super().render_char(matrix, font, fontsize, *rest)
        self.glyphs += 1
        self._mark_last(Added(self.look, self._next(), self._pen, cid, rise))
        return advance

    def _mark_last(self, added: Added) -> None:
        last: Any = self.cur_item._objs[-1]
        last.added = added

    def _take_pen(self, matrix: Matrix, font: Any, fontsize: float, graphicstate: Any) -> Pen:
        """Return what the glyphs of one show operator share; only their places and characters differ."""
        state = self._textstate
        if state.render in _STROKED_ALONE:
            colour, space, alpha = graphicstate.scolor, graphicstate.scs, self.look.stroke_alpha
        else:
            colour, space, alpha = graphicstate.ncolor, graphicstate.ncs, self.look.fill_alpha
        vertical = font.is_vertical()
        low, high = (0.0, 0.0) if vertical else _reach_up(font, fontsize)
        spacing = state.charspace * state.scaling * 0.01
        return Pen(
            run=self._run,
            font=font_name(font),
            key=id(font),
            vertical=vertical,
            near=-fontsize / 2,
            far=fontsize / 2,
            low=low,
            high=high,
            size=_point_size(font, fontsize, matrix),
            turn=_turn_of(matrix, fontsize, vertical),
            spacing=spacing * math.hypot(matrix[0], matrix[1]),
            colour=read_colour(colour, _name_of(space)),
            alpha=alpha,
            render=state.render,
            stroke=self._half_width(graphicstate.linewidth) if state.render in _STROKED else 0.0,
            unsure=self.look.mixes or alpha < _PALE,
        )

    def _half_width(self, width: float) -> float:
        """Return half of a line's width, in points of the page; the parser says 0 for the width of 1 at the start."""
        a, b, c, d = self.ctm[:4]
        return 0.5 * float(width or 1) * math.sqrt(abs(a * d - b * c))

    def paint_path(self, graphicstate: Any, stroke: bool, fill: bool, evenodd: bool, path: Sequence[Any]) -> None:
        """Record every subpath of a painted path."""
        order = self._next()
        before = len(self.cur_item)
        for part in _split_path(path):
            super().paint_path(graphicstate, stroke, fill, evenodd, part)
        added = Added(self.look, order, None, 0, 0.0, _name_of(graphicstate.scs), _name_of(graphicstate.ncs))
        painted: Any
        for painted in self.cur_item._objs[before:]:
            painted.added = added

    def paint_shading(self) -> None:
        """Note a shading, which fills the clip; pdfplumber has no such object."""
        if self.look.shown:
            self.washes.append(Wash(self.look.clip, self._next()))

    def render_image(self, name: str, stream: Any) -> None:
        """Record a raster picture, which fills the unit square of the current space."""
        super().render_image(name, stream)
        self._mark_last(Added(self.look, self._next()))


def _is_box(box: Any) -> bool:
    return len(box) == 4 and all(isinstance(side, int | float) for side in box)


def _name_of(space: Any) -> str:
    return str(getattr(space, "name", ""))


def _reach_up(font: Any, fontsize: float) -> tuple[float, float]:
    """Return how far a glyph's box reaches below and above its origin, in text space."""
    fontsize *= _em(font)
    ascent, descent = font.get_ascent(), font.get_descent()
    ascent = ascent if _ASCENTS[0] <= ascent <= _ASCENTS[1] else _USUAL_ASCENT
    descent = descent if _DESCENTS[0] <= descent <= _DESCENTS[1] else _USUAL_DESCENT
    return descent * fontsize, ascent * fontsize


def _point_size(font: Any, fontsize: float, matrix: Matrix) -> float:
    return abs(fontsize) * math.hypot(matrix[2], matrix[3]) * _em(font)


def _em(font: Any) -> float:
    """Return how tall the square that letters are drawn in is, in font sizes.

    It is one, whatever units a font counts it in (1000, 2048 or 2816), unless a font made of drawings has no such
    square: then its letters' box says how tall it is.
    """
    tall = abs(font.get_ascent() - font.get_descent()) if isinstance(font, PDFType3Font) else 0.0
    return tall if tall and not _SMALLEST_EM <= tall <= _LARGEST_EM else 1.0


def _turn_of(matrix: Matrix, fontsize: float, vertical: bool) -> int:
    across, down = (-matrix[2], -matrix[3]) if vertical else (matrix[0], matrix[1])
    if fontsize < 0:
        across, down = -across, -down
    angle = math.degrees(math.atan2(down, across)) % 360
    nearest = round(angle / 90) * 90
    return nearest % 360 if abs(angle - nearest) <= _TURNED_BY else -1


def _split_path(path: Sequence[Any]) -> list[Sequence[Any]]:
    """Part a path where it moves to a new point; what comes before the first, and a move alone, paints nothing."""
    starts = [at for at, step in enumerate(path) if step[0] == "m"]
    parts = [path[start:end] for start, end in pairwise([*starts, len(path)])]
    return [part for part in parts if len(part) > 1]
