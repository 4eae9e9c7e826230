"""Among the fewest settings, those that ask for the fewest changes of bit.

Each of the fewest values may lie anywhere between the earliest and the latest place it can have (`stab_early`,
`stab_late`), which are windows without a value in common: so values are chosen window by window, each at an upper end
of a span, and with each the bits that are used there. All that the rest depends on is the last value, until where each
kind of terminal still waits, and how the settings so far can follow each other (`trails.py`); of ways that agree in
these the ones that cannot be the best are dropped. So the answer is exact, unless that would take more than
`MOST_STEPS`: then it is a good one, and says so.

A setting with a bit that it could do without never makes fewer changes: leaving the bit out of an order of work adds
none. But two batches of a bit where one would do may save changes, as each can be done beside another setting of that
bit: so the fewest batches are not what is looked for.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, reduce
from itertools import chain, combinations, islice
from operator import or_

from torquary_catalogue.board.stabbing import Span, stab_early, stab_late
from torquary_catalogue.board.trails import Ends, lines_of

MOST_STEPS = 300_000
"""Steps of the search for the best way: about a second's."""
FEW_WAYS, FEW_USED = 40, 16
"""Ways that the search for a good way goes on with, and choices of bits that it tries at one value."""
_BEHIND = 10**12
_BEFORE = -1

Kind = frozenset[str]
"""Bits of which each is enough for a terminal."""
Batch = tuple[int, str]
"""A value and a bit that is used at it."""


@dataclass(frozen=True, slots=True)
class _Way:
    """What was chosen up to a value: how many batches, how the settings can follow each other, and the way before.

    `used` are the bits used at the last value, one binary digit each.
    """

    batches: int
    ends: Ends
    last: int
    used: int
    before: _Way | None

    @property
    def changes(self) -> int:
        """The changes of bit within and between the settings; one more for each setting than there are."""
        return self.batches + self.ends.trails


_Waits = tuple[int, ...]
"""For each kind the value by which it must be met; `_BEHIND` where nothing waits."""
_State = tuple[int, _Waits]
"""The last value, and what waits then."""
_Ways = dict[_State, dict[int, dict[frozenset[int], _Way]]]
"""State → what the settings come to (`Ends`): odd bits → parts → the way with the fewest batches."""


def choose_batches(spans: Mapping[Kind, Sequence[Span]]) -> tuple[frozenset[Batch], bool]:
    """Return the batches of the fewest values for all spans, and whether it is proved that none ask for fewer changes.

    `spans`: kind of terminal → its spans. Each span has a batch within it whose bit is one of its kind.
    """
    search = _Search(spans)
    # A good way first, so that others are left as soon as they cannot be better.
    good = search.run(_BEHIND, few=True)
    assert good is not None
    best = search.run(good.changes, few=False) or good
    return search.read(best), search.whole


