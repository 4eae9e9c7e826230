"""Lines of print cut into pieces: what stands together between wide blanks and upright rules."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_WIDE = 0.9
"""Share of the ink's height: a wider blank parts two pieces. A word space is about 0.4 of it."""

_FAINTEST = 40
"""Grey levels between ground and ink: less is no print."""


@dataclass(frozen=True, slots=True)
class Run:
    """Ink between two blank columns, in pixels (half open)."""

    x0: int
    y0: int
    x1: int
    y1: int


@dataclass(frozen=True, slots=True)
class Piece:
    """Print that stands together, in pixels of the straightened picture (half open box of its ink).

    `runs` are the inked stretches between its blank columns, left to right, mostly a letter each; `line` is the
    height of the line that it was found in; `dark_ground` tells light letters on a dark ground.
    """

    x0: int
    y0: int
    x1: int
    y1: int
    line: int
    runs: tuple[Run, ...]
    dark_ground: bool


def cut_pieces(
    grey: NDArray[numpy.uint8],
    boxes: Iterable[tuple[int, int, int, int]],
    uprights: Sequence[tuple[float, float, float]],
) -> list[Piece]:
    """Return the pieces in the boxes of text; `uprights` are vertical rules as (x, top, bottom) in pixels."""
    pieces: list[Piece] = []
    for x0, y0, x1, y1 in boxes:
        crossing = [x - x0 for x, top, bottom in uprights if x0 < x < x1 and top < (y0 + y1) / 2 < bottom]
        pieces += _cut(grey[y0:y1, x0:x1], x0, y0, crossing)
    return _drop_doubles(pieces)


def _cut(part: NDArray[numpy.uint8], left: int, top: int, crossing: Sequence[float]) -> Iterator[Piece]:
    ink, dark_ground = _find_ink(part)
    rows = _main_rows(ink.any(axis=1))
    if rows is None:
        return
    ink = ink[rows[0] : rows[1]]
    runs = _runs(ink.any(axis=0))
    wide = _WIDE * max(rows[1] - rows[0], 0.4 * part.shape[0])
    start = 0
    for at in range(1, len(runs) + 1):
        if at < len(runs):
            gap = (runs[at - 1][1], runs[at][0])
            ruled = any(gap[0] - 2 <= x <= gap[1] + 2 for x in crossing)
            if gap[1] - gap[0] <= wide and not ruled:
                continue
        mine = runs[start:at]
        start = at
        inked = [_make_run(ink, one, left, top + rows[0]) for one in mine]
        yield Piece(
            inked[0].x0,
            min(run.y0 for run in inked),
            inked[-1].x1,
            max(run.y1 for run in inked),
            part.shape[0],
            tuple(inked),
            dark_ground,
        )


def _make_run(ink: Any, columns: tuple[int, int], left: int, top: int) -> Run:
    import numpy as np

    rows = np.flatnonzero(ink[:, columns[0] : columns[1]].any(axis=1))
    return Run(left + columns[0], top + int(rows[0]), left + columns[1], top + int(rows[-1]) + 1)


def _find_ink(part: NDArray[numpy.uint8]) -> tuple[NDArray[numpy.bool_], bool]:
    """Return where the ink is, and whether the ground is the darker of the two."""
    import numpy as np

    ground = float(np.median(part))
    dark, light = (float(level) for level in np.percentile(part, (1, 99)))
    if max(ground - dark, light - ground) < _FAINTEST:
        return np.zeros(part.shape, dtype=np.bool_), False
    if light - ground > ground - dark:
        return part > (ground + light) / 2, True
    return part < (ground + dark) / 2, False


def _main_rows(inked: Any) -> tuple[int, int] | None:
    """Return the rows from first to last that belong to the line; what peeps in from a neighbour is left out."""
    runs = _runs(inked)
    if not runs:
        return None
    most = max(end - start for start, end in runs)
    kept = [(start, end) for start, end in runs if end - start == most or (start > 0 and end < len(inked))]
    return kept[0][0], kept[-1][1]


def _runs(flags: Any) -> list[tuple[int, int]]:
    """Return start and end (half open) of each run of True."""
    import numpy as np

    edges = np.flatnonzero(np.diff(np.concatenate([[0], flags.astype(np.int8), [0]])))
    return list(zip(edges[0::2].tolist(), edges[1::2].tolist(), strict=True))


def _drop_doubles(pieces: Sequence[Piece]) -> list[Piece]:
    """Leave out a piece that lies in another: boxes of text may overlap."""
    kept: list[Piece] = []
    for piece in sorted(pieces, key=lambda p: (p.x0 - p.x1) * (p.y1 - p.y0)):
        if not any(_share(piece, other) > 0.6 for other in kept):
            kept.append(piece)
    return sorted(kept, key=lambda p: (p.y0, p.x0))


def _share(inner: Piece, outer: Piece) -> float:
    wide = min(inner.x1, outer.x1) - max(inner.x0, outer.x0)
    high = min(inner.y1, outer.y1) - max(inner.y0, outer.y0)
    return max(wide, 0) * max(high, 0) / max((inner.x1 - inner.x0) * (inner.y1 - inner.y0), 1)


def picture_of(grey: NDArray[numpy.uint8], piece: Piece) -> NDArray[numpy.uint8]:
    """Return the picture of a piece, dark on light, with a little ground round it, as recognisers are taught."""
    import numpy as np

    high = piece.y1 - piece.y0
    spare = max(2, (round(0.62 * piece.line) - high + 1) // 2)
    part = grey[max(piece.y0 - spare, 0) : piece.y1 + spare, max(piece.x0 - 1, 0) : piece.x1 + 1]
    if piece.dark_ground:
        part = 255 - part
    pad = max(3, part.shape[0] // 8)
    return np.pad(part, ((pad, pad), (2 * pad, 2 * pad)), constant_values=int(np.percentile(part, 90)))
