"""Gutters: upright strips that the words of most lines leave white."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from torquary_ingest.tables.lines import Line

CROSSED = 0.04
"""Share of the rich lines that may cross a gutter all the same (a long label)."""

_LEAST_PLAIN = 2


def find_gutters(lines: Sequence[Line]) -> list[tuple[float, float]]:
    """White strips (x0, x1) between columns, from left to right, judged by the lines with most chunks.

    The fewer the lines, the wider a strip must be: three lines share a word space by chance, ten do not.
    Lines with text over text say nothing of columns: a long label runs over the cells behind it there.
    """
    rich = rich_lines(lines)
    plain = [line for line in rich if not _is_overprinted(line)]
    rich = plain if len(plain) >= _LEAST_PLAIN else rich
    if not rich:
        return []
    size = median(line.size for line in rich)
    least = _least_width(len(rich)) * size
    strips = _white_strips(rich, int(CROSSED * len(rich)))
    return [(a, b) for a, b in strips if b - a >= least]


def _is_overprinted(line: Line) -> bool:
    return any(doubt.code == "text_overprinted" for word in line.words for doubt in word.doubts)


def rich_lines(lines: Sequence[Line]) -> list[Line]:
    """The lines that show the columns: at least two chunks, and about as many as the richest have."""
    counts = sorted((len(line.chunks) for line in lines if len(line.chunks) > 1), reverse=True)
    if not counts:
        return []
    bar = max(2, round(0.7 * counts[int(0.35 * (len(counts) - 1))]))
    return [line for line in lines if len(line.chunks) >= bar]


def _least_width(count: int) -> float:
    """Width of a gutter in font sizes, by the number of lines that leave it white."""
    if count <= 2:
        return 1.0
    if count <= 4:
        return 0.75
    return 0.5 if count <= 8 else 0.42


def _white_strips(lines: Sequence[Line], allowed: int) -> list[tuple[float, float]]:
    """Maximal strips that at most `allowed` lines cross, with text on both sides."""
    events: list[tuple[float, int]] = []
    for line in lines:
        for word in line.words:
            events.append((word.box.x0, 1))
            events.append((word.box.x1, -1))
    events.sort(key=lambda e: (e[0], -e[1]))
    strips: list[tuple[float, float]] = []
    depth, since = 0, None
    for x, step in events:
        before, depth = depth, depth + step
        if before > allowed >= depth:
            since = x
        elif before <= allowed < depth and since is not None:
            strips.append((since, x))
            since = None
    return strips
