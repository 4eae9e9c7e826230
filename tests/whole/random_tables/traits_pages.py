"""Traits of pages: tables that go on overleaf, stand over or beside one another, between running text."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from random_sheets import UNITS
from sheet_plan import Block, Column, Plan, Row, Spot, restate
from traits_rows import claim

PROSE = (
    "Subject to change without notice. Order 10 pieces and get 12.",
    "The devices comply with IEC 60898-1 and are made for 230 V, 50 Hz.",
    "Ambient temperature -25 to 55 °C; altitude up to 2000 m.",
)


def overleaf(plan: Plan) -> bool:
    """The table goes on overleaf, with its heading, without it, or with the columns in another order."""
    if not claim(plan, "pages"):
        return False
    first, rest = _cut(plan.block)
    kind = plan.dice.choice(("repeated", "bare", "moved")) if plan.layout not in ("csv", "transposed") else "repeated"
    second = replace(plan.block, lines=rest, page=1, bare=kind == "bare" and not plan.taken & {"bands", "notes"})
    if kind == "moved" and not any(column.group for column in second.columns):
        second.columns = plan.dice.sample(second.columns, len(second.columns))
    plan.block.lines = first
    second.above, second.below = [], list(plan.block.below)
    plan.blocks.append(second)
    return True


def other_unit_overleaf(plan: Plan) -> bool:
    """The table goes on overleaf, and there the heading states another unit."""
    if "notes" in plan.taken or not claim(plan, "pages", "unit", "torque"):
        return False
    first, rest = _cut(plan.block)
    unit = plan.dice.choice([name for name in ("N·m", "cN·m", "lb·in", "kgf·cm") if name != plan.unit])
    columns = [
        Column(key=c.key, heading=c.heading.replace(plan.unit, unit) if c.key == "torque" else c.heading, group=c.group)
        for c in plan.block.columns
    ]
    plan.block.lines = first
    second = Block(columns=columns, lines=rest, page=1)
    for row in second.rows():
        value = round((row.stated[0].torque[0] or Decimal(1)) / UNITS[unit], 2 if UNITS[unit] >= 1 else 0)
        row.cells["torque"] = Spot(plan.number(value))
        restate(row, figure=plan.number(value), torque=(value * UNITS[unit],) * 2)
    plan.blocks.append(second)
    return True


def two_tables(plan: Plan) -> bool:
    """Two tables on a page, one under the other or side by side, each under the name of its device."""
    words = [word for _ in range(9) if (word := plan.word("family", "mcb"))]
    if not words or plan.layout == "transposed" or not claim(plan, "pages", "device"):
        return False
    first, rest = _cut(plan.block)
    second = replace(plan.block, lines=rest, below=[])
    plan.block.lines = first
    beside = plan.layout != "csv" and len(plan.block.columns) <= 4 and plan.dice.random() < 0.5
    second.across = int(beside)
    plan.blocks.append(second)
    for block, device in zip(plan.blocks, ("LQ 16", "LQX-63"), strict=True):
        block.above = [f"{words[0]} {device}"]
        for row in block.rows():
            restate(row, device=device)
    return True


def prose_around(plan: Plan) -> bool:
    """Lines of running text above and below the table."""
    if plan.layout == "csv":
        return False
    plan.free = plan.dice.sample(PROSE, plan.dice.choice((1, 2)))
    plan.blocks[-1].below = [*plan.blocks[-1].below, "", plan.dice.choice(PROSE)]
    return True


def _cut(block: Block) -> tuple[list[Row | str], list[Row | str]]:
    """The lines in two parts, no spanning cell cut, no band at the end of the first."""
    lines = block.lines
    at = len(lines) // 2
    while at < len(lines) and (_joined(lines[at - 1], lines[at]) or isinstance(lines[at - 1], str)):
        at += 1
    if at < len(lines):
        return lines[:at], lines[at:]
    return lines, []


def _joined(one: Row | str, two: Row | str) -> bool:
    if isinstance(one, str) or isinstance(two, str):
        return False
    return any(two.cells.get(key) is spot for key, spot in one.cells.items())


TRAITS = (overleaf, other_unit_overleaf, two_tables, prose_around)
