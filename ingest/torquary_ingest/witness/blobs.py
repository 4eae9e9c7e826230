"""Connected areas of ink in a small mask, in numpy alone."""

from __future__ import annotations

import itertools
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
    roots = _join_runs(rows.tolist(), starts.tolist(), ends.tolist(), high)
    _, names = np.unique(np.asarray(roots), return_inverse=True)
    for row, start, end, name in zip(rows.tolist(), starts.tolist(), ends.tolist(), names.tolist(), strict=True):
        labels[row, start:end] = name + 1
    extents: dict[int, list[int]] = {}
    for row, start, end, name in zip(rows.tolist(), starts.tolist(), ends.tolist(), names.tolist(), strict=True):
        extent = extents.setdefault(name + 1, [0, start, row, end, row + 1])
        extent[0] += end - start
        extent[1] = min(extent[1], start)
        extent[3] = max(extent[3], end)
        extent[4] = row + 1
    return labels, tuple(Blob(label, *extent) for label, extent in sorted(extents.items()))


def _join_runs(rows: list[int], starts: list[int], ends: list[int], high: int) -> list[int]:
    """Give each horizontal run of ink the index of the first run that it hangs together with."""
    parent = list(range(len(rows)))

    def root(run: int) -> int:
        while parent[run] != run:
            parent[run] = parent[parent[run]]
            run = parent[run]
        return run

    of_row: list[list[int]] = [[] for _ in range(high)]
    for run, row in enumerate(rows):
        of_row[row].append(run)
    for above, below in itertools.pairwise(of_row):
        first = 0
        for run in below:
            while first < len(above) and ends[above[first]] < starts[run]:
                first += 1
            at = first
            while at < len(above) and starts[above[at]] <= ends[run]:
                one, other = root(above[at]), root(run)
                parent[max(one, other)] = min(one, other)
                at += 1
    return [root(run) for run in range(len(rows))]
