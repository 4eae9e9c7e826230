"""The second reader: rapidocr's recognition model, offline."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from typing import TYPE_CHECKING, Protocol

from torquary_ingest.witness.line_model import LineModel, find_line_model

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray


class Recogniser(Protocol):
    """Reads pictures of single lines."""

    def read(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[str]:
        """Return the text of each grey line picture, in the same order."""


class RapidRecogniser:
    """The recognition model that rapidocr's wheel carries; nothing is fetched."""

    def __init__(self, model: LineModel) -> None:
        self._model = model

    def read(self, lines: Sequence[NDArray[numpy.uint8]]) -> list[str]:
        """Return the text of each grey line picture, in the same order."""
        return [self._model.read(_framed(line)) for line in lines]


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
    """Return the recogniser, loaded once a process, or None where it is not installed."""
    path = find_line_model()
    return RapidRecogniser(LineModel(path)) if path is not None else None
