"""Traits of print: size of type, narrow tables, pages turned by /Rotate, spanning texts on one of their lines."""

from __future__ import annotations

from sheet_plan import Plan


def type_size(plan: Plan) -> bool:
    """Type from 6 to 11 points."""
    plan.look.size = plan.dice.choice((6, 7, 9, 10, 11))
    return plan.layout != "csv"


def narrow(plan: Plan) -> bool:
    """A table no wider than its texts need."""
    plan.look.wide = plan.dice.choice((0.55, 0.7))
    return plan.layout != "csv"


def turned_page(plan: Plan) -> bool:
    """A page that a reader sees turned."""
    plan.look.rotate = plan.dice.choice((90, 180, 270))
    return plan.layout != "csv"


def text_on_a_line(plan: Plan) -> bool:
    """Texts over several rows stand in the first or the middle one of them, not between."""
    plan.look.place = plan.dice.choice(("line", "top"))
    return plan.layout != "csv" and "spans" in plan.taken


TRAITS = (type_size, narrow, turned_page, text_on_a_line)
