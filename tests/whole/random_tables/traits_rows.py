"""Traits of rows and columns: spans, several sizes and kinds of conductor for a terminal, two units, two limits."""

from __future__ import annotations

from decimal import Decimal

from random_sheets import CASES, DASHES, UNITS
from sheet_plan import UNIT_PLACES, Column, Plan, Row, Spot, make_row, restate

# Kinds of conductors (IEC 60228 classes 1, 2 and 5) by vocabulary key.
KINDS = ("solid", "stranded", "flexible")
# Gauges from thin to thick with a torque in N·m that a terminal for them takes (common practice).
GAUGES = (("14", "10", "1.2"), ("12", "8", "2"), ("6", "2", "4"), ("2", "2/0", "6"), ("250", "500", "30"))


def several_sizes(plan: Plan) -> bool:
    """Each terminal has two or three sizes, its label in a cell that spans their rows."""
    if not claim(plan, "rows", "spans"):
        return False
    lines: list[Row | str] = []
    for row in plan.block.rows()[:4]:
        label = row.cells["terminal"]
        for case in sorted(plan.dice.sample(range(len(CASES)), plan.dice.choice((2, 3)))):
            made = make_row(plan, label.text, case)
            made.cells["terminal"] = label
            lines.append(made)
    plan.block.lines = lines
    return True


def torque_over_rows(plan: Plan) -> bool:
    """One torque in a cell that spans two or three rows."""
    if not claim(plan, "torque", "spans"):
        return False
    rows = plan.block.rows()
    for first in range(0, len(rows) - 1, 3):
        for row in rows[first + 1 : first + plan.dice.choice((2, 3))]:
            row.cells["torque"] = rows[first].cells["torque"]
            stated = rows[first].stated[0]
            restate(row, torque=stated.torque, figure=stated.figure)
    plan.look.place = plan.dice.choice(("middle", "line", "top"))
    return True


def device_column(plan: Plan) -> bool:
    """A column of devices, each in a cell over its rows."""
    heading = plan.word("heading", "model")
    if not heading or not claim(plan, "device", "spans"):
        return False
    names = plan.dice.sample(("LQ 16", "LQX-63", "Quay 125", "LQ-4P"), 3)
    rows = plan.block.rows()
    cuts = sorted(plan.dice.sample(range(1, len(rows)), min(2, len(rows) - 1)))
    spots = [Spot(name) for name in names]
    for number, row in enumerate(rows):
        at = sum(cut <= number for cut in cuts)
        row.cells["device"] = spots[at]
        restate(row, device=names[at])
    plan.block.columns.insert(plan.dice.choice((0, len(plan.block.columns))), Column(key="device", heading=heading))
    return True


def two_limits(plan: Plan) -> bool:
    """The torque in two columns, lowest and highest, under a common heading or with headings of their own."""
    low, high = plan.word("heading", "torque_min"), plan.word("heading", "torque_max")
    grouped = plan.dice.random() < 0.6
    if grouped:
        low, high = plan.word("heading", "minimum"), plan.word("heading", "maximum")
    if not low or not high or not claim(plan, "torque", "unit"):
        return False
    column = plan.block.column("torque")
    at = plan.block.columns.index(column)
    group, place = (
        (column.heading if grouped else ""),
        "{}" if grouped else plan.dice.choice(list(UNIT_PLACES.values())),
    )
    plan.block.columns[at : at + 1] = [
        Column(key=key, heading=place.format(word, plan.unit), group=group)
        for key, word in (("least", low), ("most", high))
    ]
    for row in plan.block.rows():
        least, most = (Decimal(value) / plan.factor for value in row.stated[0].torque if value is not None)
        least, most = round(least, 3), round(most, 3)
        row.cells |= {"least": Spot(plan.number(least)), "most": Spot(plan.number(most))}
        restate(row, figure=f"{plan.number(least)} | {plan.number(most)}")
    return True


