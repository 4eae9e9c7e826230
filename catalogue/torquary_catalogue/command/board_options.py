"""What the commands about boards share: reading lists and drivers, and making plans."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from torquary_catalogue.errors import WRONG_USE, TorquaryError

if TYPE_CHECKING:
    from torquary_catalogue.board.driver import Driver
    from torquary_catalogue.board.listed import BoardList
    from torquary_catalogue.board.plan import Plan
    from torquary_catalogue.store import Catalogue




def read_list(path: Path, given: Sequence[str], catalogue: Path) -> BoardList:
    """Return a board list, its headings as they are explained: on the command line (HEADING=KEY), which is kept for
    lists with the same headings, or before.

    What was kept and what is used is said; `TorquaryError` (status 2) for an explanation that is none, and for a list
    of which no row can be planned.
    """
    from torquary_catalogue.board.board_list import read_board_list
    from torquary_catalogue.board.list_profile import choose_profile, keep_list_profile, read_list_profiles
    from torquary_catalogue.show.visible import say
    from torquary_schema.words import fold

    explained = _read_headings(given)
    profiles = read_list_profiles(catalogue)
    listed = read_board_list(path, explained, profiles)
    printed = {fold(heading): heading for heading in listed.headings}
    strange = next((one for one in given if fold(one.rpartition("=")[0]) not in printed), None)
    if strange is not None:
        shown = " | ".join(listed.headings)
        raise TorquaryError(f"--heading {strange!r}: the list has no such heading ({shown})", status=WRONG_USE)
    profile = choose_profile(profiles, listed.headings)
    used = {**(profile.explained if profile else {}), **explained}
    told = "; ".join(f"{printed[heading]!r} is {key}" for heading, key in used.items())
    if explained:
        kept = keep_list_profile(catalogue, path, listed.headings, used)
        say(f"{kept}: kept for lists with these headings: {told}", err=True)
    elif profile and used:
        say(f"{profile.path}: used for the headings of {path.name}: {told}", err=True)
    if not listed.terminals:
        if listed.faults:
            say(*(fault.text for fault in listed.faults), err=True)
        raise TorquaryError(f"{path}: no row of the list can be planned", status=WRONG_USE)
    return listed


def _read_headings(given: Sequence[str]) -> dict[str, str]:
    """Return headings explained on the command line, folded → key of the column."""
    from torquary_catalogue.board.columns import UNUSED, columns
    from torquary_schema.words import fold

    explained: dict[str, str] = {}
    for one in given:
        heading, _, key = one.rpartition("=")
        if key not in (*columns(), UNUSED) or not heading.strip():
            known = ", ".join((*columns(), UNUSED))
            raise TorquaryError(
                f"--heading {one!r} is not HEADING=KEY, with KEY one of {known}", status=WRONG_USE
            )
        explained[fold(heading)] = key
    return explained


def read_drivers(paths: Sequence[Path]) -> list[Driver]:
    """Return the drivers in the files; `TorquaryError` (status 2) for many, or two of a name."""
    from torquary_catalogue.board.driver import read_driver
    from torquary_catalogue.board.planning import MOST_DRIVERS

    drivers = [read_driver(path) for path in dict.fromkeys(paths)]
    names = [driver.name for driver in drivers]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise TorquaryError(f"two drivers are named {twice}: name one otherwise", status=WRONG_USE)
    if len(drivers) > MOST_DRIVERS:
        message = f"{len(drivers)} drivers are too many for one plan: name at most {MOST_DRIVERS}"
        raise TorquaryError(message, status=WRONG_USE)
    return drivers


def make_plans(
    catalogue: Catalogue,
    listed: BoardList,
    drivers: Sequence[Driver],
    *,
    unit: str,
    today: date,
    keep_inside: bool = False,
    only: str | None = None,
) -> Iterator[Plan]:
    """Yield the plan of each board of a list; what is wrong with the list stands in the first."""
    from torquary_catalogue.board.listed import LEFT_OUT
    from torquary_catalogue.board.planning import make_plan
    from torquary_catalogue.board.settled import settle

    boards = [board for board in listed.boards if only is None or board == only]
    if only is not None and not boards:
        raise TorquaryError(
            f"{listed.file} names no board {only!r}: {', '.join(listed.boards)}", status=WRONG_USE
        )
    asked = [one for one in listed.terminals if one.board in boards and one.joint not in LEFT_OUT]
    told = list(settle(catalogue, asked))
    for at, board in enumerate(boards):
        terminals = [one for one in listed.terminals if one.board == board]
        faults = listed.faults if at == 0 else ()
        yield make_plan(
            board,
            terminals,
            [one for one in told if one.terminal.board == board],
            faults=faults,
            drivers=drivers,
            unit=unit,
            keep_inside=keep_inside,
            today=today,
        )


def plan_for_page(
    catalogue: Catalogue, board_list: Path, drivers: Sequence[Path], file: Path, *, unit: str, today: date
) -> list[Plan]:
    """Return the plans of a list for another page; headings that were explained for its like are known."""
    tools, listed = read_drivers(drivers), read_list(board_list, (), file)
    return list(make_plans(catalogue, listed, tools, unit=unit, today=today))


def keep_plans(path: Path, plans: Sequence[Plan]) -> None:
    """Keep what was planned, to be recalled; in a catalogue that may only be read, say that it
    cannot be.
    """
    from torquary_catalogue.command.keeping import keep_or_say, list_figures

    for plan in plans:
        rows = (row for task in plan.tasks for row in task.certain.rows)
        given = {
            "what_for": f"{plan.board}, plan of {plan.made_on}",
            "question": "",
            "answer": f"{len(plan.tasks)} terminal(s)",
        }
        keep_or_say(path, list_figures(rows), "the plan", kind="plan", **given)
