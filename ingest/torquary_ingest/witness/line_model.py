"""A model that reads pictures of single lines, run by onnxruntime without the library that carries it.

rapidocr's wheel holds the model; importing rapidocr itself takes ten times as long as loading the model, needs
opencv, and would fetch a missing file from the network. Here nothing is fetched: no file, no model.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

HEIGHT = 48
"""Pixels from top to bottom of a line as the model was taught."""

_NARROWEST, _WIDEST = 2 * HEIGHT, 60 * HEIGHT
_BLANK = 0


class LineModel:
    """A recognition model whose file names its characters (metadata `character`, one a line).

    One thread: the sheets are read several at once, and a pool of threads costs more than it gives here.
    """

    def __init__(self, path: Path) -> None:
        import onnxruntime

        wish = onnxruntime.SessionOptions()
        wish.intra_op_num_threads = wish.inter_op_num_threads = 1
        wish.log_severity_level = 4
        # Optimising the graph takes longer than it saves in a sheet's few lines.
        wish.graph_optimization_level = onnxruntime.GraphOptimizationLevel.ORT_DISABLE_ALL
        self._session: Any = onnxruntime.InferenceSession(str(path), wish, providers=["CPUExecutionProvider"])
        self._input = self._session.get_inputs()[0].name
        characters = self._session.get_modelmeta().custom_metadata_map["character"].splitlines()
        self._characters = ("", *characters, " ")

    def read(self, line: NDArray[numpy.uint8]) -> str:
        """Return the text of a grey line picture, dark on light."""
        import numpy as np

        picture = fit_height(line)
        wide = min(max(picture.shape[1], _NARROWEST), _WIDEST)
        taken = np.zeros((1, 3, HEIGHT, wide), np.float32)
        taken[:, :, :, : picture.shape[1]] = (picture[:, :wide] / 255 - 0.5) / 0.5
        (chances,) = self._session.run(None, {self._input: taken})
        return "".join(self._spell(chances[0].argmax(axis=1).tolist()))

    def _spell(self, best: list[int]) -> Iterator[str]:
        """Yield a character for each change of the likeliest one from place to place along the line."""
        for before, now in zip([_BLANK, *best], best, strict=False):
            if now not in (_BLANK, before):
                yield self._characters[now]


def fit_height(line: NDArray[numpy.uint8]) -> NDArray[numpy.float32]:
    """Bring a picture to `HEIGHT` rows, its width in proportion, by linear interpolation."""
    import numpy as np

    coarse = line.astype(np.float32)
    fold = coarse.shape[0] // HEIGHT
    if fold > 1:
        high, wide = coarse.shape[0] // fold, max(coarse.shape[1] // fold, 1)
        coarse = coarse[: high * fold, : wide * fold].reshape(high, fold, wide, -1).mean(axis=(1, 3))
    wide = max(1, -(-coarse.shape[1] * HEIGHT // coarse.shape[0]))
    return _stretch(_stretch(coarse, HEIGHT).T, wide).T


def _stretch(picture: NDArray[numpy.float32], count: int) -> NDArray[numpy.float32]:
    """Bring the rows of a picture to `count`."""
    import numpy as np

    at = ((np.arange(count) + 0.5) * picture.shape[0] / count - 0.5).clip(0, picture.shape[0] - 1)
    below = np.floor(at).astype(int)
    share = (at - below).astype(np.float32)[:, None]
    above = (below + 1).clip(max=picture.shape[0] - 1)
    stretched: NDArray[numpy.float32] = picture[below] * (1 - share) + picture[above] * share
    return stretched


def find_line_model() -> Path | None:
    """Return the file of the recognition model in the installed rapidocr, or None; imports nothing of it."""
    if importlib.util.find_spec("onnxruntime") is None:
        return None
    spec = importlib.util.find_spec("rapidocr")
    for folder in (spec.submodule_search_locations or ()) if spec is not None else ():
        found = sorted(Path(folder, "models").glob("*_rec_*.onnx"))
        if found:
            return found[-1]
    return None
