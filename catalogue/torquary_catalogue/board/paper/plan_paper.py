"""A work plan on paper: cautions, the board drawn, each setting with boxes to tick, the sheets
used, a door label.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.lib.colors import black, lightgrey
from reportlab.lib.units import mm
from reportlab.platypus import (
    Flowable,
    HRFlowable,
    KeepTogether,
    PageBreak,
    Paragraph,
    Spacer,
    Table,
)

from torquary_catalogue.board.paper.board_drawing import draw_board
from torquary_catalogue.board.paper.door_label import draw_label
from torquary_catalogue.board.paper.faces import lettering, mark_up
from torquary_catalogue.board.paper.page import SIZES, look, put_together, width_within
from torquary_catalogue.board.paper.pieces import Swatch, Tick
from torquary_catalogue.board.plan import CAUTIONS, STEPS, DriverSetting, Plan, Task, name_sheets
from torquary_catalogue.board.plan_text import say_not_settable, say_unsettled, say_wrong
from torquary_catalogue.board.plan_words import (
    say_alike,
    say_count,
    say_fitted,
    say_setting,
    write_bit_of,
    write_value,
)
from torquary_catalogue.board.record import IN_WORDS
from torquary_catalogue.show.row_words import join

__all__ = ["SIZES", "write_plan_paper"]

_FOUND = tuple(IN_WORDS.values())
_FOUND_WIDE, _DONE_WIDE = 15 * mm, 11 * mm
_GRID = (
    ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
    ("TOPPADDING", (0, 0), (-1, -1), 2),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
    ("LEFTPADDING", (0, 0), (0, -1), 4),
    ("NOSPLIT", (0, 0), (-1, 1)),
)
_DASH = "Number and pattern tell the setting of a terminal; a stroke: it is not planned."


def write_plan_paper(plans: Sequence[Plan], *, size: str = "a4", who: str = "") -> bytes:
    """Return the plans of a list's boards as PDF; `size` is a key of SIZES, `who` does the work
    ("": to fill in).
    """
    story: list[Flowable] = []
    for at, plan in enumerate(plans):
        story += [PageBreak()] if at else []
        story += _write_plan(plan, width_within(size), who)
    boards = ", ".join(plan.board for plan in plans)
    foot = f"Board {boards} · work plan of {plans[0].made_on}"
    return put_together(story, title=f"Work plan, board {boards}", foot=foot, size=size)


def _write_plan(plan: Plan, width: float, who: str) -> Iterator[Flowable]:
    yield _say(f"Board {plan.board}", 22, bold=True, after=2)
    yield _say(f"Work plan of {plan.made_on}: {say_count(plan)}", 10, after=6)
    yield _frame([_say(f"! {caution}", 12, bold=True) for caution in CAUTIONS], width)
    for title, lines in (
        ("Before the work begins", say_wrong(plan)),
        ("Without a certain figure: not planned", say_unsettled(plan)),
        ("Certain, but no driver at hand can be set to it", say_not_settable(plan)),
    ):
        yield from _list(title, [*lines])
    yield from _list("The board", [_DASH])
    yield from draw_board(plan, width)
    yield from _list(
        "At each terminal", [f"{at}. {step}" for at, step in enumerate(STEPS, start=1)]
    )
    for setting in plan.settings:
        yield from _write_setting(setting, plan.unit, width)
    if plan.left_out:
        yield from _list("Left out", [f"{one.name}: {one.joint}" for one in plan.left_out])
    yield from _list(
        "Sheets used",
        [join(*sheet) for sheet in name_sheets([task.certain for task in plan.tasks])],
    )
    yield _sign(width, who)
    yield KeepTogether([Spacer(0, 20), *draw_label(plan, width, who)])


def _say(
    text: str, size: float, *, bold: bool = False, indent: float = 0, after: float = 0
) -> Paragraph:
    return Paragraph(mark_up(text), lettering(size, bold=bold, indent=indent, after=after))


def _list(title: str, lines: Sequence[str]) -> Iterator[Flowable]:
    """Yield a heading with its lines, indented as they begin with blanks; nothing where there are
    no lines.
    """
    if not lines:
        return
    yield Spacer(0, 8)
    yield _say(title, 13, bold=True, after=3)
    for line in lines:
        yield _say(line.strip(), 9.5, indent=_indent(line), after=1)


def _indent(line: str) -> float:
    return 2.0 * max(len(line) - len(line.lstrip(" ")) - 2, 0)


def _frame(inside: Sequence[Flowable], width: float) -> Table:
    box = look(
        ("BOX", (0, 0), (-1, -1), 1.5, black),
        ("LEFTPADDING", (0, 0), (-1, -1), 8),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
    )
    return Table([[list(inside)]], colWidths=[width], style=box)


def _write_setting(setting: DriverSetting, unit: str, width: float) -> Iterator[Flowable]:
    value = _say(f"SET {write_value(setting, unit)}", 22, bold=True)
    said = [_say(line, 10) for line in say_setting(setting, unit)]
    head = Table([[Swatch(setting.number), [value, *said]]], colWidths=[16 * mm, width - 16 * mm])
    head.setStyle(
        look(("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("LEFTPADDING", (0, 0), (-1, -1), 0))
    )
    first: list[Flowable] = [Spacer(0, 12), head]
    for batch in setting.batches:
        bit = write_bit_of(batch)
        for tasks, lines in say_alike(batch.tasks, unit):
            under = [_say(line, 8.5, indent=8 * mm) for line in lines]
            rule = HRFlowable(width="100%", thickness=0.5, color=black, spaceBefore=3, spaceAfter=0)
            yield KeepTogether([*first, _write_tasks(tasks, width, bit), *under, rule])
            first, bit = [], ""


def _write_tasks(tasks: Sequence[Task], width: float, bit: str) -> Table:
    """Return the rows of terminals, each with its boxes; the `bit` heads the first of a batch."""
    name_wide = width - len(_FOUND) * _FOUND_WIDE - _DONE_WIDE
    rows: list[list[Any]] = []
    if bit:
        rows.append(
            [_say(f"bit: {bit}", 11, bold=True), *(_say(word, 7) for word in (*_FOUND, "set"))]
        )
    for task in tasks:
        fitted = say_fitted(task)
        name = f"<b>{mark_up(task.terminal.name)}</b>" + (f"  {mark_up(fitted)}" if fitted else "")
        rows.append([Paragraph(name, lettering(12)), *(Tick() for _ in _FOUND), Tick()])
    head = [("BACKGROUND", (0, 0), (-1, 0), lightgrey)] if bit else []
    wide = [name_wide, *[_FOUND_WIDE] * len(_FOUND), _DONE_WIDE]
    return Table(rows, colWidths=wide, style=look(*_GRID, *head))


def _sign(width: float, who: str) -> Flowable:
    """Return lines for who did the work, when, and with what."""
    names = (f"Done by: {who}" if who else "Done by:", "Date:", "Driver, calibrated:", "Seen by:")
    cells = [[_say(name, 10) for name in names[at : at + 2]] for at in (0, 2)]
    lines = look(("LINEBELOW", (0, 0), (-1, -1), 0.6, black), ("TOPPADDING", (0, 0), (-1, -1), 10))
    return KeepTogether([Spacer(0, 14), Table(cells, colWidths=[width / 2] * 2, style=lines)])
