"""Brackets beside a size that give another size for a kind of conductor: "1.5–25 mm² (flexible: max. 16 mm²)"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.figures.size_neighbours import group_of
from torquary_ingest.figures.sizes_read import Item, Sized
from torquary_ingest.figures.tokens import Piece


def part_asides(items: Sequence[Item]) -> tuple[list[Item], list[list[Item]]]:
    """Return what stands outside of such brackets, and what stands in each of them."""
    outside = list(items)
    asides: list[list[Item]] = []
    for opened, closed in reversed(list(pairwise(_brackets(items)))):
        inside = [item for item in items[opened + 1 : closed] if not (isinstance(item, Piece) and item.type == "EQ")]
        if _is(items[opened], "LP") and _is(items[closed], "RP") and _is_aside(inside, items[:opened]):
            asides.insert(0, inside)
            del outside[opened : closed + 1]
    return outside, asides


def _brackets(items: Sequence[Item]) -> list[int]:
    return [at for at, item in enumerate(items) if _is(item, "LP") or _is(item, "RP")]


def _is(item: Item, kind: str) -> bool:
    return isinstance(item, Piece) and item.type == kind


def _is_aside(inside: Sequence[Item], before: Sequence[Item]) -> bool:
    """Tell whether a bracket holds one size, of a system that stands before it, and nothing else but its kind."""
    sizes = [item for item in inside if isinstance(item, Sized)]
    words = read_conductor_words(" ".join(item.text for item in inside if isinstance(item, Piece)))
    groups = {group_of(item.system) for item in before if isinstance(item, Sized)}
    return len(sizes) == 1 and group_of(sizes[0].system) in groups and words.known and not words.rest
