"""What a benchmark measures, as a row of Markdown and as JSON."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

HEAD = "| what | against | measured | bar | |\n|---|---|---|---|---|"


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One figure: a ratio (`unit` "times"), or an amount of its unit; `least`: the bar is the least, else the most."""

    what: str
    against: str
    value: float
    bar: float
    unit: str = "times"
    least: bool = False

    @property
    def met(self) -> bool:
        """Whether the bar is met."""
        return self.value >= self.bar if self.least else self.value <= self.bar

    def as_row(self) -> str:
        """Return a row of the table `HEAD`."""
        sign = "≥" if self.least else "≤"
        value, bar = (f"{number:.3g} {self.unit}" for number in (self.value, self.bar))
        return f"| {self.what} | {self.against} | {value} | {sign} {bar} | {'met' if self.met else 'missed'} |"


def write_measures(measures: Iterable[Measure]) -> int:
    """Print the table; return the exit status: 1 where a bar is missed."""
    rows = list(measures)
    print("\n".join((HEAD, *(one.as_row() for one in rows))))
    return 0 if all(one.met for one in rows) else 1
