"""The second reader: rapidocr's recognition model, offline, in batches (extra `witness`)."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_HEIGHT = 48
_BATCH = 8


class Recogniser(Protocol):
    """Reads pictures of single lines."""

    def read(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[str]:
        """Return the text of each grey line picture, in the same order."""


class RapidRecogniser:
    """rapidocr with onnxruntime; its models lie in the wheel, nothing is fetched."""

    def __init__(self, engine: Any) -> None:
        self._engine = engine

    def read(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[str]:
        """Return the text of each grey line picture, in the same order."""
        import numpy as np

        if not lines:
            return []
        pictures = [np.repeat(_framed(line)[:, :, None], 3, axis=2) for line in lines]
        return [str(text) for text in self._engine.recognize_txt(pictures).txts or ()]


def _framed(line: NDArray[numpy.uint8]) -> NDArray[numpy.uint8]:
    """Set a line dark on light, with a little ground round it, as the model was taught."""
    import numpy as np

    border = np.concatenate([line[0], line[-1], line[:, 0], line[:, -1]])
    ground = int(np.median(border))
    picture = 255 - line if ground < 128 else line
    pad = max(3, line.shape[0] // 8)
    return np.pad(picture, ((pad, pad), (2 * pad, 2 * pad)), constant_values=max(ground, 255 - ground))


@functools.cache
def load_recogniser() -> Recogniser | None:
    """Return the recogniser, loaded once a process, or None where the extra is not installed."""
    try:
        from rapidocr import RapidOCR
    except ImportError:
        return None
    wish = {
        "Global.log_level": "error",
        "Global.use_det": False,
        "Global.use_cls": False,
        "EngineConfig.onnxruntime.intra_op_num_threads": 2,
        "EngineConfig.onnxruntime.inter_op_num_threads": 1,
        "Rec.rec_batch_num": _BATCH,
        "Rec.rec_img_shape": [3, _HEIGHT, 2 * _HEIGHT],
    }
    return RapidRecogniser(RapidOCR(params=wish))
