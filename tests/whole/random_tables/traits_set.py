"""Traits of setting: texts of several lines, set right or in the middle, grey rows, few rules."""

from __future__ import annotations

import re

from sheet_plan import Plan, Row, Spot

_WORD = re.compile(r"[^\W\d_]{11,}")
_PARTS = re.compile(r"[^\W\d_]{2,}[.,]? [^\W\d_]{2,}")


def broken_headings(plan: Plan) -> bool:
    """Headings set in two lines: parted at a blank, or a long word with a hyphen."""
    if plan.layout == "csv":
        return False
    plan.look.upper = plan.dice.random() < 0.5
    return any([_break_heading(plan, column) for block in plan.blocks for column in block.columns])


def _break_heading(plan: Plan, column: object) -> bool:
    before = column.heading  # type: ignore[attr-defined]
    column.heading = _in_two(before, hyphens=plan.dice.random() < 0.5)  # type: ignore[attr-defined]
    return column.heading != before  # type: ignore[attr-defined]


def broken_labels(plan: Plan) -> bool:
    """Terminals' names of several words set in two lines."""
    if plan.layout == "csv":
        return False
    plan.look.upper = plan.dice.random() < 0.5
    spots: list[Spot] = [row.cells["terminal"] for block in plan.blocks for row in block.rows()]
    for spot in spots:
        spot.text = _in_two(spot.text, hyphens=False)
    return any("\n" in spot.text for spot in spots)


def _in_two(text: str, *, hyphens: bool) -> str:
    """A text in two lines, if it has a blank between words, or a word long enough for a hyphen."""
    blanks = [match.start() + match[0].index(" ") for match in _PARTS.finditer(text)]
    if blanks and "\n" not in text:
        at = min(blanks, key=lambda place: abs(place - len(text) / 2))
        return f"{text[:at]}\n{text[at + 1 :]}"
    word = _WORD.search(text)
    if hyphens and word and text[word.start() + 5].isascii():
        at = (word.start() + word.end()) // 2
        return f"{text[:at]}-\n{text[at:]}"
    return text


def set_aside(plan: Plan) -> bool:
    """Texts set at the right or in the middle of their cells, but for the first column."""
    plan.look.side = plan.dice.choice(("middle", "right"))
    return plan.layout != "csv"


def shaded_rows(plan: Plan) -> bool:
    """Every other row on a grey ground."""
    plan.look.shaded = True
    return plan.layout not in ("csv", "transposed")


def few_rules(plan: Plan) -> bool:
    """Rules above and below the heading and at the end of the table, and no others."""
    bands = any(not isinstance(line, Row) for block in plan.blocks for line in block.lines)
    if plan.layout not in ("ruled", "lines") or bands:
        return False
    plan.look.sparse = True
    return True


def dense_rows(plan: Plan) -> bool:
    """Rows hardly further apart than the lines of a text, or no further."""
    plan.look.padding = plan.dice.choice((0.0, 0.2, 0.5))
    return plan.layout != "csv"


TRAITS = (broken_headings, broken_labels, set_aside, shaded_rows, few_rules, dense_rows)
