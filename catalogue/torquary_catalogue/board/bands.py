"""What a printed torque lets a driver be set to: a band of values, or one value, or none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from torquary_schema.torque_tools import settable_range, spread

INSIDE, AT_THIS, NOT_INSIDE, POINT = "whole_band", "this_value", "not_at_all", "single_figure"
"""Verdicts on the deviation of a driver (`judge`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """From which torque to which (N·m) a terminal may be set; equal for a single printed figure,
    which is kept exactly.

    `nominal_nm` is the printed value within a printed range, None where none is printed.
    """

    low_nm: Decimal
    high_nm: Decimal
    nominal_nm: Decimal | None = None

    @property
    def is_point(self) -> bool:
        """Whether it is one value."""
        return self.low_nm == self.high_nm


def read_band(figures: Sequence[Decimal | None]) -> Band | None:
    """Return the band of a setting (lowest, nominal, highest torque and limit, N·m); None where
    none is printed whole.

    A limit alone is no setting, nor is a range with one end; a limit under the upper end cuts the
    band there.
    """
    low, nominal, high, limit = figures
    if high is None:
        high = limit if low is not None else None
    elif limit is not None:
        high = min(high, limit)
    if low is None or high is None:
        low = high = nominal
    if low is None or high is None or low > high or (limit is not None and high > limit):
        return None
    return Band(low_nm=low, high_nm=high, nominal_nm=nominal)


def share(bands: Sequence[Band]) -> Band:
    """Return what bands have in common, which must be something."""
    return Band(low_nm=max(one.low_nm for one in bands), high_nm=min(one.high_nm for one in bands))


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Whether a driver's deviation stays inside a printed range: `kind`, and what it may give
    (N·m).

    "whole_band": at every value that the setting's terminals have in common; "this_value": at the
    value that is set, not at every one; "not_at_all": not at the value that is set;
    "single_figure": stated without a verdict, for a single figure has no range. `would_keep` is
    between which values of its own it would stay inside (N·m), None where none would, or where it
    need not be said.
    """

    kind: str
    low_nm: Decimal
    high_nm: Decimal
    would_keep: tuple[Decimal, Decimal] | None = None


def judge(printed: Band, shared: Band, set_nm: Decimal, deviation_percent: Decimal) -> Verdict:
    """Return the verdict on one terminal; a printed range is never widened."""
    low, high = spread(set_nm, deviation_percent)
    would_keep = None
    if printed.is_point:
        kind = POINT
    elif not keeps_inside(printed, set_nm, deviation_percent):
        kind = NOT_INSIDE
        would_keep = settable_range(printed.low_nm, printed.high_nm, deviation_percent)
    else:
        ends = (shared.low_nm, shared.high_nm)
        kind = (
            INSIDE
            if all(keeps_inside(printed, end, deviation_percent) for end in ends)
            else AT_THIS
        )
    return Verdict(kind=kind, low_nm=low, high_nm=high, would_keep=would_keep)


def keeps_inside(printed: Band, set_nm: Decimal, deviation_percent: Decimal) -> bool:
    """Tell whether a driver set to a value stays inside the printed range, whatever its deviation
    makes of it.
    """
    low, high = spread(set_nm, deviation_percent)
    return printed.low_nm <= low and high <= printed.high_nm
