"""`torquary find`: the question of someone with a screwdriver. Imports as little as it can."""

from __future__ import annotations

import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from torquary_catalogue.command.options import catalogue_option, json_option, unit_option
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say

if TYPE_CHECKING:
    from torquary_catalogue.find import Answer
    from torquary_catalogue.show.pictures import Shown
    from torquary_catalogue.store import Catalogue


@click.command("find")
@click.argument("words", nargs=-1)
@click.option("--family", help="Device family, such as mcb or 'circuit breaker'.")
@click.option("--maker", help="Maker.")
@click.option("--series", help="Series or model.")
@click.option("--terminal", help="Terminal: its role, such as outgoing, or its label.")
@click.option("--conductor", help="Conductor size: '10 mm2', 'AWG 8', '250 kcmil'.")
@click.option("--material", help="Conductor material: copper or aluminium.")
@click.option("--stranding", help="Stranding: solid, stranded, flexible.")
@click.option(
    "--purpose",
    type=click.Choice(["mounting", "enclosure", "gland", "other"]),
    help="Ask for another screw than that of an electrical terminal.",
)
@unit_option
@click.option("--all", "every_row", is_flag=True, help="Show every row of a broad answer, not only the first.")
@click.option(
    "--picture",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE.png",
    help="Write a picture of the printed row, its cell outlined; of further rows FILE-2.png and so on.",
)
@click.option("--note", metavar="TEXT", help="Keep the answer in the catalogue, for TEXT: see torquary recall.")
@json_option
@catalogue_option
def command(
    words: tuple[str, ...],
    unit: str,
    every_row: bool,
    picture: Path | None,
    note: str | None,
    as_json: bool,
    catalogue: Path,
    **options: str | None,
) -> None:
    """Ask for a tightening torque, in words and options: torquary find mcb 10mm2 outgoing."""
    from torquary_catalogue.find import find, read_question
    from torquary_catalogue.show.figures import read_unit
    from torquary_catalogue.store import open_catalogue

    shown_in = read_unit(unit)
    with open_catalogue(catalogue) as opened:
        answer = find(opened, read_question(opened, " ".join(words), **options))
        pictures = _write_pictures(opened, answer, picture, every_row=every_row) if picture else ()
    if as_json:
        from torquary_catalogue.show.record import answer_to_dict

        drawn = {"pictures": [asdict(one) for one in pictures]} if picture else {}
        print_json(answer_to_dict(answer) | drawn)
    else:
        from torquary_catalogue.show import show_answer

        show_answer(answer, shown_in, every_row=every_row)
        for one in pictures:
            say(f"picture: {one.text}")
    if note is not None:
        _keep_note(catalogue, answer, note, quiet=as_json)
    sys.exit(0 if answer.answered else NO_ANSWER)


def _keep_note(catalogue: Path, answer: Answer, note: str, *, quiet: bool) -> None:
    """Keep the answer with what it is for, so that it can be recalled."""
    from torquary_catalogue.command.keeping import keep_one, list_figures

    if not note.strip():
        raise TorquaryError("--note is blank: write what the answer is for", status=WRONG_USE)
    given = {"what_for": note.strip(), "question": answer.question.command, "answer": answer.kind}
    number = keep_one(catalogue, list_figures(answer.rows), kind="note", **given)
    if not quiet:
        say(f"Noted as {number}, for {note.strip()}.")


def _write_pictures(catalogue: Catalogue, answer: Answer, target: Path, *, every_row: bool) -> tuple[Shown, ...]:
    """Write the pictures of the rows that are shown."""
    from torquary_catalogue.show.notice import choose_shown
    from torquary_catalogue.show.pictures import write_pictures

    return write_pictures(catalogue, answer.rows if every_row else choose_shown(answer.rows), target)
