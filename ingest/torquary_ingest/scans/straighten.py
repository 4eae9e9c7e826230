"""Straightens pictures: the small slant of a sheet on the glass, and quarter turns."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_Level = TypeVar("_Level", "numpy.uint8", "numpy.float32")

STEEPEST = 5.0
"""Degrees of slant that are looked for."""

_LOOKING_SIDE = 1000
_SMALLEST = 0.03


def level_ground(grey: NDArray[numpy.uint8]) -> NDArray[numpy.uint8]:
    """Return the picture with its ground made white: shadows and the tint of the paper divided out."""
    import cv2
    import numpy as np

    high, wide = grey.shape
    step = max(1, min(high, wide) // 400)
    small = cv2.resize(grey, (max(1, wide // step), max(1, high // step)), interpolation=cv2.INTER_AREA)
    ground = cv2.medianBlur(cv2.dilate(small, np.ones((9, 9), np.uint8)), 21)
    ground = cv2.resize(ground, (wide, high), interpolation=cv2.INTER_LINEAR)
    return np.asarray(cv2.divide(grey, np.maximum(ground, 60), scale=255), dtype=np.uint8)


def find_slant(grey: NDArray[numpy.uint8]) -> float:
    """Return the slant in degrees, positive clockwise: lines and rules of print share it. 0 if none shows.

    The straighter a page, the sharper the steps between its rows (and columns) of ink.
    """
    import cv2
    import numpy as np

    high, wide = grey.shape
    scale = min(1.0, _LOOKING_SIDE / max(high, wide))
    small = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    ink = (255 - small).astype(np.float32)
    ink[ink < 60] = 0
    if not ink.any():
        return 0.0
    best = 0.0
    for reach, step in ((STEEPEST, 0.5), (0.5, 0.1), (0.1, 0.02)):
        angles = np.arange(best - reach, best + reach + step / 2, step)
        best = float(max(angles, key=lambda angle: _sharpness(ink, float(angle))))
    return best if _SMALLEST < abs(best) <= STEEPEST else 0.0


def _sharpness(ink: NDArray[numpy.float32], angle: float) -> float:
    import numpy as np

    turned = rotate(ink, angle, ground=0)
    rows, columns = turned.sum(axis=1), turned.sum(axis=0)
    return float(np.square(np.diff(rows)).sum() + np.square(np.diff(columns)).sum())


def rotate(picture: NDArray[_Level], angle: float, *, ground: int = 255) -> NDArray[_Level]:
    """Return the picture turned back by a slant of `angle` degrees clockwise, its size kept."""
    import cv2
    import numpy as np

    high, wide = picture.shape
    matrix = cv2.getRotationMatrix2D((wide / 2, high / 2), angle, 1.0)
    turned = cv2.warpAffine(picture, matrix, (wide, high), flags=cv2.INTER_LINEAR, borderValue=float(ground))
    return np.asarray(turned, dtype=picture.dtype)
