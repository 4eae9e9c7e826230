"""Among the fewest settings, those that ask for the fewest changes of bit.

A batch is the terminals of one setting and one bit; fewer batches are fewer changes. Each of the
fewest values may lie anywhere between the earliest and the latest place it can have (`stab_early`,
`stab_late`), which are windows without a value in common: so the values are chosen window by
window, and each bit takes a value only when one of its bands would be passed over else. All ways
that differ in what they still can do are kept, so that the answer is exact as long as there are no
more than `MOST_WAYS` of them, which a board does not reach; beyond, the cheapest are kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from torquary_catalogue.board.stabbing import Span, stab_early, stab_late

MOST_WAYS = 2000
_BEHIND = 10**12
_BEFORE = -1


@dataclass(frozen=True, slots=True)
class _Way:
    """The values chosen so far, and for each bit those that it takes."""

    values: tuple[int, ...]
    taken: tuple[tuple[int, ...], ...]

    @property
    def batches(self) -> int:
        return sum(map(len, self.taken))

    @property
    def state(self) -> tuple[int, ...]:
        """What all that follows depends on: the last value, and the last that each bit takes."""
        return (self.values[-1], *(values[-1] if values else _BEFORE for values in self.taken))


def choose_batches(spans: Mapping[str, Sequence[Span]]) -> dict[str, tuple[int, ...]]:
    """Return for each bit the values that it takes, of the fewest values for all of them; `spans`:
    bit → its spans.
    """
    bits = list(spans)
    by_bit = [sorted(set(spans[bit])) for bit in bits]
    every = sorted({span for one in by_bit for span in one})
    late = stab_late(every)
    ways = [_Way(values=(_BEFORE,), taken=((),) * len(bits))]
    for early, last in zip(stab_early(every), late, strict=True):
        places = sorted({high for _, high in every if early <= high <= last})
        ways = _keep([way for before in ways for way in _go_on(before, places, every, by_bit)])
    ended = [
        _take(way, _BEHIND, by_bit)
        for way in ways
        if not _passes_over(way.values[-1], _BEHIND, every)
    ]
    best = min(ended, key=lambda way: way.batches)
    return dict(zip(bits, best.taken, strict=True))


def _go_on(
    before: _Way, places: Sequence[int], every: Sequence[Span], by_bit: Sequence[Sequence[Span]]
) -> Iterator[_Way]:
    for place in places:
        if not _passes_over(before.values[-1], place, every):
            way = _take(before, place, by_bit)
            yield _Way(values=(*way.values, place), taken=way.taken)


def _passes_over(last: int, following: int, spans: Sequence[Span]) -> bool:
    """Tell whether a span lies between two values."""
    return any(last < low and high < following for low, high in spans)


def _take(way: _Way, following: int, by_bit: Sequence[Sequence[Span]]) -> _Way:
    """Let each bit take the last value that has a span which neither an earlier one of its own nor
    the next holds.
    """
    last = way.values[-1]
    taken = []
    for values, spans in zip(way.taken, by_bit, strict=True):
        own = values[-1] if values else _BEFORE
        needed = any(own < low <= last and high < following for low, high in spans)
        taken.append((*values, last) if needed else values)
    return _Way(values=way.values, taken=tuple(taken))


def _keep(ways: Sequence[_Way]) -> list[_Way]:
    """Keep the cheapest of the ways that can go on alike, and of all no more than `MOST_WAYS`."""
    best: dict[tuple[int, ...], _Way] = {}
    for way in ways:
        if way.state not in best or way.batches < best[way.state].batches:
            best[way.state] = way
    return sorted(best.values(), key=lambda way: way.batches)[:MOST_WAYS]
