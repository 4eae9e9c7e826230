"""The history of a board: its visits, what was found at each, and what changed from one to the
next.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from torquary_catalogue.decimals import shorten
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.work_entries import read_work

Change = Literal["loosened", "left loose", "over-tight", "held", "not checked", "new"]
_WRONG = ("loose", "over_tight")
_STATES: dict[str, Change] = {
    "over_tight": "over-tight",
    "as_set": "held",
    "not_checked": "not checked",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What holds of one terminal at a visit; `corrects` are the numbers of entries that it took the
    place of.
    """

    number: int
    terminal: str
    found: str
    done: bool
    who: str
    worked_at: str
    driver: str
    calibrated: str
    set_nm: Decimal | None
    photo: str
    remark: str
    corrects: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """One visit to a board, its terminals in the order in which they were first taken in."""

    board: str
    day: str
    works: tuple[Work, ...]

    @property
    def counts(self) -> Mapping[str, int]:
        """How often terminals were found as what."""
        return Counter(work.found for work in self.works)

    @property
    def done(self) -> int:
        """How many terminals were set."""
        return sum(work.done for work in self.works)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One terminal at two visits: `first` None where it was not in the first, `second` where not in
    the second.

    "loosened": set at the first, loose at the second; "left loose": loose, and not set before;
    "held": as set.
    """

    terminal: str
    change: Change
    first: Work | None
    second: Work | None

    @property
    def other_setting(self) -> bool:
        """Whether it was set to another torque."""
        before, now = (one and one.set_nm for one in (self.first, self.second))
        return before is not None and now is not None and before != now


def read_visits(catalogue: Catalogue, board: str | None = None) -> list[Visit]:
    """Return the visits to a board, or to all boards, board by board and in the order of their
    days.
    """
    found: dict[tuple[str, str], dict[str, list[dict[str, Any]]]] = {}
    for row in read_work(catalogue, board):
        found.setdefault((row["board"], row["visit"]), {}).setdefault(row["terminal"], []).append(
            row
        )
    return [
        Visit(board=name, day=day, works=tuple(_read(rows) for rows in terminals.values()))
        for (name, day), terminals in sorted(
            found.items(), key=lambda one: (one[0][0].lower(), one[0][1])
        )
    ]


def _read(rows: Sequence[dict[str, Any]]) -> Work:
    last = rows[-1]
    names = (
        "number",
        "terminal",
        "found",
        "done",
        "who",
        "worked_at",
        "driver",
        "calibrated",
        "photo",
        "remark",
    )
    before = tuple(row["number"] for row in rows[:-1])
    return Work(
        **{name: last[name] for name in names}, set_nm=shorten(last["set_nm"]), corrects=before
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """How the terminals of a board stand after its visits.

    `set_last`: the last work that set each, in the order of the visits; `wrong` were found loose or over-tight at the
    last look and not set; `never_set` were set at no visit, and not found wrong at the last.
    """

    last_visit: str
    set_last: tuple[Work, ...]
    wrong: tuple[Work, ...]
    never_set: tuple[Work, ...]


def read_state(visits: Sequence[Visit]) -> State:
    """Return how a board stands after its visits, which are in the order of their days."""
    works: dict[str, list[Work]] = {}
    for visit in visits:
        for work in visit.works:
            works.setdefault(work.terminal, []).append(work)
    told = {name: _tell_state(some) for name, some in works.items()}
    wrong = [name for name, (last, _) in told.items() if last.found in _WRONG and not last.done]
    rest = [one for name, one in told.items() if name not in wrong]
    return State(
        last_visit=visits[-1].day,
        set_last=tuple(done for _, done in rest if done is not None),
        wrong=tuple(told[name][0] for name in wrong),
        never_set=tuple(last for last, done in rest if done is None),
    )


def _tell_state(works: Sequence[Work]) -> tuple[Work, Work | None]:
    """Return the last work that looked at a terminal (or the last), and the last that set it."""
    looked = [work for work in works if work.found != "not_checked"] or works
    return looked[-1], next((work for work in reversed(works) if work.done), None)


def compare_visits(first: Visit, second: Visit) -> tuple[Compared, ...]:
    """Return each terminal of two visits with what became of it, what had loosened first."""
    before, now = ({work.terminal: work for work in visit.works} for visit in (first, second))
    both = {name: (before.get(name), now.get(name)) for name in (*now, *before)}
    compared = [
        Compared(terminal=name, change=_tell(*works), first=works[0], second=works[1])
        for name, works in both.items()
    ]
    order = ("loosened", "left loose", "over-tight", "not checked", "new", "held")
    return tuple(sorted(compared, key=lambda one: order.index(one.change)))


def _tell(first: Work | None, second: Work | None) -> Change:
    if second is None or second.found == "not_checked":
        return "not checked"
    if first is None:
        return "new"
    if second.found == "loose":
        return "loosened" if first.done or first.found == "as_set" else "left loose"
    return _STATES[second.found]


def last_two(visits: Sequence[Visit]) -> Iterator[tuple[Visit, Visit]]:
    """Yield the last visit of each board with the one before it."""
    by_board: dict[str, list[Visit]] = {}
    for visit in visits:
        by_board.setdefault(visit.board, []).append(visit)
    for some in by_board.values():
        if len(some) > 1:
            yield some[-2], some[-1]
