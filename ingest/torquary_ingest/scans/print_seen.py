"""Tells whether a picture may show print at all, before a recogniser is asked: a photograph rarely does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from torquary_ingest.scans.straighten import level_ground

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_LOOKING_SCALE = 2.0
"""Pixels a point: a figure of 5 pt is seven pixels high."""

_PALEST = 205
"""Grey level (255 is the ground) from which a mark counts: print of a fifth of the ground's lightness."""

_SMALLEST, _LARGEST = 2.5, 40.0
"""Points: heights of marks that may be letters."""

_WIDEST = 30.0
"""Heights: a whole line whose letters touch, as in a coarse scan, is no wider."""

_GAP, _UNEVEN, _ALIKE = 1.2, 0.12, 0.55
"""Heights: between marks of a line, between their feet; and the least share of the taller's height."""

_LEAST_MARKS = 6
"""Marks in rows of three or more from which a picture may hold a table: "2.5 N·m" has as many."""


def may_show_print(grey: NDArray[numpy.uint8], scale: float, least: int = _LEAST_MARKS) -> bool:
    """Tell whether at least a few marks of letter size stand in rows.

    `grey` has `scale` pixels a point, either way up; light print on a dark ground counts too. It would rather take
    a photograph for print than print for a photograph. `least` is how many marks; a row has three.
    """
    import cv2
    import numpy as np

    factor = min(1.0, _LOOKING_SCALE / scale)
    small = np.asarray(cv2.resize(grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA), dtype=np.uint8)
    return any(_count_in_rows(level_ground(seen), scale * factor) >= least for seen in (small, 255 - small))


def _count_in_rows(level: NDArray[numpy.uint8], scale: float) -> int:
    """Return how many marks stand in rows of at least three of about one height, across or down."""
    import cv2
    import numpy as np

    ink = np.where(level < _PALEST, 255, 0).astype(np.uint8)
    count, _, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    x, y, wide, high, area = (stats[1:count, at].astype(np.float64) for at in range(5))
    shortest, longest = np.minimum(wide, high), np.maximum(wide, high)
    fits = (longest >= _SMALLEST * scale) & (shortest <= _LARGEST * scale) & (longest <= _WIDEST * shortest)
    fits &= area >= max(3.0, scale)
    x, y, wide, high = x[fits], y[fits], wide[fits], high[fits]
    if len(x) < _LEAST_MARKS or len(x) > 20_000:
        return len(x)
    return max(_neighbours(x, y, wide, high), _neighbours(y, x, high, wide))


def _neighbours(
    x: NDArray[numpy.float64], y: NDArray[numpy.float64], wide: NDArray[numpy.float64], high: NDArray[numpy.float64]
) -> int:
    """Count the marks that have a fellow on the same line to the left and one to the right, or are such a fellow."""
    import numpy as np

    order = np.argsort(x, kind="stable")
    x, y, wide, high = x[order], y[order], wide[order], high[order]
    right = np.full(len(x), -1)
    for step in range(min(80, len(x) - 1), 0, -1):
        one, other = slice(None, -step), slice(step, None)
        tall, low = np.maximum(high[one], high[other]), np.minimum(high[one], high[other])
        near = x[other] - (x[one] + wide[one]) <= _GAP * tall
        apart = x[other] >= x[one] + 0.6 * wide[one]
        feet = np.abs(y[one] + high[one] - y[other] - high[other]) <= _UNEVEN * tall + 1
        fellow = near & apart & feet & (low >= _ALIKE * tall)
        right[one][fellow] = (np.arange(len(x))[other])[fellow]
    row = np.zeros(len(x), bool)
    for at in np.flatnonzero(right >= 0):
        after = right[right[at]]
        if after >= 0:
            row[[at, right[at], after]] = True
    return int(np.count_nonzero(row))
