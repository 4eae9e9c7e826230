"""`torquary schema`: the forms in which torquary gives to other programs, and takes from people."""

from __future__ import annotations

import click

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say


@click.command("schema")
@click.argument("name", required=False)
def command(name: str | None) -> None:
    """Print the JSON Schema NAME: setting, answer, report, plan, decisions, …; without NAME, list them.

    A version of a form only ever gains: a name in it keeps its type and its meaning.
    """
    from torquary_schema.validation import FORM_NAMES, read_schema

    if name is None:
        schemas = ((each, read_schema(each)) for each in FORM_NAMES)
        say(*(f"{each:<12} {schema['title']}: {schema['description']}" for each, schema in schemas))
        return
    wanted = next((each for each in FORM_NAMES if each == name), None)
    if wanted is None:
        raise TorquaryError(f"no schema is named {name!r}: write {', '.join(FORM_NAMES)}", status=WRONG_USE)
    print_json(read_schema(wanted))