class _Search:
    """The spans in the terms of the search, kinds as binary digits; `whole` while nothing was left out."""

    def __init__(self, spans: Mapping[Kind, Sequence[Span]]) -> None:
        self._bits = sorted({bit for kind in spans for bit in kind})
        self._kinds = [sum(1 << self._bits.index(bit) for bit in kind) for kind in spans]
        self._spans = [sorted(set(some)) for some in spans.values()]
        every = sorted({span for some in self._spans for span in some})
        self._highs = sorted({high for _, high in every})
        self.early, self.late = stab_early(every), stab_late(every)
        self.whole = True
        self._first_end = cache(self._find_first_end)
        self._least = cache(self._find_least)
        self._alone = [at for at, kind in enumerate(self._kinds) if kind.bit_count() == 1]

    def run(self, less_than: int, *, few: bool) -> _Way | None:
        """Return a way with less changes than so many: with `few` a good one, else the best, None if there is none.

        `whole` then tells whether all was looked at.
        """
        ways: _Ways = {(_BEFORE, (_BEHIND,) * len(self._kinds)): {0: {frozenset(): _Way(0, Ends(), _BEFORE, 0, None)}}}
        self.whole = True
        steps = 0
        for window in zip(self.early, self.late, (*self.early[1:], _BEHIND), strict=True):
            found: _Ways = {}
            for state, by_odd in ways.items():
                for following, used in self._go_on(state, window, FEW_USED if few else _BEHIND):
                    rest = self._count_rest(following)
                    steps += _add(found.setdefault(following, {}), by_odd, following[0], used, less_than - rest)
                    if steps > MOST_STEPS and not few:
                        self.whole = False
                        return None
            ways = self._keep_few(found) if few else found
        every = (way for by_odd in ways.values() for some in by_odd.values() for way in some.values())
        best = min(every, key=lambda way: (way.changes, way.batches), default=None)
        return best if best is not None and best.changes < less_than else None

    def _keep_few(self, found: _Ways) -> _Ways:
        """Keep the ways that promise the fewest changes."""
        every = [
            (way.changes + self._count_rest(state), at, state, way)
            for at, (state, by_odd) in enumerate(found.items())
            for some in by_odd.values()
            for way in some.values()
        ]
        kept: _Ways = {}
        for _, _, state, way in sorted(every, key=lambda one: one[:2])[:FEW_WAYS]:
            kept.setdefault(state, {}).setdefault(way.ends.odd, {})[way.ends.parts] = way
        return kept

    def _count_rest(self, state: _State) -> int:
        """Return how many batches there are at least behind a state."""
        last, waits = state
        return sum(self._least(at, last, waits[at]) for at in self._alone)

    def _find_least(self, at: int, last: int, wait: int) -> int:
        """Return how many batches the terminals of one bit need behind a value, one of them by `wait`."""
        rest = [span for span in self._spans[at] if span[0] > last]
        return len(stab_late(rest if wait == _BEHIND else [(last + 1, wait), *rest]))

    def _go_on(self, state: _State, window: tuple[int, int, int], most: int) -> Iterator[tuple[_State, int]]:
        """Yield each value of a window (its first and last place, and the first of the next) as the state then, with
        the bits used at it, of which so many choices are tried at most.
        """
        last, waits = state
        early, late, following = window
        latest = min([late, *waits, *(self._first_end(at, last, _BEHIND) for at in range(len(waits)))])
        for value in self._highs[bisect_right(self._highs, early - 1) : bisect_right(self._highs, latest)]:
            due = [min(wait, self._first_end(at, last, value)) for at, wait in enumerate(waits)]
            for used in islice(self._choose_used(due, following), most):
                met = (wait if not kind & used else _BEHIND for kind, wait in zip(self._kinds, due, strict=True))
                yield (value, tuple(met)), used

    def _choose_used(self, due: Sequence[int], following: int) -> Iterator[int]:
        """Yield the bits that may be used at a value, few first: kinds that cannot wait are met, no bit is needless."""
        waiting = [(kind, wait) for kind, wait in zip(self._kinds, due, strict=True) if wait < _BEHIND]
        forced = [kind for kind, wait in waiting if wait < following]
        alone = {kind for kind in forced if kind.bit_count() == 1}
        asked = reduce(or_, (kind for kind, _ in waiting), 0) & ~sum(alone)
        optional = [1 << at for at in range(len(self._bits)) if asked >> at & 1]
        choices = chain.from_iterable(combinations(optional, count) for count in range(len(optional) + 1))
        for some in islice(choices, MOST_STEPS):
            used = sum(some) + sum(alone)
            if _meets_all(forced, used) and _needs_each(some, used, waiting):
                yield used

    def _find_first_end(self, at: int, last: int, value: int) -> int:
        """Return the first upper end of the spans of a kind that begin behind `last`, up to `value`."""
        return min((high for low, high in self._spans[at] if last < low <= value), default=_BEHIND)

    def read(self, way: _Way | None) -> frozenset[Batch]:
        """Return the batches of a way."""
        batches: list[Batch] = []
        while way is not None:
            batches += [(way.last, bit) for at, bit in enumerate(self._bits) if way.used >> at & 1]
            way = way.before
        return frozenset(batches)


def _meets_all(forced: Sequence[int], used: int) -> bool:
    """Tell whether bits in use are enough for all kinds that cannot wait, and are some."""
    return used > 0 and all(kind & used for kind in forced)


def _needs_each(some: Sequence[int], used: int, waiting: Sequence[tuple[int, int]]) -> bool:
    """Tell whether each of some bits meets a kind that no other bit in use meets."""
    return all(any(kind & used == bit for kind, _ in waiting) for bit in some)


def _add(
    kept: dict[int, dict[frozenset[int], _Way]],
    before: Mapping[int, Mapping[frozenset[int], _Way]],
    value: int,
    used: int,
    less_than: int,
) -> int:
    """Add what ways become with a value more, and drop those that cannot be the best; return how many were seen."""
    steps = 0
    lines = list(lines_of(used))
    for way in (way for some in before.values() for way in some.values()):
        batches = way.batches + used.bit_count()
        # Beside these batches there is at least one trail.
        if batches + 1 >= less_than:
            continue
        steps += len(lines)
        for line in lines:
            ends = way.ends.add(*line)
            others = kept.setdefault(ends.odd, {})
            same = others.get(ends.parts)
            if same is None:
                worse = any(one.batches <= batches and one.ends.is_no_worse_than(ends) for one in others.values())
            else:
                worse = same.batches <= batches
            if not worse:
                others[ends.parts] = _Way(batches, ends, value, used, way)
    return steps
