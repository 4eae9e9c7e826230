"""The label for the door of a board: its settings with their terminals, the day, by whom."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, Spacer, Table

from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.paper.faces import lettering, mark_up
from torquary_catalogue.board.paper.page import look
from torquary_catalogue.board.paper.pieces import Swatch, count_alike
from torquary_catalogue.board.plan import Plan
from torquary_catalogue.board.plan_words import write_value
from torquary_catalogue.show.row_words import join

_WIDE = 150 * mm
MOST_SIGNS = 600
"""Signs that a label has for the terminals of one setting, about; the others are counted."""


def draw_label(plan: Plan, width: float, who: str) -> Iterator[Flowable]:
    """Yield the label, to cut out along its frame; what is not known yet is left to fill in."""
    wide = min(width, _WIDE)
    yield Paragraph(
        "Label for the door: cut out along the frame when the work is done.", lettering(9, after=6)
    )
    head = [
        Paragraph(f"<b>{mark_up(f'Board {plan.board}')}</b>", lettering(18)),
        Paragraph("Terminals set by torque driver, to the makers' sheets", lettering(10)),
    ]
    rows: list[list[object]] = [[head, ""]]
    for setting in plan.settings:
        value = Paragraph(f"<b>{mark_up(write_value(setting, plan.unit))}</b>", lettering(14))
        named = Paragraph(
            mark_up(name_terminals([task.terminal for task in setting.tasks])), lettering(9)
        )
        rows.append([Swatch(setting.number, 9 * mm), [value, named]])
    rows.append([_write_foot(plan, who), ""])
    style_of = look(
        ("BOX", (0, 0), (-1, -1), 1.5, black),
        ("SPAN", (0, 0), (-1, 0)),
        ("SPAN", (0, -1), (-1, -1)),
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ("LINEABOVE", (0, 1), (-1, -1), 0.5, black),
        ("TOPPADDING", (0, 0), (-1, -1), 4),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
    )
    yield Table(rows, colWidths=[14 * mm, wide - 14 * mm], style=style_of, hAlign="LEFT")
    yield Spacer(0, 4)


def _write_foot(plan: Plan, who: str) -> list[Flowable]:
    """Return the foot: the days, by whom, with what, and how many terminals have no setting."""
    drivers = "; ".join(
        join(driver.name, f"calibrated {driver.calibrated}" if driver.calibrated else "")
        for driver in plan.drivers
    )
    line = "_" * 16
    lines = [
        f"Planned {plan.made_on}.  Done on {line}  by {mark_up(who) if who else line}",
        f"Driver: {mark_up(drivers) or line * 2}",
    ]
    not_done = len(plan.unsettled) + len(plan.not_settable)
    if not_done:
        lines.append(f"<b>{not_done} terminal(s) of this board have no setting: see the plan.</b>")
    return [Paragraph(text, lettering(10)) for text in lines]


def name_terminals(terminals: Sequence[ListedTerminal]) -> str:
    """Name terminals shortly, device by device: "F3 line, load; X1 earth × 4"; of many count the
    others.
    """
    ordered = sorted(terminals, key=lambda one: one.order)
    parts: list[str] = []
    left = len(ordered)
    for place, some in groupby(
        ordered, key=lambda one: one.place.mark or one.place.name or one.device
    ):
        if sum(map(len, parts)) > MOST_SIGNS:
            return f"{'; '.join(parts)}; and {left} more terminals: see the plan"
        terminals_here = list(some)
        left -= len(terminals_here)
        counted = count_alike([(one.terminal, None) for one in terminals_here])
        named = ", ".join(text for text, _ in counted)
        parts.append(
            f"{place} {named if len(named) <= MOST_SIGNS else f'{len(terminals_here)} terminals'}"
        )
    return "; ".join(parts)
