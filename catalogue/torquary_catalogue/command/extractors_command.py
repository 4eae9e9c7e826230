"""`torquary extractors`: which plug-ins are installed."""

from __future__ import annotations

import sys

import click

from torquary_catalogue.command.options import json_option
from torquary_catalogue.errors import NO_ANSWER
from torquary_catalogue.show.visible import print_json, say


@click.command("extractors")
@json_option
def command(as_json: bool) -> None:
    """List the installed openers and extractors. Exit status 1 if one of them cannot be used."""
    from torquary_ingest.registry import EXTRACTORS, OPENERS, find_plugins

    rows = [
        {
            "kind": kind,
            "name": plugin.name,
            "origin": plugin.origin,
            "specific": bool(getattr(plugin.made, "specific", False)),
            "fault": plugin.fault,
        }
        for kind, group in (("opener", OPENERS), ("extractor", EXTRACTORS))
        for plugin in find_plugins(group)
    ]
    if as_json:
        print_json(
            {
                "extractors": [row for row in rows if row["kind"] == "extractor"],
                "openers": [row for row in rows if row["kind"] == "opener"],
            }
        )
    else:
        for row in rows:
            scope = ", one layout" if row["specific"] else ""
            fault = f"  cannot be used: {row['fault']}" if row["fault"] else ""
            say(f"{row['kind']:<10} {row['name']:<16} {row['origin']}{scope}{fault}")
    sys.exit(NO_ANSWER if any(row["fault"] for row in rows) else 0)
