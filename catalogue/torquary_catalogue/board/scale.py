"""The scale of a torque driver: which values it can be set to, and where they stand."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from itertools import pairwise

from torquary_catalogue.decimals import shorten
from torquary_catalogue.show.figures import UNITS
from torquary_schema.torque_factors import factor_nm

MOST_VALUES = 100_000
"""Values of one scale at most: a display of five digits has no more."""


@dataclass(frozen=True, kw_only=True)
class Scale:
    """A scale in `unit` (canonical name): its range, and either the marks on it or the step of a
    display.

    Between two marks one more value can be set, half-way; a finer one is not on the scale (common
    practice: no published rule was found). A display is set to its own steps and to nothing between
    them.
    """

    unit: str
    lowest: Decimal
    highest: Decimal
    marks: tuple[Decimal, ...] = ()
    step: Decimal | None = None

    @cached_property
    def values(self) -> tuple[Decimal, ...]:
        """All values that can be set, in the unit, from the lowest on."""
        if self.step is not None:
            count = int((self.highest - self.lowest) / self.step)
            return tuple(self.lowest + at * self.step for at in range(count + 1))
        between = [(low + high) / 2 for low, high in pairwise(self.marks)]
        return tuple(sorted((*self.marks, *between)))

    @cached_property
    def values_nm(self) -> tuple[Decimal, ...]:
        """The same values in N·m, exactly."""
        return tuple(value * factor_nm(self.unit) for value in self.values)

    @property
    def range_nm(self) -> tuple[Decimal, Decimal]:
        """The range in N·m: it begins at the lowest mark (ISO 6789-1:2017)."""
        return self.lowest * factor_nm(self.unit), self.highest * factor_nm(self.unit)

    def within(self, low_nm: Decimal, high_nm: Decimal) -> Sequence[int]:
        """Return the indices of the values from `low_nm` to `high_nm`."""
        return range(bisect_left(self.values_nm, low_nm), bisect_right(self.values_nm, high_nm))

    def is_mark(self, at: int) -> bool:
        """Tell whether the value of an index is one that is marked or displayed."""
        return self.step is not None or self.values[at] in self.marks

    def tell_place(self, at: int) -> str:
        """Say where a value stands: on a mark, or half-way between which two."""
        name = UNITS[self.unit]
        shown = f"{shorten(self.values[at])} {name}"
        if self.step is not None:
            return f"set the display to {shown}"
        if self.is_mark(at):
            return f"on the mark {shown}"
        low, high = (f"{shorten(self.values[near])}" for near in (at - 1, at + 1))
        return f"half-way between the marks {low} and {high} {name}"


def mark_evenly(lowest: Decimal, highest: Decimal, step: Decimal) -> tuple[Decimal, ...]:
    """Return the marks of an even scale from the lowest on, none beyond the highest."""
    return tuple(lowest + at * step for at in range(int((highest - lowest) / step) + 1))
