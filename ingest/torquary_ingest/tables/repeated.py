"""Names printed once over groups of columns that repeat: "Power | Coil" over "Screw, mm², N·m, Screw, mm², N·m"."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Word
from torquary_ingest.tables.columns import Columns
from torquary_ingest.tables.rows import Band, Extent
from torquary_schema.values import Box

NEAR = 0.8
"""Shares of the font size by which a name may miss the middle or the left of its group."""

LEAST = 2
"""Columns that a group has at least: one column alone needs no name over it to be told apart."""


def reach_groups(band: Band, below: Sequence[Band], columns: Columns) -> dict[Extent, Extent]:
    """Return the columns that each name of a heading line reaches over; nothing unless each stands over a group.

    The columns' own headings below it must repeat, once for each name, with other columns before or behind them.
    """
    heads = [_own(below, column) for column in range(columns.count)]
    for start in range(columns.count):
        for width in range((columns.count - start) // 2, LEAST - 1, -1):
            found = _over_groups(band, heads, columns, (start, width))
            if found and all(_stands_over(band.pieces[name], below, reach) for name, reach in found.items()):
                return found
    return {}


def _own(below: Sequence[Band], column: int) -> str:
    return " ".join(band.text((column, column)) for band in below if (column, column) in band.pieces).casefold()


def _over_groups(band: Band, heads: Sequence[str], columns: Columns, group: tuple[int, int]) -> dict[Extent, Extent]:
    """Return the reach of the names where groups of a width begin at a column and repeat; else nothing."""
    start, width = group
    first = heads[start : start + width]
    if not all(first) or len(set(first)) < LEAST:
        return {}
    count = 1
    while list(heads[start + count * width : start + (count + 1) * width]) == list(first):
        count += 1
    end = start + count * width
    names = sorted(extent for extent in band.pieces if _middle(band.pieces[extent]) > columns.edges[start])
    names = [extent for extent in names if _middle(band.pieces[extent]) < columns.edges[end]]
    groups: list[Extent] = [(low, low + width - 1) for low in range(start, end, width)]
    if count < 2 or len(names) != count:
        return {}
    return dict(zip(names, groups, strict=True))


def _stands_over(words: Sequence[Word], below: Sequence[Band], reach: Extent) -> bool:
    """Tell whether a name stands in the middle of its group's headings, or begins where the first of them does."""
    pieces = [(extent, piece) for band in below for extent, piece in band.pieces.items()]
    heads = [word for (low, high), piece in pieces if reach[0] <= low and high <= reach[1] for word in piece]
    box, own = Box.around(word.box for word in heads), Box.around(word.box for word in words)
    near = NEAR * words[0].size
    return abs(own.x0 - box.x0) < near or abs(_middle(words) - box.middle[0]) < near


def _middle(words: Sequence[Word]) -> float:
    return Box.around(word.box for word in words).middle[0]
