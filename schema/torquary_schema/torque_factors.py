"""What each torque unit is worth, exactly, from `units.json`.

The asking side and the published grids convert by this table. A reader of sheets converts by
`torquary_ingest.unit_registry`, which is built from the same definitions; a test compares the two.
"""

from __future__ import annotations

from decimal import Decimal
from functools import cache

from torquary_schema.units import unit_tables


@cache
def _factors() -> dict[str, Decimal]:
    return {name: Decimal(entry["factor"]) for name, entry in unit_tables()["torque"].items()}


def torque_units() -> tuple[str, ...]:
    """Return the canonical names of all torque units."""
    return tuple(_factors())


def factor_nm(name: str) -> Decimal:
    """Return the exact number of newton metres in one of the unit (NIST SP 811; SI).

    KeyError: not a torque unit.
    """
    return _factors()[name]
