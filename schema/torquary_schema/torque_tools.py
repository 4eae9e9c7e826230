"""What a torque tool can keep: arithmetic on the deviation that ISO 6789 permits, and when to recalibrate."""

from __future__ import annotations

from datetime import date
from decimal import Context, Decimal

_CONTEXT = Context(prec=40)
_HUNDRED = Decimal(100)
MONTHS = 12
CYCLES = 5000
"""When a tool is due again, whichever is first, unless its owner has a rule (ISO 6789, seen in print)."""
_SMALL_NM = Decimal(10)
_SMALL_PERCENT, _LARGE_PERCENT = Decimal(6), Decimal(4)
_ALWAYS_SMALL = frozenset({("I", "A"), ("I", "D"), ("II", "D"), ("II", "E"), ("II", "F"), ("II", "G")})
_BY_RANGE = frozenset({("I", "B"), ("I", "C"), ("I", "E"), ("II", "A"), ("II", "B"), ("II", "C")})


def permitted_deviation(kind: str, tool_class: str, highest_nm: Decimal) -> Decimal | None:
    """Return the deviation in percent that a tool of a type ("I", "II") and class ("A" … "G") may have.

    None for a class that is not known. 6 %, of some classes 4 % above 10 N·m (ISO 6789-1, from memory: nothing that is
    printed may call it the standard's value).
    """
    named = (kind.upper(), tool_class.upper())
    if named in _ALWAYS_SMALL or (named in _BY_RANGE and highest_nm <= _SMALL_NM):
        return _SMALL_PERCENT
    return _LARGE_PERCENT if named in _BY_RANGE else None


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


def calibration_due(
    calibrated: date, today: date, cycles: int, *, most_months: int = MONTHS, most_cycles: int = CYCLES
) -> bool:
    """Tell whether a tool is due: 12 months or 5000 cycles, whichever is first (ISO 6789).

    The owner's own procedure for test equipment takes precedence: `most_months`, `most_cycles`.
    """
    months = (today.year - calibrated.year) * 12 + today.month - calibrated.month
    passed = months > most_months or (months == most_months and today.day >= calibrated.day)
    return passed or cycles >= most_cycles


def percent_range(value_nm: Decimal, low_percent: Decimal, high_percent: Decimal) -> tuple[Decimal, Decimal]:
    """Return the range in N·m of "90–100 % of the value" as some sheets print it."""
    return value_nm * low_percent / _HUNDRED, value_nm * high_percent / _HUNDRED
