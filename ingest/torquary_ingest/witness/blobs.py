"""Connected areas of ink in a small mask."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Blob:
    """One area of ink: its label in the label picture, pixel count and extent (half open, in pixels)."""

    label: int
    area: int
    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def wide(self) -> int:
        """Width in pixels."""
        return self.x1 - self.x0

    @property
    def high(self) -> int:
        """Height in pixels."""
        return self.y1 - self.y0


def label_blobs(mask: NDArray[numpy.bool_]) -> tuple[NDArray[numpy.int32], tuple[Blob, ...]]:
    """Return a picture of labels (0 is ground) and its blobs; pixels that touch by a corner are one blob."""
    import cv2
    import numpy as np

    if not mask.size:
        return np.zeros(mask.shape, np.int32), ()
    _, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=8)
    found = enumerate(stats.tolist()[1:], start=1)
    blobs = tuple(Blob(label, area, x, y, x + wide, y + high) for label, (x, y, wide, high, area) in found)
    return np.asarray(labels, np.int32), blobs
