"""Blocks of a page one under the other, each under a heading in larger type: each block is looked at by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from statistics import median

from torquary_ingest.document import Word
from torquary_ingest.tables.lines import EDGE, Line, make_lines, words_left

_LARGER = 1.25
"""Size of the heading of a block over the usual size of the page's lines at least (own choice)."""

_BOLD = 1.1
"""The same for a heading that is bold, where the lines are not (own choice)."""

_ALIKE = 0.3
"""Points by which the sizes of headings of one kind differ at most (own choice)."""

_COLUMNS = 3
"""Texts in a line from which it may head the columns of a table (own choice)."""


def part_blocks(words: Sequence[Word]) -> list[Sequence[Word]]:
    """Return the words over the first of several headings of one kind, then those beneath each; [] for no blocks.

    The headings are in none: they speak for all that stands under them. Where columns are headed over the first of
    them they name parts of one table, and nothing is parted.
    """
    lines = make_lines(words)
    headings = _headings(lines)
    if len(headings) < 2 or _heads_columns(lines, above=headings[0].box.top):
        return []
    rest = words_left(words, (word for line in headings for word in line.words))
    edges = [float("-inf"), *(line.box.top for line in headings), float("inf")]
    return [[word for word in rest if a <= word.box.middle[1] < b] for a, b in pairwise(edges)]


def _heads_columns(lines: Sequence[Line], *, above: float) -> bool:
    return any(len(line.chunks) >= _COLUMNS for line in lines if line.box.middle[1] < above)


def _headings(lines: Sequence[Line]) -> Sequence[Line]:
    """Return the lines that begin in larger type at one left end, as many as there are; of several kinds the first."""
    if not lines:
        return []
    usual = median(line.size for line in lines)
    plain = 2 * sum(line.bold for line in lines) < len(lines)
    large = (line for line in lines if _is_larger(line, usual, plain=plain))
    return max(_of_one_kind(large), key=len, default=[])


def _is_larger(line: Line, usual: float, *, plain: bool) -> bool:
    bold = plain and line.bold and len(line.chunks) == 1
    return line.chunks[0].size >= (_BOLD if bold else _LARGER) * usual


def _of_one_kind(lines: Iterator[Line]) -> Iterator[list[Line]]:
    kinds = sorted(lines, key=_kind)
    for _, group in groupby(kinds, key=_kind):
        yield sorted(group, key=lambda line: line.box.top)


def _kind(line: Line) -> tuple[int, int]:
    return round(line.chunks[0].size / _ALIKE), round(line.chunks[0].box.x0 / EDGE)
