"""The board of a plan drawn in rows and ways, each terminal with the sign of its setting."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from reportlab.platypus import Flowable, Spacer

from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.paper.pieces import BoardDrawing, Way, count_alike
from torquary_catalogue.board.plan import Plan


def draw_board(plan: Plan, width: float) -> Iterator[Flowable]:
    """Yield the rows of the board from the top; what has no row comes last."""
    numbers = {task.terminal.name: setting.number for setting in plan.settings for task in setting.tasks}
    for row, terminals in groupby(plan.terminals, key=lambda one: one.place.row):
        ways = [_make_way(list(some), numbers) for _, some in groupby(terminals, key=_way)]
        yield BoardDrawing(f"Row {row}" if row else "Without a row", ways, width)
        yield Spacer(0, 4)


def _way(one: ListedTerminal) -> tuple[int | None, str, str]:
    return one.place.way, one.place.mark, "" if one.place.way or one.place.mark else one.device


def _make_way(terminals: list[ListedTerminal], numbers: dict[str, int]) -> Way:
    place = terminals[0].place
    name = " ".join(filter(None, (str(place.way or ""), place.mark or terminals[0].device)))
    shown = [(one.terminal or one.joint, numbers.get(one.name)) for one in terminals]
    return Way(name=name, terminals=count_alike(shown))
