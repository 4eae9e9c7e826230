"""Do two prints state the same torque? The one rule for cells, columns, properties, sentences and tables."""

from __future__ import annotations

from decimal import Decimal

from torquary_ingest.figures.values import TorqueFigure
from torquary_schema.values import Torque

_HALF = Decimal("0.5")


def agree(one: TorqueFigure, other: TorqueFigure) -> bool:
    """Tell whether two figures can be prints of one torque.

    A printed digit stands for everything that rounds to it: 21 kgf·cm is 20.5 to 21.5. Each bound of the
    one must meet the same bound of the other; a single figure beside a range does not agree with it, while
    a figure with a tolerance agrees with the range that the tolerance makes.
    In one unit nothing was converted, so nothing was rounded: 2 and 2.5 are two torques.
    """
    slack = (one.step_nm + other.step_nm) * _HALF if one.unit != other.unit else Decimal(0)
    first, second = one.torque, other.torque
    bounds = ((first.min_nm, second.min_nm), (first.max_nm, second.max_nm))
    named = first.nominal_nm is not None and second.nominal_nm is not None
    return all(_meet(*pair, slack) for pair in bounds) and (
        not named or _meet(first.nominal_nm, second.nominal_nm, slack)
    )


def say(torque: Torque) -> str:
    """Return a torque as printed, with the unit of its column where its own cell prints none."""
    unit = torque.unit_printed or ""
    return torque.printed if unit in torque.printed else f"{torque.printed} {unit}"


def _meet(one: Decimal | None, other: Decimal | None, slack: Decimal) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= slack


def coarser(one: TorqueFigure, other: TorqueFigure) -> bool:
    """Tell whether the one is printed more than twice as coarsely as the other (their last digits in N·m)."""
    return one.step_nm > 2 * other.step_nm
