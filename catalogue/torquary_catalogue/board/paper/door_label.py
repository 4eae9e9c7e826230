"""The label for the door of a board: its settings with their terminals, the day, by whom; as planned, or as done."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, Spacer, Table

from torquary_catalogue.board.history import State, Visit, Work, read_state
from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.paper.faces import lettering, mark_up
from torquary_catalogue.board.paper.page import look
from torquary_catalogue.board.paper.pieces import Swatch, count_alike
from torquary_catalogue.board.plan import Plan
from torquary_catalogue.board.plan_words import write_value
from torquary_catalogue.show.figures import write_torque
from torquary_catalogue.show.row_words import join

_WIDE = 150 * mm
MOST_SIGNS = 600
"""Signs that a label has for the terminals of one setting, about; the others are counted."""


Named = tuple[str, str]
"""A terminal as a label has it: the mark or place of its device, and its own name."""


def draw_label(plan: Plan, width: float, who: str) -> Iterator[Flowable]:
    """Yield the label of a plan, to cut out along its frame; what is not known yet is left to fill in."""
    settings = [
        (
            setting.number,
            write_value(setting, plan.unit),
            [_name_listed(task.terminal) for task in sorted(setting.tasks, key=lambda one: one.terminal.order)],
        )
        for setting in plan.settings
    ]
    told = "cut out along the frame when the work is done"
    yield from _draw(told, plan.board, width, settings, _plan_foot(plan, who))


def draw_record_label(visits: Sequence[Visit], width: float, unit: str) -> Iterator[Flowable]:
    """Yield the label of what was done at the visits to one board, in the order of their days."""
    state = read_state(visits)
    by_value: dict[str, list[Named]] = {}
    for work in sorted(state.set_last, key=_in_order):
        by_value.setdefault(write_torque((work.set_nm,) * 3, unit) or "value not recorded", []).append(_name(work))
    settings = [(at, *one) for at, one in enumerate(by_value.items(), start=1)]
    yield from _draw("what was set; cut out along the frame", visits[0].board, width, settings, _record_foot(state))


def _draw(
    told: str, board: str, width: float, settings: Sequence[tuple[int, str, Sequence[Named]]], foot: Iterable[str]
) -> Iterator[Flowable]:
    wide = min(width, _WIDE)
    yield Paragraph(f"Label for the door: {told}.", lettering(9, after=6))
    head = [
        Paragraph(f"<b>{mark_up(f'Board {board}')}</b>", lettering(18)),
        Paragraph("Terminals set by torque driver, to the makers' sheets", lettering(10)),
    ]
    rows: list[list[object]] = [[head, ""]]
    for number, value, named in settings:
        shown = Paragraph(f"<b>{mark_up(value)}</b>", lettering(14))
        rows.append([Swatch(number, 9 * mm), [shown, Paragraph(mark_up(name_terminals(named)), lettering(9))]])
    rows.append([[Paragraph(text, lettering(10)) for text in foot], ""])
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


def _plan_foot(plan: Plan, who: str) -> Iterator[str]:
    """Yield the foot: the days, by whom, with what, and how many terminals have no setting."""
    drivers = "; ".join(
        join(driver.name, f"calibrated {driver.calibrated}" if driver.calibrated else "")
        for driver in plan.drivers
    )
    line = "_" * 16
    yield f"Planned {plan.made_on}.  Done on {line}  by {mark_up(who) if who else line}"
    yield f"Driver: {mark_up(drivers) or line * 2}"
    not_done = len(plan.unsettled) + len(plan.not_settable)
    if not_done:
        yield f"<b>{not_done} terminal(s) of this board have no setting: see the plan.</b>"


def _record_foot(state: State) -> Iterator[str]:
    """Yield the foot: the days, by whom, with what, and which terminals are not as they should be."""
    days = list(dict.fromkeys(work.worked_at[:10] for work in state.set_last))
    who = list(dict.fromkeys(work.who for work in state.set_last))
    drivers = dict.fromkeys(
        join(work.driver, f"calibrated {work.calibrated}" if work.calibrated else "") for work in state.set_last
    )
    yield mark_up(f"Done on {', '.join(sorted(days)) or 'no day'} by {', '.join(who) or 'nobody'}")
    yield mark_up(f"Last visit {state.last_visit}. Driver: {'; '.join(filter(None, drivers)) or 'not recorded'}")
    for what, works in (("Found wrong and not set", state.wrong), ("Not set at any visit", state.never_set)):
        if works:
            named = name_terminals([_name(work) for work in sorted(works, key=_in_order)])
            yield f"<b>{mark_up(f'{what}: {named}')}</b>"


def _name_listed(one: ListedTerminal) -> Named:
    return one.place.mark or one.place.name or one.device, one.terminal


def _in_order(work: Work) -> list[tuple[int, str]]:
    """Return what puts terminals in order by the numbers in their names: "1.2 F2 | N" before "1.10 F1 | L1"."""
    return [(int(part), "") if part.isdigit() else (0, part) for part in re.split(r"([0-9]+)", work.terminal)]


def _name(work: Work) -> Named:
    """Return place and name of a terminal of a record; screws alike are one name."""
    place, bar, name = work.terminal.rpartition(" | ")
    return (place, re.sub(r", screw [0-9]+$", "", name)) if bar else (work.terminal, "")


def name_terminals(named: Sequence[Named]) -> str:
    """Name terminals shortly, device by device: "F3 line, load; X1 earth × 4"; of many count the
    others.
    """
    parts: list[str] = []
    left = len(named)
    for place, some in groupby(named, key=lambda one: one[0]):
        if sum(map(len, parts)) > MOST_SIGNS:
            return f"{'; '.join(parts)}; and {left} more terminals"
        names = [name for _, name in some]
        left -= len(names)
        counted = ", ".join(text for text, _ in count_alike([(name, None) for name in names]))
        parts.append(f"{place} {counted if len(counted) <= MOST_SIGNS else f'{len(names)} terminals'}")
    return "; ".join(parts)
