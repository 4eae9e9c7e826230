"""The order of the settings: each driver's together, and one that goes on with the bit in hand
first.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import pairwise

MOST_EXACT = 8
"""Settings up to which every order is tried; beyond, each step goes on with the bit in hand where
it can.
"""

Bits = tuple[str, ...]


def order_settings(bits: Sequence[Bits]) -> list[tuple[int, Bits]]:
    """Return the settings (indices, given in the board's own order) with their bits in the order of
    the work.

    A setting's bits are together; where the last bit of one is the first of the next, there is no
    change.
    """
    if len(bits) <= MOST_EXACT:
        return list(_best_order(tuple(bits)))
    return list(_follow_bits(bits))


def count_changes(order: Sequence[tuple[int, Bits]]) -> int:
    """Return how often the bit is changed in an order of work."""
    row = [bit for _, bits in order for bit in bits]
    return sum(one != other for one, other in pairwise(row))


def _best_order(bits: tuple[Bits, ...]) -> tuple[tuple[int, Bits], ...]:
    @cache
    def go_on(
        left: frozenset[int], in_hand: str | None
    ) -> tuple[int, tuple[tuple[int, Bits], ...]]:
        best: tuple[int, tuple[tuple[int, Bits], ...]] | None = None
        for at in sorted(left):
            for turned in _turns(bits[at], in_hand):
                saved, rest = go_on(left - {at}, turned[-1])
                total = saved + (turned[0] == in_hand)
                if best is None or total > best[0]:
                    best = (total, ((at, turned), *rest))
        return best or (0, ())

    return go_on(frozenset(range(len(bits))), None)[1]


def _turns(bits: Bits, in_hand: str | None) -> list[Bits]:
    """Return the ways to go through the bits of one setting that differ at their ends, the one in
    hand first.
    """
    first = [in_hand] if in_hand is not None and in_hand in bits else list(bits)
    turns = []
    for begin in first:
        rest = [bit for bit in bits if bit != begin]
        turns += [(begin, *(bit for bit in rest if bit != end), end) for end in rest] or [(begin,)]
    return turns


def _follow_bits(bits: Sequence[Bits]) -> list[tuple[int, Bits]]:
    left = list(range(len(bits)))
    order: list[tuple[int, Bits]] = []
    in_hand: str | None = None
    while left:
        at = next((one for one in left if in_hand in bits[one]), left[0])
        left.remove(at)
        following = {bit for one in left for bit in bits[one]}
        rest = sorted((bit for bit in bits[at] if bit != in_hand), key=lambda bit: bit in following)
        turned = (*(bit for bit in bits[at] if bit == in_hand), *rest)
        order.append((at, turned))
        in_hand = turned[-1]
    return order
