"""`torquary changes`: what an edition prints otherwise than the one before."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from torquary_catalogue.command.options import catalogue_option, json_option
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say


@click.command("changes")
@click.argument("old", required=False)
@click.argument("new", required=False)
@json_option
@catalogue_option
def command(old: str | None, new: str | None, as_json: bool, catalogue: Path) -> None:
    """Tell what rose, fell, appeared and vanished from the sheet OLD to NEW (ids or file names; see torquary sheets).

    Without them, of all sheets that are superseded. What people decided counts as decided. Exit status 1 if nothing
    is superseded.
    """
    from torquary_catalogue.changes import compare, read_superseded
    from torquary_catalogue.decide.sheet_decision import find_sheet
    from torquary_catalogue.show.changes import changes_to_dict, write_changes
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.store.sheets import read_sheet

    if (old is None) != (new is None):
        raise TorquaryError("name both sheets, the earlier one first, or none", status=WRONG_USE)
    with open_catalogue(catalogue) as opened:
        if old is not None and new is not None:
            pairs: tuple[tuple[str, str], ...] = (
                (find_sheet(opened, old)["digest"], find_sheet(opened, new)["digest"]),
            )
        else:
            pairs = read_superseded(opened)
        found = [compare(opened, *pair) for pair in pairs]
        sheets = {digest: read_sheet(opened, digest) for pair in pairs for digest in pair}
    if as_json:
        print_json({"changes": [changes_to_dict(one, sheets) for one in found]})
    else:
        lines = [line for one in found for line in write_changes(one, sheets)]
        say(*(lines or ["No sheet is superseded."]))
    sys.exit(0 if found else NO_ANSWER)
