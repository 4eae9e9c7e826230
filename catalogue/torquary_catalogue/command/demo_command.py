"""`torquary demo`: what the program does, shown on sheets of invented makers."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import click

from torquary_catalogue.command.options import json_option
from torquary_catalogue.show.visible import print_json, say


@click.command("demo")
@click.option(
    "--catalogue",
    type=click.Path(path_type=Path),
    default="demo.duckdb",
    show_default=True,
    metavar="FILE",
    help="The catalogue to load the samples into; it may hold no other sheets.",
)
@json_option
def command(catalogue: Path, as_json: bool) -> None:
    """Load the sample sheets into a catalogue of their own and ask it: one question for each kind of answer."""
    from torquary_catalogue.demo import NEXT_QUESTION, demonstrate

    shown = demonstrate(catalogue)
    on = f"--catalogue {_quote(str(catalogue))}"
    ask_next = f"{_find_program()} find {NEXT_QUESTION} {on}"
    if as_json:
        from torquary_catalogue.show.record import answer_to_dict
        from torquary_catalogue.show.summary import summary_to_dict

        answers = [{"asked": words, **answer_to_dict(answer)} for words, answer in shown.answers]
        told = {"load": summary_to_dict(shown.summary), "answers": answers}
        print_json({**told, "catalogue": str(catalogue), "next": ask_next})
        return
    from torquary_catalogue.show import show_answer
    from torquary_catalogue.show.summary import write_summary

    say(f"$ torquary load sample_sheets {on}", "", *write_summary(shown.summary))
    for words, answer in shown.answers:
        say("", "", f"$ torquary find {words} {on}", "")
        show_answer(answer)
    say("", "", f"torquary works. The makers are invented: set no screw by {catalogue}. Now ask it yourself:")
    say(f"  {ask_next}")


def _find_program() -> str:
    """Return how to call torquary where this call came from: by its name, or by the path that was typed."""
    called, known = Path(sys.argv[0]), shutil.which("torquary")
    if called.stem != "torquary" or (known and called.exists() and called.samefile(known)):
        return "torquary"
    return _quote(str(called))


def _quote(word: str) -> str:
    """Return a word as a shell takes it, on Windows its own."""
    return subprocess.list2cmdline([word]) if os.name == "nt" else shlex.quote(word)
