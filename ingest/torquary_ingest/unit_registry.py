"""The one registry by which printed figures become newton metres, millimetres and square millimetres.

pint computes, in `Decimal`, with the units of `units.json` and no others. It is given canonical names
only, never printed text: its own parser takes "Nm" for a yarn count, "nm" for a nanometre, "lb-in"
for a subtraction and "0,8" for nought. Torque is a dimension of its own here, so that no torque can
become an energy, nor a length an area.
"""

from __future__ import annotations

from decimal import Context, Decimal, localcontext
from functools import cache

import pint

from torquary_schema.torque_factors import factor_nm, torque_units
from torquary_schema.units import unit_tables

_NEWTON_METRE = "newton_metre"
_EXACT = Context(prec=40)
"""Digits: a printed figure times the longest factor has fewer than thirty."""

_PI = Decimal("3.141592653589793238462643383279502884197")


@cache
def _definitions() -> dict[str, str]:
    """Return what each unit of `units.json` that has a size is worth, in pint's language."""
    tables = unit_tables()
    others = tables["other"] | tables["never_printed"]
    return {
        **{name: f"{factor_nm(name)} * {_NEWTON_METRE}" for name in torque_units()},
        _NEWTON_METRE: "[torque]",
        **{name: entry["definition"] for name, entry in others.items() if "definition" in entry},
    }


@cache
def _registry() -> pint.UnitRegistry[Decimal]:
    lines = [f"{name} = {worth}" for name, worth in _definitions().items()]
    with localcontext(_EXACT):
        return pint.UnitRegistry(lines, non_int_type=Decimal)


def convert(value: Decimal, unit: str, into: str) -> Decimal:
    """Return the value in another unit of its kind; both are canonical names of `units.json`.

    `KeyError`: not such a name. `pint.DimensionalityError`: of another kind.
    """
    for name in (unit, into):
        if name not in _definitions():
            raise KeyError(name)
    with localcontext(_EXACT):
        magnitude: Decimal = _registry().Quantity(value, unit).to(into).magnitude
        return magnitude


def newton_metres(value: Decimal, unit: str) -> Decimal:
    """Return a torque in N·m; `unit` is the canonical name of the unit that it is printed in."""
    return convert(value, unit, _NEWTON_METRE)


def round_wire_mm2(diameter_mm: Decimal) -> Decimal:
    """Return the area in mm² of a round wire of the diameter in mm."""
    with localcontext(_EXACT):
        square = _registry().Quantity(diameter_mm, "millimetre") ** 2
        magnitude: Decimal = (_PI * square / 4).to("mm2").magnitude
        return magnitude
