"""A sheet photographed from a little aside: its four corners are found and set square."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_LOOKING_SIDE = 800
_LEAST_SHARE = 0.3
"""Share of the picture that the sheet must take: a smaller bright area may be anything."""

_STEEPEST = 0.25
"""Opposite sides may differ by so much: beyond it figures would be stretched too far to be trusted."""

_SQUARE = 0.008
"""Shares of the picture's side by which corners may be off a rectangle that needs no work."""


def flatten(grey: NDArray[numpy.uint8]) -> NDArray[numpy.uint8] | None:
    """Return the sheet set square, or None where no sheet stands out from its ground, or it needs no work."""
    import cv2
    import numpy as np

    corners = _find_corners(grey)
    if corners is None:
        return None
    (a, b, c, d) = corners
    across = [float(np.linalg.norm(b - a)), float(np.linalg.norm(c - d))]
    down = [float(np.linalg.norm(d - a)), float(np.linalg.norm(c - b))]
    if any(min(pair) < (1 - _STEEPEST) * max(pair) for pair in (across, down)):
        return None
    wide, high = round(max(across)), round(max(down))
    target = np.array([(0, 0), (wide - 1, 0), (wide - 1, high - 1), (0, high - 1)], np.float32)
    matrix = cv2.getPerspectiveTransform(corners.astype(np.float32), target)
    return np.asarray(cv2.warpPerspective(grey, matrix, (wide, high), flags=cv2.INTER_CUBIC), dtype=np.uint8)


def _find_corners(grey: NDArray[numpy.uint8]) -> NDArray[numpy.float64] | None:
    """Return the sheet's corners (top left, top right, bottom right, bottom left) in pixels."""
    import cv2
    import numpy as np

    high, wide = grey.shape
    factor = min(1.0, _LOOKING_SIDE / max(high, wide))
    small = cv2.resize(grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    _, bright = cv2.threshold(cv2.GaussianBlur(small, (5, 5), 0), 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    closed = cv2.morphologyEx(bright, cv2.MORPH_CLOSE, np.ones((15, 15), np.uint8))
    outlines, _ = cv2.findContours(closed, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    largest = max(outlines, key=cv2.contourArea, default=None)
    if largest is None or cv2.contourArea(largest) < _LEAST_SHARE * small.size:
        return None
    hull = cv2.convexHull(largest)
    if cv2.contourArea(largest) < 0.95 * cv2.contourArea(hull):
        return None
    found = cv2.approxPolyDP(hull, 0.03 * cv2.arcLength(hull, True), True).reshape(-1, 2).astype(np.float64)
    if len(found) != 4 or cv2.contourArea(found.astype(np.float32)) < 0.97 * cv2.contourArea(hull):
        return None
    sums, steps = found.sum(axis=1), np.diff(found, axis=1).ravel()
    order = [int(sums.argmin()), int(steps.argmin()), int(sums.argmax()), int(steps.argmax())]
    corners = found[order]
    box = np.array([found.min(axis=0), found.max(axis=0)])
    (x0, y0), (x1, y1) = box
    square = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    if len(set(order)) < 4 or float(np.abs(corners - square).max()) <= _SQUARE * max(small.shape):
        return None
    return np.asarray(corners / factor, dtype=np.float64)
