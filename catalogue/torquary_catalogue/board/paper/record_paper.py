"""The record of visits to a board on paper: what was found and done, terminal by terminal, and what
had loosened.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

from reportlab.lib.colors import black, lightgrey
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, PageBreak, Paragraph, Spacer, Table

from torquary_catalogue.board.history import Compared, Visit, Work
from torquary_catalogue.board.history_text import say_counts, write_compared, write_details
from torquary_catalogue.board.paper.door_label import draw_record_label
from torquary_catalogue.board.paper.faces import lettering, mark_up
from torquary_catalogue.board.paper.page import look, put_together, width_within
from torquary_catalogue.board.paper.pieces import Tick
from torquary_catalogue.board.record import FOUND, IN_WORDS

_TICK_WIDE, _VALUE_WIDE = 15.5 * mm, 22 * mm


def write_record_paper(
    visits: Sequence[Visit],
    compared: Sequence[tuple[Visit, Visit, Sequence[Compared]]],
    *,
    unit: str,
    size: str,
) -> bytes:
    """Return the visits, each on pages of its own, and a label for the door of each board, as PDF; torques in the unit
    (canonical name).
    """
    width = width_within(size)
    story: list[Flowable] = []
    for at, visit in enumerate(visits):
        story += [PageBreak()] if at else []
        story += _write_visit(visit, unit, width)
        for first, second, some in compared:
            if second is visit:
                lines = write_compared(first, second, some, unit)
                story += [Spacer(0, 10), *(_say(line.strip(), 10) for line in lines)]
        story.append(_sign(width))
    for _, alike in groupby(visits, key=lambda visit: visit.board):
        story.append(KeepTogether([Spacer(0, 14), *draw_record_label(list(alike), width, unit)]))
    boards = ", ".join(dict.fromkeys(visit.board for visit in visits))
    foot = f"Board {boards} · record of work"
    return put_together(story, title=f"Record of work, board {boards}", foot=foot, size=size)


def _say(text: str, size: float, *, bold: bool = False) -> Paragraph:
    return Paragraph(mark_up(text), lettering(size, bold=bold))


def _write_visit(visit: Visit, unit: str, width: float) -> Iterator[Flowable]:
    yield _say(f"Board {visit.board}", 22, bold=True)
    yield _say(f"Record of the visit of {visit.day}: {say_counts(visit)}", 11)
    yield Spacer(0, 8)
    words = [*(IN_WORDS[key] for key in FOUND), "set", "to"]
    rows: list[list[Any]] = [[_say("Terminal", 9, bold=True), *(_say(word, 7) for word in words)]]
    rows += [_write_row(work, unit) for work in visit.works]
    ticks = [_TICK_WIDE] * (len(FOUND) + 1)
    wide = [width - sum(ticks) - _VALUE_WIDE, *ticks, _VALUE_WIDE]
    grid = look(
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ("BACKGROUND", (0, 0), (-1, 0), lightgrey),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, black),
        ("LEFTPADDING", (0, 0), (0, -1), 4),
    )
    yield Table(rows, colWidths=wide, style=grid, repeatRows=1)


def _write_row(work: Work, unit: str) -> list[Any]:
    value, details = write_details(work, unit)
    named = [_say(work.terminal, 11, bold=True), *([_say(details, 8)] if details else [])]
    ticks = [Tick(ticked=work.found == key) for key in FOUND]
    return [named, *ticks, Tick(ticked=work.done), _say(value if work.done else "", 10)]


def _sign(width: float) -> Flowable:
    cells = [[_say("Signed:", 10), _say("Seen by:", 10)]]
    lines = look(("LINEBELOW", (0, 0), (-1, -1), 0.6, black), ("TOPPADDING", (0, 0), (-1, -1), 14))
    return KeepTogether([Spacer(0, 14), Table(cells, colWidths=[width / 2] * 2, style=lines)])
