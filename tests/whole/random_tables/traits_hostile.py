"""Hostile traits: columns and rows that look like torques of terminals and are none."""

from __future__ import annotations

from sheet_plan import Column, Plan, Row, Spot
from traits_rows import claim

# Headings of figures that are no torques.
NUMBERS = ("kg", "g", "mm", "W", "A", "V", "nm", "No.", "Hz", "IP")


def number_column(plan: Plan) -> bool:
    """A column of another quantity."""
    heading = plan.word("heading", "other")
    if not heading:
        return False
    plan.block.columns.append(
        Column(key="other", heading=f"{heading} {plan.dice.choice(('', 'mm', 'kg', 'g'))}".strip())
    )
    for row in plan.block.rows():
        row.cells["other"] = Spot(plan.dice.choice(("1", "2", "17.5", "0.85", "120")).replace(".", plan.mark))
    return True


def unknown_column(plan: Plan) -> bool:
    """A column whose heading is a word that no vocabulary has, with figures under it."""
    if not claim(plan, "spans"):
        return False
    column = Column(
        key="unknown", heading=plan.dice.choice(("Zorbel", "Zorbel (q)", "Kx", "m", "P [W]", "λ in nm", "Nr."))
    )
    if not plan.prints(column.heading):
        return False
    plan.block.columns.append(column)
    for row in plan.block.rows():
        row.cells["unknown"] = Spot(plan.dice.choice(("1", "2", "17.5", "0.85", "120", "1.5")).replace(".", plan.mark))
    return True


def false_friend(plan: Plan) -> bool:
    """A column of torques that are no tightening torques, such as those of a motor, in N·m."""
    word = plan.word("torque_kind", plan.dice.choice(("motor_torque", "output_torque", "starting_torque")))
    if not word or not claim(plan, "spans"):
        return False
    plan.block.columns.insert(0, Column(key="friend", heading=f"{word} N·m"))
    for row in plan.block.rows():
        row.cells["friend"] = Spot(plan.dice.choice(("1.1", "9", "7.4", "60")).replace(".", plan.mark))
    return True


def mounting_row(plan: Plan) -> bool:
    """A row for the screws that fix the device, or close its cover."""
    word = plan.word("purpose", plan.dice.choice(("mounting", "enclosure", "gland")))
    if not word or {"torque", "rows", "unit", "size"} & plan.taken or not claim(plan, "bands", "torque", "size"):
        return False
    row = Row(
        cells={"terminal": Spot(word), "size": Spot("–"), "torque": Spot("4" if plan.factor >= 1 else "40")}, stated=[]
    )
    for key in ("device",):
        if any(column.key == key for column in plan.block.columns):
            row.cells[key] = plan.block.rows()[-1].cells[key]
    plan.block.lines.append(row)
    return True


TRAITS = (number_column, unknown_column, false_friend, mounting_row)
