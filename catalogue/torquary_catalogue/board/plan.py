"""The plan of the work on one board: what is certain in settings, the fewest of them; what is not,
first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from torquary_catalogue.board.bands import Band, Verdict
from torquary_catalogue.board.driver import Driver
from torquary_catalogue.board.listed import ListedTerminal, ListFault
from torquary_catalogue.board.settled import Certain, Unsettled
from torquary_catalogue.find.answer import CAUTIONS as OF_ANSWERS

CAUTIONS = (
    "Isolate the board from every source, lock it off, and prove it dead before you touch it.",
    *OF_ANSWERS[1:],
)
"""They stand first in every plan (EN 50110-1 and others: disconnect, secure, prove dead)."""

STEPS = (
    "Look whether the terminal is the one named, and whether its conductor sits as it should.",
    "Slacken the screw a little first: a screw that is too tight passes unnoticed else.",
    "Tighten slowly to the setting, until the driver gives way; once, not twice.",
    "Look that the conductor is held; a bit that does not quite sit is the wrong one.",
    "Do all terminals of this setting before the driver is reset.",
)
"""Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One terminal to set. `verdict` is on the driver's deviation, None without a driver or its
    deviation.
    """

    certain: Certain
    verdict: Verdict | None

    @property
    def terminal(self) -> ListedTerminal:
        """The screw."""
        return self.certain.terminal


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """The terminals of one setting that take the same bit, in the board's own order; `bit` "" where
    none is printed.
    """

    bit: str
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DriverSetting:
    """One setting of a driver, by its number in the order of the work.

    `value` is in `unit` (canonical name), `value_nm` the same in N·m; `where` says where it stands
    on the scale, "" without a driver. `shared` is what the printed bands of its terminals have in
    common.
    """

    number: int
    driver: str
    value: Decimal
    unit: str
    value_nm: Decimal
    where: str
    shared: Band
    batches: tuple[Batch, ...]

    @property
    def tasks(self) -> tuple[Task, ...]:
        """All terminals, in the order of the work."""
        return tuple(task for batch in self.batches for task in batch.tasks)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSettable:
    """A terminal whose figure is certain and that no driver at hand can be set to, and why."""

    certain: Certain
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What is to be done on a board, in the order in which it is to be read.

    `faults` are of the list, `warnings` of the drivers: both are said before the work begins.
    The settings are the fewest there can be, of as few drivers as that takes, each taken up once; `bit_changes` counts
    the changes of bit, and `fewest_proved` tells whether it is proved that no others ask for fewer. `left_out` are
    spare ways and spring terminals.
    """

    board: str
    made_on: date
    unit: str
    drivers: tuple[Driver, ...]
    faults: tuple[ListFault, ...]
    warnings: tuple[str, ...]
    unsettled: tuple[Unsettled, ...]
    not_settable: tuple[NotSettable, ...]
    left_out: tuple[ListedTerminal, ...]
    settings: tuple[DriverSetting, ...]
    bit_changes: int
    fewest_proved: bool

    @property
    def is_whole(self) -> bool:
        """Whether nothing is wrong and every terminal that is to be tightened is planned."""
        return not (self.faults or self.warnings or self.unsettled or self.not_settable)

    @property
    def tasks(self) -> tuple[Task, ...]:
        """All terminals that are planned, in the order of the work."""
        return tuple(task for setting in self.settings for task in setting.tasks)

    @property
    def terminals(self) -> tuple[ListedTerminal, ...]:
        """Every terminal of the board that the list has, in the board's own order."""
        others = [one.terminal for one in self.unsettled] + [
            one.certain.terminal for one in self.not_settable
        ]
        every = [*(task.terminal for task in self.tasks), *others, *self.left_out]
        return tuple(sorted(every, key=lambda one: one.order))


def name_sheets(certain: Sequence[Certain]) -> list[tuple[str, str, str]]:
    """Return the sheets that figures stand on: file, title and edition, each once."""
    rows = [row for one in certain for row in one.rows]
    return list(dict.fromkeys((row.file, row.title, row.edition) for row in rows))
