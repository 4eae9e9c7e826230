"""`torquary add`: a row that the reader missed."""

from __future__ import annotations

from pathlib import Path

import click

from torquary_catalogue.command.options import catalogue_option, json_option, take_user, who_option, why_option
from torquary_catalogue.show.visible import print_json, say


@click.command("add")
@click.argument("sheet", metavar="ID")
@click.option("--page", type=int, required=True, help="Page of the sheet that prints the row, from 1.")
@click.option("--device", required=True, help="The device as it is printed.")
@click.option("--terminal", required=True, help="The label of the terminal as it is printed.")
@click.option("--torque", required=True, help="The torque with its unit: '2.5 Nm'.")
@click.option("--conductor", help="The conductor size with its unit: '1.5-6 mm2'.")
@who_option
@why_option
@json_option
@catalogue_option
def command(
    sheet: str,
    page: int,
    device: str,
    terminal: str,
    torque: str,
    conductor: str | None,
    who: str,
    why: str,
    as_json: bool,
    catalogue: Path,
) -> None:
    """Add a row that the reader missed to the sheet ID (the beginning of its id, or a file name).

    So are the rows of a file that could not be read. It answers from then on, and every answer says that it was added,
    by whom and why; torquary decisions --undo takes it out again.
    """
    from torquary_catalogue.command.decide_command import as_dict, write_decided
    from torquary_catalogue.decide.added import Missed, add_row
    from torquary_catalogue.store import open_catalogue

    if not catalogue.exists():
        open_catalogue(catalogue)
    row = Missed(
        sheet=sheet, page=page, device=device, terminal=terminal, torque=torque, conductor=conductor,
        who=who or take_user(), why=why,
    )  # fmt: skip
    with open_catalogue(catalogue, writing=True) as opened:
        done = add_row(opened, row)
    if as_json:
        print_json(as_dict(done))
    else:
        say(*write_decided(done))
