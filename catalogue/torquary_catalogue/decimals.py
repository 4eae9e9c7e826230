"""Decimals as they are shown: the digits that say something, and never a power of ten."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache


@lru_cache(4096)
def shorten(value: Decimal | None) -> Decimal | None:
    """Return the same number without the zeros that a column's scale adds: 2.500 → 2.5, 1E+1 → 10."""
    if value is None:
        return None
    digits = f"{value:f}"
    return Decimal(digits.rstrip("0").rstrip(".") if "." in digits else digits)
