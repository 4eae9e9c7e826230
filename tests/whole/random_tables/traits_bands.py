"""Traits of band rows: devices or units named in a row across the table, for the rows that follow."""

from __future__ import annotations

from decimal import Decimal

from random_sheets import UNITS, words_for
from sheet_plan import Plan, Row, Spot, restate
from traits_rows import claim

DEVICES = ("LQ 16", "LQX-63", "Quay 125")


def device_bands(plan: Plan) -> bool:
    """Each part of the table stands under a row that names its device."""
    families = [word for word in words_for(plan.language, "family", "mcb") if plan.prints(word)]
    if not families or not claim(plan, "bands", "spans", "device"):
        return False
    word = plan.dice.choice(families)
    lines: list[Row | str] = []
    for part, device in zip(_parts(plan.block.rows(), 2), DEVICES, strict=False):
        lines.append(f"{word} {device}")
        for row in part:
            restate(row, device=device)
            lines.append(row)
    plan.block.lines = lines
    return True


def unit_bands(plan: Plan) -> bool:
    """The heading names no unit; a row across the table states it, and another changes it."""
    if not claim(plan, "bands", "spans", "unit", "torque"):
        return False
    column = plan.block.column("torque")
    column.heading = column.heading.rsplit(plan.unit, 1)[0].rstrip(" ([,")
    units = plan.dice.sample(("N·m", "cN·m", "lb·in", "kgf·cm", "lbf-ft"), 2)
    pattern = plan.dice.choice(("{}", "[{}]", f"{column.heading} {{}}", f"{column.heading}, {{}}"))
    lines: list[Row | str] = []
    for part, unit in zip(_parts(plan.block.rows(), 2), units, strict=False):
        lines.append(pattern.format(unit))
        for row in part:
            _print_in(plan, row, unit)
            lines.append(row)
    plan.block.lines = lines
    return True


def _print_in(plan: Plan, row: Row, unit: str) -> None:
    """Print the row's torque anew in this unit."""
    least = row.stated[0].torque[0] or Decimal(1)
    value = round(least / UNITS[unit], 2 if UNITS[unit] >= 1 else 0)
    row.cells["torque"] = Spot(plan.number(value))
    torque = value * UNITS[unit]
    restate(row, figure=plan.number(value), torque=(torque, torque))


def _parts(rows: list[Row], count: int) -> list[list[Row]]:
    """The rows in `count` parts; a spanning label is not cut."""
    middle = len(rows) // count
    while middle < len(rows) and rows[middle].cells["terminal"] is rows[middle - 1].cells["terminal"]:
        middle += 1
    return [part for part in (rows[:middle], rows[middle:]) if part]


TRAITS = (device_bands, unit_bands)
