"""What a torque tool can keep: arithmetic on the deviation that ISO 6789 permits, and when to recalibrate."""

from __future__ import annotations

from datetime import date
from decimal import Context, Decimal

_CONTEXT = Context(prec=40)
_HUNDRED = Decimal(100)
_MONTHS = 12
_CYCLES = 5000


def spread(set_nm: Decimal, deviation_percent: Decimal) -> tuple[Decimal, Decimal]:
    """Return the least and greatest torque in N·m that a tool set to `set_nm` may give.

    ISO 6789-1 permits setting screwdrivers (Type II class D) 6 % (from memory).
    """
    part = _CONTEXT.divide(deviation_percent, _HUNDRED)
    return set_nm * (1 - part), set_nm * (1 + part)


def settable_range(min_nm: Decimal, max_nm: Decimal, deviation_percent: Decimal) -> tuple[Decimal, Decimal] | None:
    """Return between which settings in N·m a tool keeps inside the printed range; None: it cannot be kept.

    The tool reads true within the deviation of ISO 6789-1, so the setting s needs s(1−p) ≥ min, s(1+p) ≤ max.
    """
    part = _CONTEXT.divide(deviation_percent, _HUNDRED)
    lowest = _CONTEXT.divide(min_nm, 1 - part)
    highest = _CONTEXT.divide(max_nm, 1 + part)
    return (lowest, highest) if lowest <= highest else None


def covers(lowest_mark_nm: Decimal, highest_mark_nm: Decimal, torque_nm: Decimal) -> bool:
    """Tell whether the torque lies on the scale: the range starts at the lowest mark (ISO 6789-1:2017)."""
    return lowest_mark_nm <= torque_nm <= highest_mark_nm


def calibration_due(calibrated: date, today: date, cycles: int) -> bool:
    """Tell whether a tool is due: 12 months or 5000 cycles, whichever is first (ISO 6789).

    The owner's own procedure for test equipment takes precedence.
    """
    months = (today.year - calibrated.year) * 12 + today.month - calibrated.month
    passed = months > _MONTHS or (months == _MONTHS and today.day >= calibrated.day)
    return passed or cycles >= _CYCLES


def percent_range(value_nm: Decimal, low_percent: Decimal, high_percent: Decimal) -> tuple[Decimal, Decimal]:
    """Return the range in N·m of "90–100 % of the value" as some sheets print it."""
    return value_nm * low_percent / _HUNDRED, value_nm * high_percent / _HUNDRED
