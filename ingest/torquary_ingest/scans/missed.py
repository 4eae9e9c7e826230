"""Ink of the size of letters that no reading accounts for: a line that was not found is said, not lost."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from torquary_ingest.scans.pieces import Piece

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_SMALLEST, _LARGEST = 0.5, 1.8
"""Shares of the usual height of what was read: less is a speck or a point, more a drawing."""

_WIDEST = 3.0
"""Shares of a mark's height: letters that touch are no wider."""

_SOLID = 0.9
"""Share of its box that a mark wider than a stroke fills: a block, and no letter."""

_BESIDE = 0.3
"""Shares of a piece's height by which it reaches around its ink."""


def count_missed(ink: NDArray[numpy.uint8], read: Sequence[Piece]) -> int:
    """Return how many marks of letter size stand outside what was read; `ink` is 255 where ink is, without rules."""
    import cv2
    import numpy as np

    if not read:
        return 0
    rest = ink.copy()
    for piece in read:
        reach = max(2, round(_BESIDE * (piece.y1 - piece.y0)))
        rest[max(piece.y0 - reach, 0) : piece.y1 + reach, max(piece.x0 - reach, 0) : piece.x1 + reach] = 0
    usual = float(np.median([piece.y1 - piece.y0 for piece in read]))
    count, _, stats, _ = cv2.connectedComponentsWithStats(rest, connectivity=8)
    wide, high, area = (stats[1:count, at] for at in (cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT, cv2.CC_STAT_AREA))
    fits = (high >= _SMALLEST * usual) & (high <= _LARGEST * usual) & (wide <= _WIDEST * high)
    fits &= (area < _SOLID * wide * high) | (2 * wide < high)
    return int(np.count_nonzero(fits))
