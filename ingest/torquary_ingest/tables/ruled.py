"""The plan that rules draw: every interior rule that is missing joins two cells into one."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Word
from torquary_ingest.tables.plan import Plan, Spot
from torquary_ingest.tables.strokes import REACH, Frame, covered, edges

DRAWN = 0.6
"""A boundary is drawn when rules cover this share of it."""

MOST_CELLS = 8000
"""A finer mesh on one page is a drawing."""


def plan_ruled(frame: Frame, words: Sequence[Word]) -> Plan | None:
    """Return the plan of a frame, or None when it bounds fewer than two cells.

    Sides that are open (no outer vertical rule, though the horizontal ones run on and words stand there)
    are closed at the ends of the horizontal rules; likewise above and below.
    """
    xs = edges(r.at for r in frame.down)
    ys = edges(r.at for r in frame.across)
    if not xs or not ys:
        return None
    box = frame.box
    xs = _closed(xs, box.x0, box.x1, [w.box.middle[0] for w in words])
    ys = _closed(ys, box.top, box.bottom, [w.box.middle[1] for w in words])
    if len(xs) < 2 or len(ys) < 2 or not 2 <= (len(xs) - 1) * (len(ys) - 1) <= MOST_CELLS:
        return None
    spots = _spots(frame, xs, ys)
    return Plan(xs=tuple(xs), ys=tuple(ys), spots=tuple(spots), means="ruled")


def _closed(at: list[float], low: float, high: float, middles: Sequence[float]) -> list[float]:
    """Add the outer ends when words stand between them and the outermost rule."""
    out = list(at)
    if low < at[0] - 6 and any(low <= m < at[0] for m in middles):
        out.insert(0, low)
    if high > at[-1] + 6 and any(at[-1] < m <= high for m in middles):
        out.append(high)
    return out


def _spots(frame: Frame, xs: Sequence[float], ys: Sequence[float]) -> list[Spot]:
    rows, columns = len(ys) - 1, len(xs) - 1
    group = {(r, c): (r, c) for r in range(rows) for c in range(columns)}

    def root(key: tuple[int, int]) -> tuple[int, int]:
        while group[key] != key:
            key = group[key]
        return key

    down = [[k for k in frame.down if abs(k.at - x) <= REACH] for x in xs]
    across = [[k for k in frame.across if abs(k.at - y) <= REACH] for y in ys]
    for r in range(rows):
        for c in range(columns):
            if c + 1 < columns and covered(down[c + 1], xs[c + 1], ys[r], ys[r + 1]) < DRAWN:
                group[root((r, c + 1))] = root((r, c))
            if r + 1 < rows and covered(across[r + 1], ys[r + 1], xs[c], xs[c + 1]) < DRAWN:
                group[root((r + 1, c))] = root((r, c))
    sets: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for key in group:
        sets.setdefault(root(key), []).append(key)
    return [spot for members in sets.values() for spot in _rectangles(members)]


def _rectangles(members: list[tuple[int, int]]) -> list[Spot]:
    """Cover a set of grid places by rectangles, as few as it can: runs along rows, equal runs stacked."""
    runs: list[tuple[int, int, int]] = []
    for r in sorted({r for r, _ in members}):
        columns = sorted(c for k, c in members if k == r)
        start = columns[0]
        for a, b in zip(columns, [*columns[1:], None], strict=True):
            if b is None or b != a + 1:
                runs.append((r, start, a - start + 1))
                start = b if b is not None else start
    spots: list[Spot] = []
    for r, c, span in runs:
        for i, s in enumerate(spots):
            if (s.column, s.column_span) == (c, span) and s.row + s.row_span == r:
                spots[i] = Spot(row=s.row, column=c, row_span=s.row_span + 1, column_span=span)
                break
        else:
            spots.append(Spot(row=r, column=c, column_span=span))
    return spots
