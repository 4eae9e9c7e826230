"""The shape of one printed glyph, and how much two shapes are alike."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

ROWS, COLUMNS = 24, 16
INKED = 0.35
"""Darkness from which a pixel belongs to a glyph's extent."""
_ASPECT_WEIGHT = 0.30
_SMALL_EM = 0.33
_PAIR_EM = 0.45
"""Quotes that point sideways are as high as small letters, less than the smallest figures on the line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A glyph's ink stretched to a fixed grid, with its measures in ems (y upwards from the baseline).

    `grid` is a vector of ROWS x COLUMNS darkness values with mean 0 and length 1; `pieces` counts its
    separate areas of ink; `ink` is the covered share of its box.
    """

    grid: NDArray[numpy.float32]
    wide: float
    high: float
    low: float
    pieces: int
    ink: float

    @property
    def aspect(self) -> float:
        """Natural logarithm of width over height."""
        return math.log(max(self.wide, 1e-3) / max(self.high, 1e-3))

    @property
    def small(self) -> bool:
        """Tell whether this is a mark (dot, comma, dash), which its place tells better than its outline."""
        return self.high < _SMALL_EM


@dataclass(frozen=True, slots=True)
class Outline:
    """What a glyph's picture shows wherever it stands: its extent in pixels (half open), stretched to the grid.

    `wide` and `high` are in pixels, half covered ends counted as such.
    """

    top: int
    bottom: int
    left: int
    right: int
    grid: NDArray[numpy.float32]
    wide: float
    high: float
    ink: float


def draw_outline(dark: NDArray[numpy.float32]) -> Outline | None:
    """Return the outline of a darkness picture (0 to 1, upright), None where there is no ink.

    Renderers set a glyph's picture on whole pixels: the same one comes again and again, and is measured once.
    """
    return _draw_outline(dark.tobytes(), dark.shape[0])


@functools.lru_cache(maxsize=1024)
def _draw_outline(levels: bytes, rows_down: int) -> Outline | None:
    import numpy as np

    dark = np.frombuffer(levels, np.float32).reshape(rows_down, -1)
    inked = dark > INKED
    rows, columns = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
    if not rows.size:
        return None
    top, bottom, left, right = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
    body = dark[top:bottom, left:right]
    grid = (_resample(body.shape[0], ROWS) @ body @ _resample(body.shape[1], COLUMNS).T).ravel()
    grid = grid - grid.mean()
    length = float(np.linalg.norm(grid))
    grid = (grid / length if length > 0.3 else np.zeros_like(grid)).astype(np.float32)
    wide, high = _extent(body.max(axis=0)), _extent(body.max(axis=1))
    return Outline(top, bottom, left, right, grid, wide, high, float(body.mean()))


def make_shape(outline: Outline, *, em: float, baseline: float, pieces: int) -> Shape:
    """Make the shape of an outline. `em` and `baseline` (from its picture's top) in pixels."""
    return Shape(
        grid=outline.grid,
        wide=outline.wide / em,
        high=outline.high / em,
        low=(baseline - outline.bottom) / em,
        pieces=pieces,
        ink=outline.ink,
    )


def _extent(profile: NDArray[numpy.float32]) -> float:
    """Length in pixels of a profile whose ends may be half covered."""
    if profile.size <= 2:
        return float(max(profile.sum(), 0.5))
    return float(profile.size - 2 + min(profile[0], 1.0) + min(profile[-1], 1.0))


@functools.lru_cache(maxsize=512)
def _resample(size: int, count: int) -> NDArray[numpy.float32]:
    """Return the matrix that brings `size` rows to `count`, each the mean of what it covers.

    It blurs by one row each way as well, so that the weight and exact place of a stroke matter less.
    """
    import numpy as np

    edges = np.linspace(0, size, count + 1)
    starts, ends = edges[:-1, None], edges[1:, None]
    pixels = np.arange(size)[None, :]
    covered = (np.minimum(ends, pixels + 1) - np.maximum(starts, pixels)).clip(0, None) * (count / size)
    wide = np.vstack([covered[:1], covered, covered[-1:]])
    blurred: NDArray[numpy.float32] = (wide[:-2] * 0.25 + wide[1:-1] * 0.5 + wide[2:] * 0.25).astype(np.float32)
    return blurred


def compare_shapes(one: Shape, other: Shape) -> float:
    """Return how much two shapes are alike: 1 for the same picture, about 0 for unlike ones."""
    likeness = float(one.grid @ other.grid)
    if not one.grid.any() and not other.grid.any():
        likeness = 1.0  # two solid blocks
    return likeness - _ASPECT_WEIGHT * min(abs(one.aspect - other.aspect), 1.5)


def name_mark(shape: Shape) -> str:
    """Tell a mark from its measures: "." low dot, "…" three of them, "," comma, "-" dash, "·" raised dot, "l" upright.

    "" is none of them. Measures follow the common build of text faces: a point stands on the baseline and is about
    as wide as high, a comma hangs below it, a dash is wider than high and stands at half the height of a letter.
    """
    if shape.pieces == 1 and shape.ink >= 0.8 and shape.high >= 0.5 and shape.wide <= 0.3 * shape.high:
        return "l"
    if shape.pieces == 3 and shape.high <= 0.2 and abs(shape.low) <= 0.06 and 0.4 <= shape.wide <= 1.2:
        return "…"
    if shape.pieces != 1 or not shape.small:
        return ""
    middle = shape.low + shape.high / 2
    if shape.wide >= 1.9 * shape.high and shape.wide >= 0.16 and shape.high <= 0.2 and 0.1 <= middle <= 0.5:
        return "-"
    if shape.wide > 0.3 or shape.wide > 1.9 * shape.high:
        return ""
    if shape.low <= -0.07 and shape.high >= 0.12 and middle <= 0.1:
        return ","
    if abs(shape.low) <= 0.06 and 0.55 <= shape.wide / max(shape.high, 1e-3) <= 1.6:
        return "."
    return "·" if middle >= 0.2 and shape.low > 0.1 and shape.wide <= 1.7 * shape.high else ""


def is_pair(shape: Shape) -> bool:
    """Tell two small strokes side by side, raised or on the line: too low for figures, too slim for "="."""
    return shape.pieces == 2 and shape.high <= _PAIR_EM and 0.1 <= shape.wide <= 0.7 and shape.wide <= 1.7 * shape.high


def is_high_stroke(shape: Shape) -> bool:
    """Tell one small stroke at the height of capitals, not lying: an apostrophe, a prime, an accent."""
    high_up = shape.low >= 0.45 or (shape.low >= 0.35 and shape.high >= 1.4 * shape.wide)
    return shape.pieces == 1 and shape.small and high_up and shape.high >= 0.6 * shape.wide
