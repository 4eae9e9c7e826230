"""Connected areas of ink in a small mask, in numpy alone."""

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
    import numpy as np

    labels = np.zeros(mask.shape, np.int32)
    if not mask.size or not mask.any():
        return labels, ()
    high, wide = mask.shape
    edged = np.zeros((high, wide + 2), np.int8)
    edged[:, 1:-1] = mask
    steps = np.diff(edged, axis=1)
    rows, starts = np.nonzero(steps == 1)
    ends = np.nonzero(steps == -1)[1]
    _, names = np.unique(_join_runs(rows, starts, ends, wide + 2), return_inverse=True)
    lengths = ends - starts
    before = np.cumsum(lengths) - lengths
    inked = np.repeat(rows * wide + starts - before, lengths) + np.arange(int(lengths.sum()))
    labels.reshape(-1)[inked] = np.repeat(names + 1, lengths)
    count = int(names.max()) + 1
    least, most = np.full((2, count), max(high, wide)), np.zeros((2, count), np.int64)
    for at, (low, top) in enumerate(((starts, ends), (rows, rows + 1))):
        np.minimum.at(least[at], names, low)
        np.maximum.at(most[at], names, top)
    areas = np.bincount(names, weights=lengths).astype(int)
    found = zip(areas.tolist(), *least.tolist(), *most.tolist(), strict=True)
    return labels, tuple(Blob(label, *extent) for label, extent in enumerate(found, start=1))


def _join_runs(
    rows: NDArray[numpy.int64], starts: NDArray[numpy.int64], ends: NDArray[numpy.int64], wide: int
) -> NDArray[numpy.int64]:
    """Give each horizontal run of ink the index of the first run that it hangs together with.

    Runs come row by row, left to right; `wide` is more than any end.
    """
    import numpy as np

    # The runs of the row above that touch a run, corners included, are neighbours: from `first` up to `last`.
    first = np.searchsorted(rows * wide + ends, (rows - 1) * wide + starts, "left")
    last = np.searchsorted(rows * wide + starts, (rows - 1) * wide + ends, "right")
    parent = list(range(len(rows)))

    def root(run: int) -> int:
        while parent[run] != run:
            parent[run] = parent[parent[run]]
            run = parent[run]
        return run

    for run, (low, high) in enumerate(zip(first.tolist(), last.tolist(), strict=True)):
        for above in range(low, high):
            one, other = root(above), root(run)
            parent[max(one, other)] = min(one, other)
    return np.array([root(run) for run in range(len(rows))], np.int64)
