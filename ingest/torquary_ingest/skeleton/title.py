"""The title of a sheet that names no product: its largest first line, whatever that says."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.skeleton.lines import LARGE, Block
from torquary_ingest.skeleton.names import says_same

_EQUAL = 0.97
"""Sizes from this part of the largest on are as large."""

_LONGEST = 200


def find_title(blocks: Sequence[Block], noted: str) -> str:
    """Return the largest block, "" when none or several stand out; the title `noted` in the file if it is printed."""
    if noted and any(says_same(noted, block.text) for block in blocks):
        return noted
    large = [block for block in blocks if block.scale >= LARGE]
    if not large:
        return ""
    first = max(large, key=lambda block: block.size)
    return "" if any(_is_beside(block, first) for block in large) else first.text[:_LONGEST]


def _is_beside(block: Block, first: Block) -> bool:
    """Tell whether a block as large stands beside another: each is over a column of its own, and none the sheet's."""
    level = block.top < first.bottom and first.top < block.bottom
    return block is not first and level and block.size >= _EQUAL * first.size
