"""`torquary sheets`: what the catalogue has been given."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from torquary_catalogue.command.options import catalogue_option, json_option
from torquary_catalogue.errors import NO_ANSWER
from torquary_catalogue.show.visible import print_json, say

_STATES = {"in-force": "read", "superseded": "superseded", "withdrawn": "withdrawn", "refused": "refused"}


@click.command("sheets")
@click.argument("words", nargs=-1)
@click.option("--state", type=click.Choice(list(_STATES)), help="Only sheets in this state.")
@json_option
@catalogue_option
def command(words: tuple[str, ...], state: str | None, as_json: bool, catalogue: Path) -> None:
    """List the sheets of the catalogue, all of them or those that have the WORDS in file, title, maker or number.

    Exit status 1 if there are none.
    """
    from torquary_catalogue.show.sheet_list import sheet_to_dict, write_sheets
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.store.sheets import read_sheets

    with open_catalogue(catalogue) as opened:
        rows = read_sheets(opened, " ".join(words), _STATES[state] if state else None)
    if as_json:
        print_json({"sheets": [sheet_to_dict(row) for row in rows]})
    else:
        say(*(write_sheets(rows) or ["No such sheet is in the catalogue."]))
    sys.exit(0 if rows else NO_ANSWER)
