"""How few runs of work some settings need, so that one goes on with the bit that the one before it ended with.

A setting is a line from the bit that it begins with to the one that it ends with; settings that follow each other
without a change of bit are a trail over such lines, each walked once. Lines that are joined need as many trails as half
the bits at which an odd number of them ends, and one at least (Euler's theorem on walks over the edges of a graph). So
it is enough to know which bits are odd, and which are joined.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

MOST_ENDS = 1000
"""What ways can come to that is kept; beyond, those of the fewest trails are."""

Line = tuple[int, int]
"""The first and the last bit of a setting, each one binary digit."""


@dataclass(frozen=True, slots=True)
class Ends:
    """What lines come to: `odd`, the bits (each one binary digit) at which an odd number of them ends, and `parts`, the
    bits that they join.
    """

    odd: int = 0
    parts: frozenset[int] = frozenset()

    @property
    def trails(self) -> int:
        """The fewest trails that walk each line once."""
        return sum(max(1, (self.odd & part).bit_count() // 2) for part in self.parts)

    def add(self, begin: int, end: int) -> Ends:
        """Return what they come to with one line more (of one bit, if both are the same)."""
        joined = begin | end
        apart = []
        for part in self.parts:
            if part & (begin | end):
                joined |= part
            else:
                apart.append(part)
        return Ends(self.odd ^ begin ^ end, frozenset((joined, *apart)))

    def is_no_worse_than(self, other: Ends) -> bool:
        """Tell whether it needs no more trails than another, whatever lines are added to both."""
        if self.parts == other.parts:
            return self.odd == other.odd
        return (
            self.odd == other.odd
            and all(any(mine & its == its for its in other.parts) for mine in self.parts)
            and all(any(mine & its == its for mine in self.parts) for its in other.parts)
        )


def lines_of(bits: int) -> Iterator[Line]:
    """Yield the first and last bit of each way to go through the bits of a setting; the way back is the same line."""
    single = [1 << at for at in range(bits.bit_length()) if bits >> at & 1]
    if len(single) == 1:
        yield single[0], single[0]
    else:
        yield from combinations(single, 2)


def choose_lines(settings: Sequence[int]) -> tuple[list[Line], bool]:
    """Return lines for settings, given by their bits, that need the fewest trails, and whether that is proved.

    Only settings of three bits or more leave a choice.
    """
    order = sorted(range(len(settings)), key=lambda at: min(3, settings[at].bit_count()))
    ways: dict[Ends, tuple[Line, ...]] = {Ends(): ()}
    proved = True
    for at in order:
        lines = list(lines_of(settings[at]))
        following: dict[int, dict[Ends, tuple[Line, ...]]] = {}
        for before, walked in ways.items():
            for line in lines:
                ends = before.add(*line)
                following.setdefault(ends.odd, {}).setdefault(ends, (*walked, line))
        ways = {ends: walked for alike in following.values() for ends, walked in _drop_worse(alike).items()}
        proved &= len(ways) <= MOST_ENDS
        ways = dict(sorted(ways.items(), key=lambda one: one[0].trails)[:MOST_ENDS])
    best = min(ways, key=lambda ends: ends.trails)
    chosen = dict(zip(order, ways[best], strict=True))
    return [chosen[at] for at in range(len(settings))], proved


def _drop_worse(ways: dict[Ends, tuple[Line, ...]]) -> dict[Ends, tuple[Line, ...]]:
    best: dict[Ends, tuple[Line, ...]] = {}
    for ends in sorted(ways, key=lambda one: len(one.parts)):
        if not any(other.is_no_worse_than(ends) for other in best):
            best[ends] = ways[ends]
    return best
