"""`torquary schema`: the forms in which torquary gives to other programs, and takes from people."""

from __future__ import annotations

import click

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say


@click.command("schema")
@click.argument("name", required=False)
def command(name: str | None) -> None:
    """Print the JSON Schema NAME: record, answer, report, plan, decisions, …; without NAME, list them.

    A version of a form only ever gains: a name in it keeps its type and its meaning.
    """
    from torquary_schema.validation import SCHEMAS

    if name is None:
        say(*(f"{key:<12} {read()['title']}: {read()['description']}" for key, read in SCHEMAS.items()))
        return
    if name not in SCHEMAS:
        raise TorquaryError(f"no schema is named {name!r}: write {', '.join(SCHEMAS)}", status=WRONG_USE)
    print_json(SCHEMAS[name]())
