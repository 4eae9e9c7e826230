"""Blocks of lists in columns of the page, side by side: each column is looked at by itself."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Word
from torquary_ingest.tables.lines import EDGE, Line, common_left_ends, make_lines, words_left

LEAST_ROWS = 4
"""Texts that begin at the left end of a column of the page, at least (own choice)."""

LEAST_PAIRS = 3
"""Rows of several texts in each column at least (own choice)."""


def part_columns(words: Sequence[Word]) -> list[Sequence[Word]]:
    """Return the words of each column of blocks, left to right, and last all other words; [] where there are none.

    Columns of blocks have bold headings of their own, beside rows of the other column; a white strip parts them from
    the first of their lines to the last.
    """
    lines = make_lines(words)
    behind = (chunk for line in lines for chunk in line.chunks[1:])
    for left in common_left_ends(behind, LEAST_ROWS):
        inside = _lines_beside(lines, left)
        beside = [word for line in inside for word in line.words]
        sides = [[word for word in beside if (word.box.x0 < left - EDGE) == first] for first in (True, False)]
        if inside and _are_blocks(*map(make_lines, sides)):
            return [*sides, words_left(words, beside)]
    return []


def _lines_beside(lines: Sequence[Line], left: float) -> list[Line]:
    """Return the lines from the first to the last that have a text beginning at `left`; none if one runs across."""
    begun = [line for line in lines if any(abs(chunk.box.x0 - left) <= EDGE for chunk in line.chunks)]
    top, bottom = begun[0].box.top, begun[-1].box.bottom
    inside = [line for line in lines if top <= line.box.middle[1] <= bottom]
    strip = left - max(line.size for line in begun)
    across = any(n.box.x0 < left - EDGE and n.box.x1 > strip for line in inside for n in line.chunks)
    return [] if across else inside


def _are_blocks(left: Sequence[Line], right: Sequence[Line]) -> bool:
    """Tell whether both sides are lists under bold headings, each with one beside a row of the other.

    In one table the line over a group of rows stands beside nothing, and the headings of columns beside headings.
    """
    if any(sum(len(line.chunks) > 1 for line in side) < LEAST_PAIRS for side in (left, right)):
        return False
    return all(
        any(_is_heading(line) and any(_level(line, row) for row in other) for line in side)
        for side, other in ((left, right), (right, left))
    )


def _is_heading(line: Line) -> bool:
    return len(line.chunks) == 1 and line.bold


def _level(heading: Line, row: Line) -> bool:
    """Tell whether a row, whose name is not bold, stands at the height of a heading."""
    return not row.words[0].bold and row.box.top < heading.box.bottom and heading.box.top < row.box.bottom
