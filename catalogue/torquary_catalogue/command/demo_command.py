"""`torquary demo`: what the program does, shown on sheets of invented makers."""

from __future__ import annotations

import click

from torquary_catalogue.command.options import json_option, print_json


@click.command("demo")
@json_option
def command(as_json: bool) -> None:
    """Load the sample sheets into a passing catalogue and ask it: one question for each kind of answer."""
    from torquary_catalogue.demo import demonstrate

    shown = demonstrate()
    if as_json:
        from torquary_catalogue.show.record import answer_to_dict
        from torquary_catalogue.show.summary import summary_to_dict

        answers = [{"asked": words, **answer_to_dict(answer)} for words, answer in shown.answers]
        print_json({"load": summary_to_dict(shown.summary), "answers": answers})
        return
    from torquary_catalogue.show import show_answer
    from torquary_catalogue.show.summary import write_summary

    click.echo("$ torquary load sample_sheets\n")
    click.echo(write_summary(shown.summary))
    for words, answer in shown.answers:
        click.echo(f"\n\n$ torquary find {words}\n")
        show_answer(answer)
