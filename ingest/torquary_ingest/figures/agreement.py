"""Do two printed units state the same torque? Compared within the rounding of their printed digits."""

from __future__ import annotations

from decimal import Decimal

from torquary_ingest.figures.quantities import CONTEXT, Quantity

_HALF = Decimal("0.5")


def _overlap(a: Decimal | None, a_half: Decimal, b: Decimal | None, b_half: Decimal) -> bool:
    if a is None or b is None:
        return a is b
    return a - a_half <= b + b_half and b - b_half <= a + a_half


def agree(first: Quantity, first_factor: Decimal, second: Quantity, second_factor: Decimal) -> bool:
    """Tell whether two quantities can be prints of one torque.

    A printed digit stands for everything that rounds to it: 21 kgf·cm is 20.5 to 21.5. Each bound of the
    one must meet the same bound of the other; a single figure beside a range does not agree with it.
    """
    first_half = CONTEXT.multiply(first.step * _HALF, first_factor)
    second_half = CONTEXT.multiply(second.step * _HALF, second_factor)
    pairs = ((first.low, second.low), (first.nominal, second.nominal), (first.high, second.high))
    for a, b in pairs:
        a_nm = None if a is None else CONTEXT.multiply(a, first_factor)
        b_nm = None if b is None else CONTEXT.multiply(b, second_factor)
        if not _overlap(a_nm, first_half, b_nm, second_half):
            return False
    return True


def coarser(first: Quantity, first_factor: Decimal, second: Quantity, second_factor: Decimal) -> bool:
    """Tell whether the first is printed more than twice as coarsely as the second (their last digits in N·m)."""
    return first.step * first_factor > 2 * second.step * second_factor
