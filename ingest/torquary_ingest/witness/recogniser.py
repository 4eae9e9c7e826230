"""The second reader: rapidocr's recognition model, offline, in batches (extra `witness`)."""

from __future__ import annotations

import functools
import re
import unicodedata
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Protocol

from torquary_ingest.witness.faces import DASHES

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


_HABITS = (
    ("½", "1/2"), ("¼", "1/4"), ("¾", "3/4"), ("⅓", "1/3"), ("⅔", "2/3"),
    ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8"), ("⅞", "7/8"), ("\u2044", "/"),
    ("…", "..."), ("²", "2"), ("³", "3"), ("−", "-"), ("～", "~"), ("≦", "≤"), ("≧", "≥"),
    ("″", '"'), ("”", '"'), ("“", '"'), ("''", '"'), ("’", "'"), ("‘", "'"), ("×", "x"), ("·", "·"),
    ("，", ","), ("。", "."), ("：", ":"), ("（", "("), ("）", ")"),
)  # fmt: skip


def fold_reading(text: str) -> str:
    """Fold a reading to what two honest readers of one picture agree on: no blanks, one form of each mark.

    Digits, points, commas, dashes between figures and comparison signs are kept apart; letter case is not,
    nor are the letters that many faces draw alike, and marks between letters ("N·m", "N.m") are dropped.
    """
    for old, new in _HABITS:
        text = text.replace(old, new)
    text = unicodedata.normalize("NFKC", text)
    text = "".join(c for c in text if not c.isspace() and c not in "\u00ad\u200b丨")
    text = re.sub(f"[{re.escape(DASHES)}ー一]", "-", text)
    text = re.sub("[·∙⋅•‧・˙]", "·", text)
    text = re.sub(r"(?<=[a-zA-Zµ])[.·\-](?=[a-zA-Z]|$)", "", text)
    text = text.casefold().replace("÷", "+").replace("μ", "µ")
    # "lb" is read as "Ib": letters beside letters only, never beside a figure.
    text = re.sub(r"[il|](?=[a-z])", "l", text)
    return re.sub(r"(?<=[a-z])[il|]", "l", text)


def agree(live: str, seen: str) -> bool:
    """Tell whether the text layer's reading of a line and the recogniser's are the same."""
    return fold_reading(live) == fold_reading(seen)
