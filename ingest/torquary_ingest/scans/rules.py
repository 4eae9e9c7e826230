"""Rules found in a straightened picture: long thin runs of ink across or down."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from torquary_ingest.document import Rule

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_SHORTEST = 18.0
"""Points: no stroke of a letter at text size is so long."""

_THICKEST = 4.0
"""Points: what is thicker is a bar or a shade."""


def find_rules(ink: NDArray[numpy.uint8], scale: float) -> tuple[list[Rule], NDArray[numpy.uint8]]:
    """Return the rules in points, and a mask (255) of their pixels.

    `ink` is 255 where ink is, `scale` its pixels a point.
    """
    import numpy as np

    mask = np.zeros_like(ink)
    rules = [*_find(ink, scale, mask, across=True), *_find(ink, scale, mask, across=False)]
    return rules, mask


def _find(ink: NDArray[numpy.uint8], scale: float, mask: NDArray[numpy.uint8], *, across: bool) -> Iterator[Rule]:
    import cv2
    import numpy as np

    length = max(8, round(_SHORTEST * scale))
    kernel = np.ones((1, length) if across else (length, 1), np.uint8)
    # A rule that still slants by a pixel or two goes on in the next row: thicken it before it is measured.
    thick = cv2.dilate(ink, np.ones((3, 1) if across else (1, 3), np.uint8))
    runs = cv2.morphologyEx(thick, cv2.MORPH_OPEN, kernel)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(runs, connectivity=8)
    for number in range(1, count):
        left, top, wide, high, area = (int(value) for value in stats[number])
        long, deep = (wide, high) if across else (high, wide)
        mean = area / max(long, 1) - 2
        if long < length or mean > _THICKEST * scale or deep > _THICKEST * scale + 0.02 * long + 2:
            continue
        part = labels[top : top + high, left : left + wide] == number
        mask[top : top + high, left : left + wide][part] = 255
        lines = np.nonzero(part)[0 if across else 1]
        at = (top if across else left) + float(np.mean(lines)) + 0.5
        start = left if across else top
        yield Rule(
            horizontal=across,
            at=at / scale,
            start=start / scale,
            end=(start + long) / scale,
            thickness=max(mean, 1.0) / scale,
        )


def erase_rules(grey: NDArray[numpy.uint8], mask: NDArray[numpy.uint8]) -> NDArray[numpy.uint8]:
    """Return the picture with the rules painted over by the ground beside them, so that none is read as 1 or |."""
    import cv2
    import numpy as np

    ground = cv2.dilate(grey, np.ones((9, 9), np.uint8))
    return np.where(mask > 0, ground, grey).astype(np.uint8)
