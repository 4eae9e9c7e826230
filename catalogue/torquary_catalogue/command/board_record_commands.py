"""The commands of `torquary board` that keep and show the record of the work."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import Any

import click

from torquary_catalogue.command.options import (
    catalogue_option,
    day_option,
    json_option,
    paper_option,
    take_user,
    unit_option,
)
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say

_VISIT = "Day on which the visit began, like 2031-05-02."


@click.command("take")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--who", default="", help="Who did the work, where the file does not say.")
@click.option("--visit", default="", metavar="DAY", help=f"{_VISIT} [default: as the file says]")
@day_option("Day that counts as today")
@json_option
@catalogue_option
def take(file: Path, who: str, visit: str, day: date, as_json: bool, catalogue: Path) -> None:
    """Take a record into the catalogue: FILE as the page saved it, or the plan's table (CSV,
    workbook) filled in.

    All of it, or nothing where anything is wrong, which is named by row and column or by line. What
    is there already is passed over; what differs from an entry of the same visit is added as its
    correction.
    """
    from torquary_catalogue.board.record_file import Given, read_record

    entries = read_record(file, Given(who=who or take_user(), visit=visit), day)
    _take(catalogue, list(entries), as_json=as_json)


@click.command("mark")
@click.argument("board")
@click.argument("terminal")
@click.option(
    "--found", type=click.Choice(["loose", "as-set", "over-tight", "not-checked"]), required=True
)
@click.option("--done", is_flag=True, help="It was set.")
@click.option(
    "--plan",
    type=click.Path(path_type=Path),
    metavar="FILE.json",
    help="The plan, which says to what.",
)
@click.option("--driver", default="", help="Driver; from the plan else.")
@click.option(
    "--calibrated", default="", metavar="DAY", help="Its last calibration; from the plan else."
)
@click.option("--photo", default="", metavar="NAME", help="Name of the file of a photograph.")
@click.option("--remark", default="", metavar="TEXT")
@click.option("--who", default="", help="Who did it. [default: the user of this computer]")
@click.option("--visit", default="", metavar="DAY", help=f"{_VISIT} [default: the day of the work]")
@day_option("Day of the work")
@json_option
@catalogue_option
def mark(
    board: str,
    terminal: str,
    found: str,
    done: bool,
    plan: Path | None,
    who: str,
    visit: str,
    day: date,
    as_json: bool,
    catalogue: Path,
    **texts: str,
) -> None:
    """Record what was found and done at one TERMINAL (its name in the plan: '1.3 F3 | line') of
    BOARD.

    Said again for the same visit, it corrects what was said before, which is kept.
    """
    from torquary_catalogue.board.record import Entry, find_faults
    from torquary_catalogue.board.record_plan import look_up

    planned: dict[str, str] = look_up(plan, board, terminal) if plan else {}
    parts = planned | {name: text for name, text in texts.items() if text}
    entry = Entry(
        board=board,
        visit=visit or day.isoformat(),
        terminal=terminal,
        found=found.replace("-", "_"),
        done=done,
        who=who or take_user(),
        worked_at=day.isoformat(),
        **parts,
    )
    faults = [f"{field}: {message}" for field, message in find_faults(entry, day)]
    if faults:
        raise TorquaryError("; ".join(faults), status=WRONG_USE)
    _take(catalogue, [entry], as_json=as_json)


def _take(catalogue: Path, entries: list[Any], *, as_json: bool) -> None:
    from dataclasses import asdict

    from torquary_catalogue.board.taking import take as take_entries
    from torquary_catalogue.store import open_catalogue

    with open_catalogue(catalogue, writing=True) as opened:
        taken = take_entries(opened, entries)
    if as_json:
        print_json(asdict(taken))
        return
    say(
        f"added: {taken.added}, of these corrections: {taken.corrected}; "
        f"there already: {taken.already}"
    )
    if taken.without_figure:
        say(
            f"without a torque of the catalogue, not to be recalled with it: {taken.without_figure}"
        )


@click.command("history")
@click.argument("board", required=False)
@click.option(
    "--visit",
    "days",
    multiple=True,
    metavar="DAY",
    help="Only this visit; of two, the second is compared.",
)
@click.option("--all", "every", is_flag=True, help="Every terminal, not only what was not as set.")
@unit_option
@click.option(
    "-o",
    "--output",
    "target",
    type=click.Path(path_type=Path),
    metavar="FILE.pdf",
    help="Also write it.",
)
@paper_option
@json_option
@catalogue_option
def history(
    board: str | None,
    days: tuple[str, ...],
    every: bool,
    unit: str,
    target: Path | None,
    paper: str,
    as_json: bool,
    catalogue: Path,
) -> None:
    """List the visits to BOARD, or to all boards, and what had loosened between the last two."""
    from torquary_catalogue.board.history import compare_visits, last_two, read_visits
    from torquary_catalogue.board.history_text import history_to_dict, write_compared, write_visits
    from torquary_catalogue.show.figures import read_unit
    from torquary_catalogue.store import open_catalogue

    shown_in = read_unit(unit)
    with open_catalogue(catalogue) as opened:
        visits = [visit for visit in read_visits(opened, board) if not days or visit.day in days]
    pairs = [(first, second, compare_visits(first, second)) for first, second in last_two(visits)]
    if target is not None and visits:
        _write_paper(target, visits, pairs, unit=shown_in, size=paper)
    if as_json:
        print_json(history_to_dict(visits, pairs))
    elif visits:
        say(*write_visits(visits, shown_in, every=every))
        say(
            *(
                line
                for first, second, some in pairs
                for line in ("", *write_compared(first, second, some, shown_in))
            )
        )
    else:
        say("No work is recorded" + (f" for board {board}" if board else "") + ".")
    sys.exit(0 if visits else NO_ANSWER)


def _write_paper(
    target: Path, visits: list[Any], pairs: list[Any], *, unit: str, size: str
) -> None:
    from torquary_catalogue.board.paper import write_record_paper
    from torquary_catalogue.whole_file import put_whole

    if target.suffix.lower() != ".pdf":
        raise TorquaryError(
            f"{target}: a record is written as .pdf: name a file so", status=WRONG_USE
        )
    put_whole(target, write_record_paper(visits, pairs, unit=unit, size=size))
