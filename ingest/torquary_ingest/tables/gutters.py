"""Gutters: upright strips that the words of most lines leave white."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line

CROSSED = 0.04
"""Share of the rich lines that may cross a gutter all the same (a long label)."""

NARROWED = 0.3
"""Font sizes: a strip that the body leaves white is no narrower between its headings."""

HALFWAY = 0.3
"""Share of the distance of two rows by which a text half-way between them may miss their middle."""

LEAST_ROWS = 2
"""Rows of figures that show a body's columns."""

_LEAST_PLAIN = 2


def find_gutters(lines: Sequence[Line]) -> list[tuple[float, float]]:
    """White strips (x0, x1) between columns, from left to right, judged by the rows of figures with most chunks.

    The fewer the lines, the wider a strip must be: three lines share a word space by chance, ten do not.
    Lines with text over text say nothing of columns: a long label runs over the cells behind it there.
    """
    rich = body_lines(lines) or rich_lines(lines)
    plain = [line for line in rich if not _is_overprinted(line)]
    rich = plain if len(plain) >= _LEAST_PLAIN else rich
    if not rich:
        return []
    size = median(line.size for line in rich)
    least = _least_width(len(rich)) * size
    shown = [*rich, *_halfway_between(lines, rich)]
    strips = [(a, b) for a, b in _white_strips(shown, int(CROSSED * len(rich))) if b - a >= least]
    strips = [strip for strip in strips if not _is_word_space(strip, strips, shown)]
    narrow = [(a, b) for a, b in _white_strips(rich_lines(lines), 0) if b - a >= NARROWED * size]
    return [_narrowed(strip, narrow) for strip in strips]


def _is_word_space(strip: tuple[float, float], strips: Sequence[tuple[float, float]], lines: Sequence[Line]) -> bool:
    """Tell whether a strip is the space within one text, and no other line has words beside it on both sides.

    "2.5–16 mm²" over figures that are shorter: the unit alone is no column.
    """
    at = strips.index(strip)
    left = strips[at - 1][1] if at else -math.inf
    right = strips[at + 1][0] if at + 1 < len(strips) else math.inf
    beside = [(_has_words(line, left, strip[0]), _has_words(line, strip[1], right)) for line in lines]
    within = any(chunk.box.x0 < strip[0] and strip[1] < chunk.box.x1 for line in lines for chunk in line.chunks)
    return within and min(sum(one for one, _ in beside), sum(other for _, other in beside)) < LEAST_ROWS


def _has_words(line: Line, left: float, right: float) -> bool:
    return any(left < word.box.middle[0] < right for word in line.words)


def _halfway_between(lines: Sequence[Line], rows: Sequence[Line]) -> list[Line]:
    """Return the texts alone in the white that all rows leave, half-way between two: a name or figure for both.

    Figures at the left under no heading are steps of a chart's axis.
    """
    middles = sorted(line.box.middle[1] for line in rows)
    between = [line for line in lines if any(_is_halfway(line, *pair) for pair in pairwise(middles))]
    left, right = min(line.box.x0 for line in rows), max(line.box.x1 for line in rows)
    heads = [line for line in rich_lines(lines) if line.box.middle[1] < middles[0]]
    names = _may_name(_in_strip(between, (-math.inf, left)), heads)
    columns = [names, *(_in_strip(between, strip) for strip in (*_white_strips(rows, 0), (right, math.inf)))]
    return [line for found in columns if all(_overlap(*pair) for pair in pairwise(found)) for line in found]


def _may_name(lines: Sequence[Line], heads: Sequence[Line]) -> list[Line]:
    """Return the texts at the left of rows that stand for some of them: no figures, unless a heading is over them."""
    return [line for line in lines if not is_figure(line.chunks[0].text) or _is_headed(line, heads)]


def _is_headed(line: Line, heads: Sequence[Line]) -> bool:
    return any(chunk.box.x0 < line.box.x1 and line.box.x0 < chunk.box.x1 for head in heads for chunk in head.chunks)


def _in_strip(lines: Sequence[Line], strip: tuple[float, float]) -> list[Line]:
    return [line for line in lines if strip[0] < line.box.x0 and line.box.x1 < strip[1]]


def _overlap(one: Line, other: Line) -> bool:
    """Tell whether two texts stand one under the other: the steps of a chart do not."""
    return one.box.x0 < other.box.x1 and other.box.x0 < one.box.x1


def _is_halfway(line: Line, upper: float, lower: float) -> bool:
    return abs(line.box.middle[1] - (upper + lower) / 2) <= HALFWAY * (lower - upper)


def _narrowed(strip: tuple[float, float], narrow: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Return the widest part of a strip that headings leave white too; the strip itself where they cross it."""
    parts = [(max(strip[0], a), min(strip[1], b)) for a, b in narrow if a < strip[1] and strip[0] < b]
    return max(parts, key=lambda part: part[1] - part[0], default=strip)


def _is_overprinted(line: Line) -> bool:
    return any(doubt.code == "text_overprinted" for word in line.words for doubt in word.doubts)


def rich_lines(lines: Sequence[Line]) -> list[Line]:
    """The lines that show the columns: at least two chunks, and about as many as the richest have."""
    counts = sorted((len(line.chunks) for line in lines if len(line.chunks) > 1), reverse=True)
    if not counts:
        return []
    bar = max(2, round(0.7 * counts[int(0.35 * (len(counts) - 1))]))
    return [line for line in lines if len(line.chunks) >= bar]


def body_lines(lines: Sequence[Line]) -> list[Line]:
    """The rich lines that hold a figure beside another text: rows of the body; none where fewer than two do.

    Headings say nothing of columns: they are centred over several, or longer than what stands under them.
    """
    rows = [line for line in rich_lines(lines) if any(is_figure(chunk.text) for chunk in line.chunks[1:])]
    return rows if len(rows) >= LEAST_ROWS else []


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
