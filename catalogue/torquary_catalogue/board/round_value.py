"""A value with few digits inside a band, for a plan without a driver: nothing finer is asked for
than is needed.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Context, Decimal

from torquary_schema.torque_factors import factor_nm

_STEPS = tuple(Decimal(digit).scaleb(-power) for power in range(7) for digit in ("1", "0.5", "0.2"))
_NEAR = Decimal("0.25")
"""How far from the aim a value may lie, as a part of the band's width: within its middle half."""
_DIGITS = 12
_CONTEXT = Context(prec=40)


def nearest_round(low_nm: Decimal, high_nm: Decimal, aim_nm: Decimal, unit: str) -> Decimal:
    """Return the value (in the unit) on the coarsest decimal step that lies inside the band and
    near the aim.

    The one value of a band without width is returned as it is, to `_DIGITS` digits where the units
    do not divide.
    """
    low, high, aim = (
        _CONTEXT.divide(value, factor_nm(unit)) for value in (low_nm, high_nm, aim_nm)
    )
    if low_nm == high_nm:
        return Context(prec=_DIGITS).plus(low)
    for step in _STEPS:
        value = (aim / step).quantize(Decimal(1), rounding=ROUND_HALF_EVEN) * step
        if low <= value <= high and abs(value - aim) <= (high - low) * _NEAR:
            return value
    return aim
