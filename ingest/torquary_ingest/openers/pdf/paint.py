"""What a content stream paints, one value per mark, in the order of painting.

All coordinates are points on the page as a reader sees it: origin top left, y downwards.
Named tuples, because a page makes thousands of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

Bounds = tuple[float, float, float, float]
"""x0, top, x1, bottom."""

Colour = tuple[float, float, float]
"""Red, green, blue from 0 to 1."""

Matrix = tuple[float, float, float, float, float, float]
"""From one space to another, as PDF files write it (ISO 32000-1, 8.3.3)."""

Point = tuple[float, float]


class Glyph(NamedTuple):
    """One glyph. `x`, `y` is its origin on the baseline, `end_x`, `end_y` where its advance ends;
    the next one is due `spacing` points further on.

    `turn` is 0, 90, 180 or 270 degrees clockwise, or -1 for any other angle. `run` numbers the show operator
    that drew it. `colour` None: not known (a pattern). `render` is the text rendering mode of the file; `stroke`
    is how far a stroked outline reaches beyond itself. `unsure`: masked, blended or pale, so that it may not show.
    """

    text: str
    x: float
    y: float
    end_x: float
    end_y: float
    spacing: float
    box: Bounds
    size: float
    turn: int
    run: int
    order: int
    font: str
    font_key: int
    cid: int
    colour: Colour | None
    alpha: float
    render: int
    clip: Bounds
    shown: bool
    stroke: float = 0.0
    unsure: bool = False


class Path(NamedTuple):
    """One subpath, painted. `points` are its corners (curves give their end and control points).

    `rectangle` says that it is an axis-parallel rectangle; `straight` that it has no curves.
    """

    points: tuple[Point, ...]
    box: Bounds
    rectangle: bool
    straight: bool
    closed: bool
    stroked: bool
    filled: bool
    stroke_colour: Colour | None
    fill_colour: Colour | None
    stroke_alpha: float
    fill_alpha: float
    width: float
    clip: Bounds
    order: int
    shown: bool


class Image(NamedTuple):
    """A raster picture; `stencil`: a mask painted in one colour; `clear`: parts of it may be transparent."""

    box: Bounds
    clip: Bounds
    order: int
    shown: bool
    stencil: bool
    clear: bool


class Wash(NamedTuple):
    """An area of which the content alone does not tell what shows on it and through it: a shading, a mixed colour."""

    box: Bounds
    order: int


@dataclass(slots=True, kw_only=True)
class Painting:
    """Everything one page paints."""

    width: float
    height: float
    glyphs: list[Glyph] = field(default_factory=list)
    paths: list[Path] = field(default_factory=list)
    images: list[Image] = field(default_factory=list)
    washes: list[Wash] = field(default_factory=list)

    @property
    def bounds(self) -> Bounds:
        """The visible page."""
        return (0.0, 0.0, self.width, self.height)


def meet(first: Bounds, second: Bounds) -> Bounds:
    """Return what two rectangles have in common; empty ones come out with no width or height."""
    x0, top = max(first[0], second[0]), max(first[1], second[1])
    return (x0, top, max(x0, min(first[2], second[2])), max(top, min(first[3], second[3])))


def surround(points: Sequence[Point]) -> Bounds:
    """Return the rectangle round the points."""
    xs = [point[0] for point in points]
    ys = [point[1] for point in points]
    return (min(xs), min(ys), max(xs), max(ys))


def shared_part(box: Bounds, other: Bounds) -> float:
    """Return which part of `box`'s area lies in `other`, 0 to 1."""
    width, height = box[2] - box[0], box[3] - box[1]
    if width <= 0 or height <= 0:
        return 0.0
    common = meet(box, other)
    return (common[2] - common[0]) * (common[3] - common[1]) / (width * height)
