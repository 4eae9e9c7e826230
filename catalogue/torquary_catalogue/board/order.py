"""The order of the settings: the fewest changes of bit, and then as near to the board's own order as can be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise, permutations, product

from torquary_catalogue.board.trails import Ends, Line, choose_lines

Bits = tuple[str, ...]
Part = list[tuple[int, Bits]]
"""Settings of one driver in their order, with their bits."""
_NONE_IN_HAND = 1
"""A bit that no setting has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """Settings (indices) with their bits in the order of the work; `proved`: none has fewer changes of bit."""

    settings: tuple[tuple[int, Bits], ...]
    proved: bool


def order_settings(bits: Sequence[Bits]) -> Order:
    """Return the order of settings, given in the board's own order.

    A setting's bits are together; where the last bit of one is the first of the next, there is no change.
    """
    signs = {bit: 2 << at for at, bit in enumerate(dict.fromkeys(bit for some in bits for bit in some))}
    names = {sign: bit for bit, sign in signs.items()}
    lines, proved = choose_lines([sum(signs[bit] for bit in some) for some in bits])
    order = []
    for at, (begin, end) in _walk(lines):
        ends = (names[begin], names[end])
        between = tuple(bit for bit in bits[at] if bit not in ends)
        order.append((at, (ends[0], *between, *ends[1:]) if begin != end else ends[:1]))
    return Order(settings=tuple(order), proved=proved)


def order_by_driver(bits: Sequence[Bits], drivers: Sequence[str]) -> tuple[tuple[int, Bits], ...]:
    """Return the order of settings of which each has its driver: those of a driver are together.

    Each driver's own order, begun at its end as well, is put behind the others' so that fewest bits are changed.
    """
    parts: list[Part] = []
    for driver in dict.fromkeys(drivers):
        mine = [at for at, name in enumerate(drivers) if name == driver]
        parts.append([(mine[at], some) for at, some in order_settings([bits[at] for at in mine]).settings])
    ways = (way for some in permutations(parts) for way in product(*((part, _turn(part)) for part in some)))
    best = min(ways, key=_count_between)
    return tuple(chain.from_iterable(best))


def _count_between(way: Sequence[Part]) -> int:
    return sum(one[-1][1][-1] != two[0][1][0] for one, two in pairwise(way))


def _turn(part: Part) -> Part:
    return [(at, some[::-1]) for at, some in reversed(part)]


def count_changes(order: Sequence[tuple[int, Bits]]) -> int:
    """Return how often the bit is changed in an order of work."""
    row = [bit for _, bits in order for bit in bits]
    return sum(one != other for one, other in pairwise(row))


def _walk(lines: Sequence[Line]) -> Iterator[tuple[int, Line]]:
    """Yield lines (indices) in the directions that make the fewest trails: at each step the first that does."""
    left = list(range(len(lines)))
    in_hand = _NONE_IN_HAND
    while left:
        fewest = _count_trails(lines, left, in_hand)
        at, line = next(
            (at, line)
            for at in left
            for line in dict.fromkeys((lines[at], lines[at][::-1]))
            if (line[0] != in_hand) + _count_trails(lines, [one for one in left if one != at], line[1]) == fewest
        )
        left.remove(at)
        yield at, line
        in_hand = line[1]


def _count_trails(lines: Sequence[Line], left: Sequence[int], in_hand: int) -> int:
    """Return how many trails must be begun for some lines, where one that ends with the bit in hand may go on."""
    ends = Ends()
    for at in left:
        ends = ends.add(*lines[at])
    # The bit in hand is the end of a line that was walked already; it begins where no other does.
    walked = 1 << max((one.bit_length() for line in lines for one in line), default=1)
    return ends.add(walked, in_hand).trails - 1
