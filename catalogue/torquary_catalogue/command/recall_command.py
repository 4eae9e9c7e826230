"""`torquary recall`: what was given out and does not stand any more."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from torquary_catalogue.command.options import catalogue_option, json_option
from torquary_catalogue.errors import NO_ANSWER
from torquary_catalogue.show.visible import print_json, say


@click.command("recall")
@click.argument("words", nargs=-1)
@click.option("--all", "every", is_flag=True, help="Also what stands as it was given out, and every figure.")
@json_option
@catalogue_option
def command(words: tuple[str, ...], every: bool, as_json: bool, catalogue: Path) -> None:
    """List the notes, exports, plans and records that used a figure since superseded, corrected or held.

    With WORDS, only those whose note, file name or board has them all. Notes are kept by torquary find --note. Exit
    status 1 if a figure does not stand any more.
    """
    from torquary_catalogue.recall import recall
    from torquary_catalogue.show.recall import recall_to_dict, write_recall
    from torquary_catalogue.store import open_catalogue

    wanted = [word.lower() for word in words]
    with open_catalogue(catalogue) as opened:
        given = [one for one in recall(opened) if all(word in one.what_for.lower() for word in wanted)]
    shown = [one for one in given if every or one.recalled]
    if as_json:
        print_json({"given": [recall_to_dict(one) for one in shown]})
    else:
        say(*(write_recall(shown, every=every) or [_say_nothing(len(given), " ".join(words))]))
    sys.exit(NO_ANSWER if any(one.recalled for one in given) else 0)


def _say_nothing(given: int, words: str) -> str:
    """Return the line for nothing to recall: whether anything was given out, under these words."""
    if given:
        return f"given out: {given}; all stand as they were"
    return f"nothing was given out whose note has “{words}”" if words else "nothing was given out yet"
