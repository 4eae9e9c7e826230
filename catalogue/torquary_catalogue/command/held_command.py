"""`torquary held`: what waits for a person."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from torquary_catalogue.command.options import catalogue_option, json_option
from torquary_catalogue.errors import NO_ANSWER
from torquary_catalogue.show.visible import print_json, say


@click.command("held")
@click.option(
    "--pictures",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="Write the picture of each printed row, its cell outlined, to FOLDER/ID.png, and FOLDER/held.html, "
    "a page to decide on beside the pictures.",
)
@json_option
@catalogue_option
def command(pictures: Path | None, as_json: bool, catalogue: Path) -> None:
    """List the readings that wait for a decision, by what is missing, with reasons. Exit status 1 if there are any.

    What several readings of one list lack is asked once for all of them: torquary decide ID answer.
    """
    from torquary_catalogue.questions import ask, ask_columns
    from torquary_catalogue.show.held import question_to_dict, write_held
    from torquary_catalogue.show.held_page import write_held_page
    from torquary_catalogue.show.pictures import write_held_pictures
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.store.settings import read_held

    page: Path | None = None
    with open_catalogue(catalogue) as opened:
        rows = read_held(opened)
        if pictures:
            rows = write_held_pictures(opened, rows, pictures)
            page = write_held_page(rows, pictures)
    if as_json:
        questions = [question_to_dict(one) for one in (*ask(rows), *ask_columns(rows))]
        print_json({"held": rows, "questions": questions} | ({"page": str(page)} if page else {}))
    elif rows:
        say(f"{len(rows)} reading(s) held", *write_held(rows))
        if page:
            say(f"To decide on them, open {page}; then: torquary decide --from decisions.json")
    else:
        say("Nothing is held.")
    sys.exit(NO_ANSWER if rows else 0)
