"""Torques in words: "2.5 N·m", "2–2.5 N·m", "2 N·m, at most 2.5 N·m", "not more than 22.1 lb·in"."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal

from torquary_catalogue.decimals import shorten
from torquary_catalogue.errors import WRONG_USE, TorquaryError

_DIGITS = 4
"""Significant digits of a converted figure; one that is longer is marked as rounded."""

UNITS = {
    "newton_metre": "N·m",
    "centinewton_metre": "cN·m",
    "pound_inch": "lb·in",
    "pound_foot": "lb·ft",
    "kilogram_force_centimetre": "kgf·cm",
}
"""Units that figures can be shown in: canonical name → spelling."""

_TYPED = {
    "nm": "newton_metre",
    "cnm": "centinewton_metre",
    "lbin": "pound_inch",
    "lbfin": "pound_inch",
    "inlb": "pound_inch",
    "inlbs": "pound_inch",
    "lbft": "pound_foot",
    "lbfft": "pound_foot",
    "ftlb": "pound_foot",
    "ftlbs": "pound_foot",
    "kgfcm": "kilogram_force_centimetre",
    "kgcm": "kilogram_force_centimetre",
}


def read_unit(text: str) -> str:
    """Return the canonical name of a unit as typed after --unit; `TorquaryError` (status 2) if unknown."""
    unit = unit_named(text)
    if unit is None:
        raise TorquaryError(f"--unit {text!r} is not known: write Nm, cNm, lb-in, lb-ft or kgf-cm", status=WRONG_USE)
    return unit


def unit_named(text: str) -> str | None:
    """Return the canonical name of a unit as people write it, None where it is none that figures are shown in."""
    return _TYPED.get("".join(letter for letter in text.lower() if letter.isalpha()))


def write_torque(figures: Sequence[Decimal | None], unit: str = "newton_metre") -> str:
    """Write lowest, nominal and highest torque (N·m) in the unit; "" if there is none.

    A figure with more digits than a driver can be set to is rounded, into the range, and marked with ≈.
    """
    low, nominal, high = figures
    same = low == nominal == high
    lowest = _write(low, unit, ROUND_HALF_EVEN if same else ROUND_CEILING)
    middle, highest = _write(nominal, unit, ROUND_HALF_EVEN), _write(high, unit, ROUND_FLOOR)
    name = UNITS[unit]
    if same:
        return f"{middle} {name}" if middle else ""
    if lowest and highest:
        span = f"{lowest}–{highest} {name}"
        return f"{middle} {name} ({span})" if middle else span
    if not lowest and not highest:
        return f"{middle} {name}" if middle else ""
    return f"at least {lowest} {name}" if lowest else f"at most {highest} {name}"


def write_figures(figures: Sequence[Decimal | None], unit: str = "newton_metre") -> str:
    """Write a setting with its limit, or a limit alone as one: lowest, nominal and highest torque, limit (N·m)."""
    return ", ".join(part for part in (write_torque(figures[:3], unit), write_limit(figures, unit)) if part)


def write_limit(figures: Sequence[Decimal | None], unit: str = "newton_metre") -> str:
    """Write the torque never to be exceeded, rounded down; "" if there is none."""
    *setting, limit = figures
    if limit is None:
        return ""
    alone = all(figure is None for figure in setting)
    shown = f"{_write(limit, unit, ROUND_FLOOR)} {UNITS[unit]}"
    return f"not more than {shown}; no setting is printed" if alone else f"at most {shown}"


def _write(value: Decimal | None, unit: str, rounding: str) -> str:
    if value is None:
        return ""
    exact = value
    if unit != "newton_metre":
        from torquary_schema.torque_factors import factor_nm

        exact = Context(prec=40).divide(value, factor_nm(unit))
    rounded = Context(prec=_DIGITS, rounding=rounding).plus(exact)
    # A division leaves its mark in the fortieth digit; what is equal to thirty digits is equal.
    mark = "" if Context(prec=30).plus(exact) == rounded else "≈"
    return f"{mark}{shorten(rounded):f}"
