"""Sheets with up to three traits of real ones, in any language, layout and unit; the truth by construction."""

from __future__ import annotations

import random
from pathlib import Path

import traits_bands
import traits_columns
import traits_figures
import traits_hostile
import traits_look
import traits_pages
import traits_rows
import traits_set
from forms import make_form
from random_sheets import LAYOUTS, Sheet
from sheet_drawing import draw, write_text
from sheet_plan import Plan, Trait, make_plan

# Those that make the rows come first, those that change them follow.
TRAITS: tuple[Trait, ...] = (
    *traits_rows.TRAITS, *traits_bands.TRAITS, *traits_figures.TRAITS, *traits_hostile.TRAITS, *traits_columns.TRAITS,
    *traits_pages.TRAITS, *traits_look.TRAITS, *traits_set.TRAITS,
)  # fmt: skip


def plan_sheet(seed: int) -> Plan:
    """Return the plan of this seed: a plain table, then the traits that it takes."""
    dice = random.Random(seed)
    layout = dice.choice(LAYOUTS)
    if dice.random() < 0.1:
        return make_form(dice, layout)
    plan = make_plan(dice, layout)
    if plan.font != "Helvetica":
        plan.traits.append(plan.font)
    chosen = dice.sample(range(len(TRAITS)), dice.choice((1, 2, 3, 4)))
    for trait in (TRAITS[number] for number in sorted(chosen)):
        if trait(plan):
            plan.traits.append(trait.__name__)
    return plan


def write_mixed(folder: Path, seed: int) -> Sheet:
    """Write the sheet of this seed into the folder."""
    plan = plan_sheet(seed)
    path = folder / f"mixed_{seed}.{'csv' if plan.layout == 'csv' else 'pdf'}"
    (write_text if plan.layout == "csv" else draw)(path, plan)
    return Sheet(
        path=path, layout=plan.layout, language=plan.language, stated=tuple(plan.stated()), traits=tuple(plan.traits)
    )
