"""Pieces of a torque cell that stand side by side as if something between them were lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from torquary_ingest.figures.quantities import Item, Quantity
from torquary_ingest.figures.tokens import Piece

_NUMBERED = ("SIZE", "DRIVE", "THREAD")  # "PZ2 10", "M5 10": the bare number may be a length or a size


def doubtful_neighbours(items: Sequence[Item]) -> Iterator[tuple[str, str]]:
    """Yield a finding code and a message for every place where a reading would rest on what is not printed.

    A figure without a unit right beside a size, drive or thread may belong to it; a slash, colon or "and"
    at the end of the cell has lost what it joined.
    """
    for before, after in pairwise(items):
        for one, other in ((before, after), (after, before)):
            bare = isinstance(one, Quantity) and one.unit is None
            if bare and isinstance(other, Piece) and other.type in _NUMBERED:
                yield "condition_unread", "a figure without a unit stands right beside a size, thread or drive"
            if isinstance(one, Quantity) and isinstance(other, Piece) and other.type == "AND":
                yield "condition_unread", 'an "and" stands beside the figure and what it joins is not clear'
    spoken = [i for i in items if not (isinstance(i, Piece) and i.type in ("SEP", "LP", "RP"))]
    if not spoken:
        return
    first, last = spoken[0], spoken[-1]
    if isinstance(first, Piece) and first.type == "EQ" and len(spoken) > 1:
        first = spoken[1]
    if isinstance(first, Piece) and first.type in ("SLASH", "AND"):
        yield "number_unreadable", "the cell begins in the middle of an expression"
    if isinstance(last, Piece) and last.type in ("SLASH", "AND", "EQ"):
        yield "number_unreadable", "the cell ends in the middle of an expression"
