"""`torquary decisions`: what was decided, by whom, when and why; and taking it back."""

from __future__ import annotations

import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from torquary_catalogue.command.options import catalogue_option, json_option, take_user, who_option, why_option
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say

if TYPE_CHECKING:
    from torquary_catalogue.store.record import Made


@click.command("decisions")
@click.argument("about", metavar="[ID]", required=False)
@click.option("--undo", "number", type=int, metavar="NUMBER", help="Take this decision back; that is a decision too.")
@who_option
@why_option
@json_option
@catalogue_option
def command(about: str | None, number: int | None, who: str, why: str, as_json: bool, catalogue: Path) -> None:
    """List the decisions on record: who, when, what before and after, why. Exit status 1 if there are none.

    ID is the beginning of the id of a reading or a sheet, or a file name: only decisions about it.
    """
    from torquary_catalogue.show.sheet_list import write_decisions
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.store.record import read_made

    if number is not None:
        if about is not None:
            raise TorquaryError("--undo NUMBER says what is taken back: leave out the ID", status=WRONG_USE)
        return _undo(catalogue, number, who or take_user(), why, as_json=as_json)
    with open_catalogue(catalogue) as opened:
        made = [one for one in read_made(opened) if about is None or _is_about(one, about)]
    if as_json:
        print_json({"decisions": [as_dict(one) for one in made]})
    else:
        say(*(write_decisions(made) or ["Nothing is decided."]))
    sys.exit(0 if made else NO_ANSWER)


def _undo(catalogue: Path, number: int, who: str, why: str, *, as_json: bool) -> None:
    from torquary_catalogue.command.sheet_command import tell_decided
    from torquary_catalogue.decide.undo import undo
    from torquary_catalogue.store import open_catalogue

    if not catalogue.exists():
        open_catalogue(catalogue)
    with open_catalogue(catalogue, writing=True) as opened:
        done = undo(opened, number, who=who, why=why)
    tell_decided(done, as_json=as_json)


def _is_about(made: Made, named: str) -> bool:
    ids = (made.setting, made.sheet, made.other)
    return any(one is not None and one.startswith(named) for one in ids) or named in (made.file, made.other_file)


def as_dict(made: Made) -> dict[str, Any]:
    """Return a decision for --json."""
    return asdict(made) | {"decided_at": made.decided_at.isoformat()}
