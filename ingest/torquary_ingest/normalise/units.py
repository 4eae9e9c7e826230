"""A second opinion on the unit factors: the same units in a small pint registry of ours.

pint is given canonical names only, never printed text: its own parser takes "Nm" for a yarn count, "nm"
for a nanometre, "lb-in" for a subtraction and "0,8" for nought. The registry holds only what is needed
and computes in `Decimal`.
"""

from __future__ import annotations

from decimal import Decimal
from functools import cache

import pint

_DEFINITIONS = """
kilogram = [mass]
metre = [length]
second = [time]
newton = kilogram * metre / second ** 2
pound = 0.45359237 * kilogram
ounce = pound / 16
gram = kilogram / 1000
centimetre = metre / 100
millimetre = metre / 1000
inch = 0.0254 * metre
foot = 12 * inch
gravity = 9.80665 * metre / second ** 2
pound_force = pound * gravity
ounce_force = ounce * gravity
kilogram_force = kilogram * gravity
gram_force = gram * gravity
dyne = newton / 100000
newton_metre = newton * metre
centinewton_metre = newton * metre / 100
decinewton_metre = newton * metre / 10
decanewton_metre = 10 * newton * metre
millinewton_metre = newton * metre / 1000
kilonewton_metre = 1000 * newton * metre
newton_centimetre = newton * centimetre
newton_millimetre = newton * millimetre
decanewton_centimetre = 10 * newton * centimetre
pound_inch = pound_force * inch
pound_foot = pound_force * foot
ounce_inch = ounce_force * inch
kilogram_force_metre = kilogram_force * metre
kilogram_force_centimetre = kilogram_force * centimetre
kilogram_force_millimetre = kilogram_force * millimetre
gram_force_centimetre = gram_force * centimetre
dyne_centimetre = dyne * centimetre
"""


@cache
def _registry() -> pint.UnitRegistry[Decimal]:
    registry: pint.UnitRegistry[Decimal] = pint.UnitRegistry(None, non_int_type=Decimal)
    for line in _DEFINITIONS.strip().splitlines():
        registry.define(line)
    return registry


def newton_metres_in(name: str) -> Decimal:
    """Return the N·m in one of the canonical torque unit, derived from the definitions of its parts.

    NIST SP 811: 1 lb = 0.45359237 kg, g_n = 9.80665 m/s², 1 in = 0.0254 m, all exact. KeyError: unknown.
    """
    registry = _registry()
    if name not in registry:
        raise KeyError(name)
    quantity = registry.Quantity(Decimal(1), name).to("newton_metre")
    magnitude = quantity.magnitude
    return magnitude if isinstance(magnitude, Decimal) else Decimal(magnitude)
