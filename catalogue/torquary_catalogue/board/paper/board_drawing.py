"""The board of a plan drawn in rows and ways, each terminal with the sign of its setting."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from reportlab.platypus import Flowable, Spacer

from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.paper.pieces import (
    MOST_LINES,
    MOST_WAYS,
    BoardDrawing,
    Way,
    count_alike,
)
from torquary_catalogue.board.plan import Plan


def draw_board(plan: Plan, width: float) -> Iterator[Flowable]:
    """Yield the rows of the board from the top; what has no row comes last."""
    numbers = {
        task.terminal.name: setting.number for setting in plan.settings for task in setting.tasks
    }
    for row, terminals in groupby(plan.terminals, key=lambda one: one.place.row):
        ways = [
            way
            for _, some in groupby(terminals, key=_way)
            for way in _make_ways(list(some), numbers)
        ]
        for at in range(0, len(ways), MOST_WAYS):
            name = f"Row {row}" if row else "Without a row"
            yield BoardDrawing("" if at else name, ways[at : at + MOST_WAYS], width)
        yield Spacer(0, 4)


def _way(one: ListedTerminal) -> tuple[int | None, str, str]:
    return one.place.way, one.place.mark, "" if one.place.way or one.place.mark else one.device


def _make_ways(terminals: list[ListedTerminal], numbers: dict[str, int]) -> Iterator[Way]:
    """Yield what sits in one way, in as many boxes as its terminals need."""
    place = terminals[0].place
    name = " ".join(filter(None, (str(place.way or ""), place.mark or terminals[0].device)))
    lines = count_alike([(one.terminal or one.joint, numbers.get(one.name)) for one in terminals])
    for at in range(0, len(lines), MOST_LINES):
        yield Way(
            name=name if not at else f"{name} (goes on)", terminals=lines[at : at + MOST_LINES]
        )
