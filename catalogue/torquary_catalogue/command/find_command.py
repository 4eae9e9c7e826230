"""`torquary find`: the question of someone with a screwdriver. Imports as little as it can."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from torquary_catalogue.command.options import catalogue_option, json_option, print_json
from torquary_catalogue.errors import NO_ANSWER


@click.command("find")
@click.argument("words", nargs=-1)
@click.option("--family", help="Device family, such as mcb or 'circuit breaker'.")
@click.option("--maker", help="Maker.")
@click.option("--series", help="Series or model.")
@click.option("--terminal", help="Terminal: its role, such as outgoing, or its label.")
@click.option("--conductor", help="Conductor size: '10 mm2', 'AWG 8', '250 kcmil'.")
@click.option("--material", help="Conductor material: copper or aluminium.")
@click.option("--stranding", help="Stranding: solid, stranded, flexible.")
@click.option("--unit", default="Nm", show_default=True, help="Unit to show: Nm, cNm, lb-in or lb-ft.")
@click.option("--all", "every_row", is_flag=True, help="Show every row of a broad answer, not only the first.")
@json_option
@catalogue_option
def command(
    words: tuple[str, ...], unit: str, every_row: bool, as_json: bool, catalogue: Path, **options: str | None
) -> None:
    """Ask for a tightening torque, in words and options: torquary find mcb 10mm2 outgoing."""
    from torquary_catalogue.find import find, read_question
    from torquary_catalogue.show.figures import read_unit
    from torquary_catalogue.store import open_catalogue

    shown_in = read_unit(unit)
    with open_catalogue(catalogue) as opened:
        answer = find(opened, read_question(opened, " ".join(words), **options))
    if as_json:
        from torquary_catalogue.show.record import answer_to_dict

        print_json(answer_to_dict(answer))
    else:
        from torquary_catalogue.show import show_answer

        show_answer(answer, shown_in, every_row=every_row)
    sys.exit(0 if answer.answered else NO_ANSWER)
