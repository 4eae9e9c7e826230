"""Sheets that are no plain table: matrices of terminals and sizes, lists of properties, sentences.

The words of each language are those of the vocabulary; the sentences are our own.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from decimal import Decimal

from random_sheets import CASES, MARKINGS, Stated
from sheet_plan import Block, Column, Plan, Row, Spot, make_plan

# What is printed before a figure for one terminal: {0} the terminal.
SENTENCES = {
    "en": ("Tightening torque of terminal {0}: ", "Tighten terminal {0} to "),
    "de": ("Anzugsdrehmoment der Klemme {0}: ", "Klemme {0}: Anzugsdrehmoment "),
    "fr": ("Couple de serrage de la borne {0} : ", "Borne {0} : couple de serrage "),
    "es": ("Par de apriete del borne {0}: ", "Borne {0}: par de apriete "),
    "it": ("Coppia di serraggio del morsetto {0}: ", "Morsetto {0}: coppia di serraggio "),
    "nl": ("Aandraaimoment van klem {0}: ", "Klem {0}: aandraaimoment "),
}
Form = Callable[[Plan], None]


def matrix(plan: Plan) -> None:
    """Terminals down, sizes across, torques inside; the line above names quantity and unit."""
    block, dice = plan.block, plan.dice
    cases = sorted(dice.sample(range(len(CASES)), dice.choice((2, 3))))
    sizes = [(CASES[case][0] + dice.choice(("–", "-")) + CASES[case][1]).replace(".", plan.mark) for case in cases]
    lines: list[Row | str] = []
    for row in block.rows():
        label = row.cells["terminal"].text
        made = Row(cells={"terminal": Spot(label)}, stated=[])
        for case, size in zip(cases, sizes, strict=True):
            least, most = plan.limits(case)
            made.cells[size] = Spot(plan.figure(least, most))
            made.stated.append(
                Stated(
                    terminal=label, figure=made.cells[size].text, size=size,
                    torque=(least * plan.factor, most * plan.factor),
                    conductor=(Decimal(CASES[case][0]), Decimal(CASES[case][1])),
                )
            )  # fmt: skip
        lines.append(made)
    above = block.column("torque").heading
    heads = [Column(key="terminal", heading=block.column("terminal").heading)]
    plan.blocks = [
        Block(columns=heads + [Column(key=s, heading=f"{s} mm²") for s in sizes], lines=lines, above=[above])
    ]


def properties(plan: Plan) -> None:
    """Two columns, property and value: a line for the size and one for the torque of the only terminal."""
    block = plan.block
    row = block.rows()[0]
    label = row.cells["terminal"].text
    texts = [
        (block.column("terminal").heading, label),
        (block.column("size").heading.removesuffix(" mm²"), f"{row.cells['size'].text} mm²"),
        (
            block.column("torque").heading.rsplit(plan.unit, 1)[0].rstrip(" ([,"),
            f"{row.cells['torque'].text} {plan.unit}",
        ),
    ]
    lines: list[Row | str] = [Row(cells={"key": Spot(k), "value": Spot(v)}, stated=[]) for k, v in texts]
    lines[-1] = Row(cells=lines[-1].cells, stated=row.stated) if isinstance(lines[-1], Row) else lines[-1]
    heads = [Column(key="key", heading=""), Column(key="value", heading="")]
    plan.blocks = [Block(columns=heads, lines=lines, bare=True)]
    if plan.layout == "transposed":
        plan.layout = "ruled"


def sentences(plan: Plan) -> None:
    """Sentences, each with the torque of one terminal; no sizes."""
    plan.layout = "prose"
    plan.language = plan.dice.choice(list(SENTENCES))
    stated: list[Stated] = []
    for label in plan.dice.sample(MARKINGS, plan.dice.choice((1, 2, 3))):
        least, most = plan.limits()
        figure = plan.figure(least, most)
        plan.free.append(plan.dice.choice(SENTENCES[plan.language]).format(label) + f"{figure} {plan.unit}.")
        stated.append(
            Stated(
                terminal=label,
                figure=figure,
                torque=(least * plan.factor, most * plan.factor),
                conductor=(None, None),
                spoken=True,
            )
        )
    plan.blocks, plan.loose = [], stated


FORMS: tuple[Form, ...] = (matrix, properties, sentences)


def make_form(dice: random.Random, layout: str) -> Plan:
    """A plan of one of the forms, its name its trait."""
    plan = make_plan(dice, layout)
    form = dice.choice(FORMS)
    form(plan)
    plan.traits.append(form.__name__)
    return plan
