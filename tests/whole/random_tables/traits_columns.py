"""Traits of more columns: what else a sheet says of the screw, the conductor's end and the device."""

from __future__ import annotations

from sheet_plan import Column, Plan, Spot

# A concept of headings, a unit that its heading may name, and cells (ISO 8764-1, ISO 262, common practice).
COLUMNS = {
    "drive": ("", ("PZ2", "PH 2", "1.0 x 5.5", "SW 4")),
    "thread": ("", ("M3", "M3.5", "M4", "M5", "M6")),
    "strip_length": ("mm", ("8", "10", "12", "7.5")),
    "rated_current": ("A", ("16", "25", "63")),
}


def another_column(plan: Plan) -> bool:
    """One more column at a random place: the same text in each row, or texts of the rows' own."""
    concept = plan.dice.choice(list(COLUMNS))
    unit, cells = COLUMNS[concept]
    word = plan.word("heading", concept)
    if not word or "spans" in plan.taken or any(column.key == concept for column in plan.block.columns):
        return False
    at = plan.dice.randrange(len(plan.block.columns) + 1)
    if 0 < at < len(plan.block.columns) and plan.block.columns[at].group:
        at = len(plan.block.columns)
    alike = plan.dice.choice(cells)
    for row in plan.block.rows():
        text = alike if concept == "rated_current" else plan.dice.choice(cells)
        row.cells[concept] = Spot(text.replace(".", plan.mark))
    plan.block.columns.insert(at, Column(key=concept, heading=f"{word} {unit}".strip()))
    return True


TRAITS = (another_column,)
