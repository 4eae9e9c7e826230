"""Traits of single figures: tolerances, limits, ditto marks, blanks, notes, and slips that must be held."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

from sheet_plan import Plan, Row, Spot, restate
from traits_rows import claim

DITTOS = ("″", '"', "–″–", "idem")
# Notes that say nothing of the figure, and notes that change it; in English, as on many sheets of all languages.
REMARKS = ("Tested at the works.", "See the mounting instructions.", "Seulement sur demande.", "Auch in Grau.")
OVERRIDES = ("1.9 N·m with aluminium conductors.", "With ferrules 20 % less.", "Ab 10 mm²: 3,1 Nm.")


def tolerances(plan: Plan) -> bool:
    """Figures with a tolerance, or limited on one side."""
    if not claim(plan, "torque"):
        return False
    for row in plan.block.rows():
        least = _least(plan, row)
        part = round(least / 10, 2 if plan.factor >= 1 else 0)
        number, factor = plan.number(least), plan.factor
        both = ((least - part) * factor, (least + part) * factor)
        forms = [
            (f"max. {number}", (None, least * factor)),
            (f"min. {number}", (least * factor, None)),
            (f"≤ {number}", (None, least * factor)),
            (f"≥ {number}", (least * factor, None)),
        ]
        if part:
            forms += [(f"{number} ± {plan.number(part)}", both), (f"{number} ±{plan.number(part)}", both)]
        forms = [(text, limits) for text, limits in forms if plan.prints(text)]
        text, limits = plan.dice.choice(forms)
        row.cells["torque"] = Spot(text)
        restate(row, torque=limits, figure=text)
    return True


def dittos(plan: Plan) -> bool:
    """Some figures are a mark for the one above."""
    mark = plan.dice.choice([mark for mark in DITTOS if plan.prints(mark)])
    rows = plan.block.rows()
    if len(rows) < 2 or not claim(plan, "torque", "bands"):
        return False
    for above, row in pairwise(rows):
        if plan.dice.random() < 0.5:
            row.cells["torque"] = Spot(mark)
            restate(row, torque=above.stated[0].torque, figure=above.stated[0].figure, mark=mark)
    return True


def blanks(plan: Plan) -> bool:
    """Some rows print no figure: nothing says that the one above holds."""
    if not claim(plan, "torque", "bands", "spans"):
        return False
    for row in plan.dice.sample(plan.block.rows()[1:], 1):
        row.cells["torque"] = Spot("")
        restate(row, figure="", unsettled=True)
    return True


def notes(plan: Plan) -> bool:
    """A raised mark on a figure; the note below only remarks, changes the figure, or is not there."""
    if plan.layout == "csv" or not claim(plan, "notes"):
        return False
    kind = plan.dice.choice(("remark", "override", "missing"))
    key = next(c.key for c in plan.block.columns if c.key in ("torque", "first", "most"))
    for row in plan.dice.sample(plan.block.rows(), 1):
        spot = row.cells[key]
        spot.mark = plan.dice.choice(("1", "2", "1)", "*", "a"))
        for other in plan.block.rows():
            if other.cells[key] is spot:
                restate(other, unsettled=kind != "remark")
        if kind != "missing":
            text = plan.dice.choice(REMARKS if kind == "remark" else OVERRIDES)
            plan.block.below = [f"{spot.mark.rstrip(')')}) {text}" if spot.mark != "*" else f"* {text}"]
    return True


def slips(plan: Plan) -> bool:
    """One figure that nobody can settle: a reversed range, a broken number, a unit of another quantity."""
    if not claim(plan, "torque", "unit"):
        return False
    row = plan.dice.choice(plan.block.rows())
    least = _least(plan, row)
    more = plan.number(least * 2)
    number = plan.number(least)
    text = plan.dice.choice((f"{more}–{number}", f"2{plan.mark}", f"{number} kg", "?", "1-Feb", f"{number} %"))
    row.cells["torque"] = Spot(text)
    restate(row, figure=text, unsettled=True)
    return True


def swapped_limits(plan: Plan) -> bool:
    """In one row of two columns the lowest figure is above the highest."""
    if not {"least", "most"} <= {column.key for column in plan.block.columns} or not claim(plan, "swapped"):
        return False
    row = plan.dice.choice(plan.block.rows())
    high = plan.number(_least(plan, row) * 3)
    row.cells["least"] = Spot(high)
    restate(row, figure=f"{high} | {row.cells['most'].text}", unsettled=True)
    return True


def without_unit(plan: Plan) -> bool:
    """No unit is printed anywhere for the torques, or one that can mean two things: all rows must be held."""
    if not claim(plan, "torque", "unit"):
        return False
    column = plan.block.column("torque")
    column.heading = column.heading.replace(plan.unit, plan.dice.choice(("", "nm", "lbs", "kg", "#"))).rstrip(" ,")
    column.heading = column.heading.replace("()", "").replace("[]", "").strip()
    for row in plan.block.rows():
        restate(row, unsettled=True)
    return True


def _least(plan: Plan, row: Row) -> Decimal:
    """The lowest torque of the row in the sheet's unit, as printed."""
    least = row.stated[0].torque[0] or Decimal(1)
    return round(least / plan.factor, 3).normalize()


TRAITS = (tolerances, dittos, blanks, slips, swapped_limits, without_unit, notes)
