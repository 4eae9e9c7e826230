"""The shape of one printed glyph, and how much two shapes are alike."""

from __future__ import annotations

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


def make_shape(
    dark: NDArray[numpy.float32], *, em: float, baseline: float, pieces: int
) -> Shape | None:
    """Make the shape of a darkness picture (0 to 1, upright). `em` and `baseline` (from its top) in pixels.

    Returns None where there is no ink.
    """
    import numpy as np

    inked = dark > INKED
    rows, columns = np.flatnonzero(inked.any(axis=1)), np.flatnonzero(inked.any(axis=0))
    if not rows.size:
        return None
    top, bottom, left, right = int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
    body = dark[top:bottom, left:right]
    grid = _stretch(_stretch(body, ROWS).T, COLUMNS).T
    grid = _soften(grid).ravel()
    grid = grid - grid.mean()
    length = float(np.linalg.norm(grid))
    grid = grid / length if length > 0.3 else np.zeros_like(grid)
    return Shape(
        grid=grid.astype(np.float32),
        wide=_extent(body.max(axis=0)) / em,
        high=_extent(body.max(axis=1)) / em,
        low=(baseline - bottom) / em,
        pieces=pieces,
        ink=float(body.mean()),
    )


def _extent(profile: NDArray[numpy.float32]) -> float:
    """Length in pixels of a profile whose ends may be half covered."""
    if profile.size <= 2:
        return float(max(profile.sum(), 0.5))
    return float(profile.size - 2 + min(profile[0], 1.0) + min(profile[-1], 1.0))


def _stretch(rows: NDArray[numpy.float32], count: int) -> NDArray[numpy.float32]:
    """Resample the rows of a picture to `count`, each the mean of what it covers."""
    import numpy as np

    total = np.vstack([np.zeros((1, rows.shape[1]), np.float32), np.cumsum(rows, axis=0, dtype=np.float32)])
    edges = np.linspace(0, rows.shape[0], count + 1)
    whole = np.minimum(edges.astype(int), rows.shape[0] - 1)
    part = (edges - whole)[:, None].astype(np.float32)
    at_edges = total[whole] * (1 - part) + total[whole + 1] * part
    resampled: NDArray[numpy.float32] = (np.diff(at_edges, axis=0) * (count / rows.shape[0])).astype(np.float32)
    return resampled


def _soften(grid: NDArray[numpy.float32]) -> NDArray[numpy.float32]:
    """Blur by one cell each way, so that the weight and the exact place of a stroke matter less."""
    import numpy as np

    for axis in (0, 1):
        wide = np.pad(grid, [(1, 1) if axis == side else (0, 0) for side in (0, 1)], mode="edge")
        parts = [np.take(wide, range(at, at + grid.shape[axis]), axis=axis) for at in range(3)]
        grid = parts[0] * 0.25 + parts[1] * 0.5 + parts[2] * 0.25
    return grid.astype(np.float32)


def compare_shapes(one: Shape, other: Shape) -> float:
    """Return how much two shapes are alike: 1 for the same picture, about 0 for unlike ones."""
    likeness = float(one.grid @ other.grid)
    if not one.grid.any() and not other.grid.any():
        likeness = 1.0  # two solid blocks
    return likeness - _ASPECT_WEIGHT * min(abs(one.aspect - other.aspect), 1.5)


def name_mark(shape: Shape) -> str:
    """Tell a mark from its measures: "." low dot, "," comma, "-" dash, "·" raised dot, "l" upright; "" none.

    Measures follow the common build of text faces: a point stands on the baseline and is about as wide as
    high, a comma hangs below it, a dash is wider than high and stands at half the height of a letter.
    """
    if shape.pieces == 1 and shape.ink >= 0.8 and shape.high >= 0.5 and shape.wide <= 0.3 * shape.high:
        return "l"
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