def two_units(plan: Plan) -> bool:
    """The torque in N·m and in a second unit beside it, rounded; sometimes a row in which they do not agree."""
    if not claim(plan, "torque", "unit"):
        return False
    dice, block = plan.dice, plan.block
    word = block.column("torque").heading.rsplit(plan.unit, 1)[0].rstrip(" ([,")
    second = dice.choice(("lb·in", "lbf·in", "in-lb", "kgf·cm"))
    place, group = dice.choice(list(UNIT_PLACES.values())), word if dice.random() < 0.6 else ""
    at = block.columns.index(block.column("torque"))
    heads = ["N·m", second] if group else [place.format(word, unit) for unit in ("N·m", second)]
    block.columns[at : at + 1] = [
        Column(key=key, heading=head, group=group) for key, head in zip(("first", "second"), heads, strict=True)
    ]
    wrong = dice.choice(block.rows()) if dice.random() < 0.25 else None
    for row in block.rows():
        metric = Decimal(dice.choice(CASES[0 if row.stated[0].conductor[0] == Decimal("0.75") else 1][2]))
        other = round(metric / UNITS[second] * (Decimal("1.3") if row is wrong else 1), 1)
        row.cells |= {"first": Spot(plan.number(metric)), "second": Spot(plan.number(other))}
        restate(
            row, figure=f"{plan.number(metric)} | {plan.number(other)}", torque=(metric, metric),
            also=(other * UNITS[second],) * 2, unsettled=row is wrong,
        )  # fmt: skip
    return True


def kinds_in_rows(plan: Plan) -> bool:
    """Each terminal with rows for solid, stranded and flexible conductors, each with its own sizes and torque."""
    heading, words = plan.word("heading", "stranding"), [plan.word("stranding", kind) for kind in KINDS]
    if not heading or not all(words) or not claim(plan, "rows", "spans"):
        return False
    lines: list[Row | str] = []
    for row in plan.block.rows()[:3]:
        label = row.cells["terminal"]
        for kind, word in zip(KINDS, words, strict=True):
            made = make_row(plan, label.text)
            made.cells |= {"terminal": label, "kind": Spot(str(word))}
            restate(made, stranding=kind)
            lines.append(made)
    plan.block.lines = lines
    plan.block.columns.append(Column(key="kind", heading=heading))
    return True


def gauges(plan: Plan) -> bool:
    """Sizes in AWG or kcmil, instead of mm² or in a column beside them."""
    if not claim(plan, "size", "torque"):
        return False
    dice, block, beside = plan.dice, plan.block, plan.dice.random() < 0.4
    for row in block.rows():
        thin, thick, torque = dice.choice(GAUGES)
        system = "kcmil" if thin == "250" else "AWG"
        metric = round(Decimal(torque) / plan.factor, 2 if plan.factor >= 1 else 0)
        dash = dice.choice(DASHES[:4])
        text = dice.choice((f"{system} {thin}{dash}{thick}", f"{thin}{dash}{thick} {system}"))
        gauge = (thin, thick) if system == "AWG" else (f"{thin} kcmil", f"{thick} kcmil")
        row.cells |= {"gauge": Spot(text), "torque": Spot(plan.number(metric))}
        value = metric * plan.factor
        restate(row, torque=(value, value), figure=plan.number(metric), gauge=gauge)
        if not beside:
            restate(row, conductor=(None, None), size=text)
        else:
            # Sizes in mm² beside a gauge: common practice.
            low, high = {"14": ("2.5", "6"), "12": ("4", "10"), "6": ("16", "35"), "2": ("35", "70")}.get(
                thin, ("120", "240")
            )
            row.cells["size"] = Spot((low + dash + high).replace(".", plan.mark))
            restate(row, conductor=(Decimal(low), Decimal(high)), size=row.cells["size"].text)
    column = block.column("size")
    at, word = block.columns.index(column), column.heading.removesuffix(" mm²")
    made = Column(key="gauge", heading=word if not beside else dice.choice(("AWG", "AWG / kcmil")))
    block.columns[at : at + 1] = [column, made] if beside else [made]
    return True


def claim(plan: Plan, *parts: str) -> bool:
    """Claim parts of the plan for a trait; False when another has one of them, or a turned table has no spans."""
    if plan.taken & set(parts) or (plan.layout == "transposed" and {"spans", "unit"} & set(parts)):
        return False
    plan.taken |= set(parts)
    return True


TRAITS = (several_sizes, kinds_in_rows, device_column, torque_over_rows, two_limits, two_units, gauges)
