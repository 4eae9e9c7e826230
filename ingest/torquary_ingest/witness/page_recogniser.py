"""The recogniser for whole pages: finds lines of text in a picture, reads them, and says how sure it is."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_FINDING_SIDE = 1280
"""Pixels of a page's longer side when lines are looked for: A4 at 109 dpi, type of 6 pt is 9 pixels high."""

_BATCH = 8


@dataclass(frozen=True, slots=True)
class SeenText:
    """A line as read: its text, and the recogniser's own certainty from 0 to 1."""

    text: str
    sure: float


class PageRecogniser(Protocol):
    """Finds and reads lines in pictures. Pictures are grey (0 black to 255 white), rows from the top."""

    def find(self, picture: NDArray[numpy.uint8], share: float = 1.0) -> list[tuple[int, int, int, int]]:
        """Return the boxes (x0, y0, x1, y1 in pixels, half open) of what looks like text, whichever way it lies.

        `share` is the part of its page's longer side that the picture is: it is looked at in the page's scale.
        """

    def read(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[SeenText]:
        """Return the text of each line picture, in the same order."""

    def stands_on_head(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[float]:
        """Return for each line how sure it is that the line stands on its head: -1 (upright) to 1."""


class RapidPageRecogniser:
    """rapidocr with onnxruntime; its models lie in the wheel, nothing is fetched."""

    def __init__(self, engine: Any) -> None:
        self._engine = engine

    def find(self, picture: NDArray[numpy.uint8], share: float = 1.0) -> list[tuple[int, int, int, int]]:
        """Return the boxes of what looks like text."""
        import cv2
        import numpy as np

        factor = min(1.0, share * _FINDING_SIDE / max(picture.shape))
        small = np.asarray(cv2.resize(picture, None, fx=factor, fy=factor), np.uint8) if share < 1 else picture
        # The loader is the library's only door to its detector that takes a picture and gives boxes alone.
        found = self._engine._load_det_model()(_in_colour(small)).boxes
        if found is None:
            return []
        high, wide = picture.shape
        corners = np.asarray(found) * (high / small.shape[0])
        lows = np.floor(corners.min(axis=1)).astype(int)
        highs = np.ceil(corners.max(axis=1)).astype(int)
        return [
            (max(x0, 0), max(y0, 0), min(x1, wide), min(y1, high))
            for (x0, y0), (x1, y1) in zip(lows.tolist(), highs.tolist(), strict=True)
            if x1 > x0 and y1 > y0
        ]

    def read(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[SeenText]:
        """Return the text of each line picture, in the same order."""
        if not lines:
            return []
        got = self._engine.recognize_txt([_in_colour(line) for line in lines])
        return [SeenText(str(text), float(sure)) for text, sure in zip(got.txts, got.scores, strict=True)]

    def stands_on_head(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[float]:
        """Return for each line how sure it is that the line stands on its head: -1 to 1."""
        if not lines:
            return []
        _, told = self._engine.cls_and_rotate([_in_colour(line) for line in lines])
        return [float(sure) * (1 if label == "180" else -1) for label, sure in told.cls_res]


def _in_colour(picture: NDArray[numpy.uint8]) -> NDArray[numpy.uint8]:
    import numpy as np

    return np.repeat(picture[:, :, None], 3, axis=2)


@functools.cache
def load_page_recogniser() -> PageRecogniser | None:
    """Return the recogniser for pages, loaded once a process, or None where the extra is not installed."""
    try:
        from rapidocr import RapidOCR
    except ImportError:
        return None
    wish = {
        "Global.log_level": "error",
        "EngineConfig.onnxruntime.intra_op_num_threads": 2,
        "EngineConfig.onnxruntime.inter_op_num_threads": 1,
        "Det.limit_side_len": _FINDING_SIDE,
        "Det.limit_type": "max",
        "Rec.rec_batch_num": _BATCH,
        "Rec.rec_img_shape": [3, 48, 96],
    }
    return RapidPageRecogniser(RapidOCR(params=wish))
