"""The command `torquary`: finds its subcommands without importing them, and turns errors into one line."""

from __future__ import annotations

import os
from importlib import import_module
from typing import Any, cast

import click

from torquary_catalogue.command.options import is_text, show_text
from torquary_catalogue.errors import TorquaryError

COMMANDS = {
    "demo": "Load the sample sheets into a passing catalogue and ask it.",
    "tables": "Show the tables that are seen in a file.",
    "read": "Read sheets and print what they give; touches no catalogue.",
    "load": "Read sheets, or folders of them, into the catalogue.",
    "profile": "List a sheet's headings, to explain the unknown ones.",
    "find": "Ask for a tightening torque.",
    "held": "List the readings that wait for a decision.",
    "decide": "Accept, correct or reject a reading.",
    "export": "Write the catalogue as Parquet, CSV or JSON Lines.",
    "extractors": "List the installed openers and extractors.",
}


class _Commands(click.Group):
    """Knows the names of the commands; imports one when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        return cast(click.Command, import_module(f"torquary_catalogue.command.{cmd_name}_command").command)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        for word in args:
            if not is_text(word) and not os.path.lexists(word):
                raise click.UsageError(f"“{show_text(word)}” is not UTF-8: write it anew in a terminal set to UTF-8")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except TorquaryError as error:
            click.echo(f"Error: {show_text(' '.join(error.message.split()))}", err=True)
            ctx.exit(error.status)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="torquary")
def main() -> None:
    """Tightening torques of screw terminals: from datasheets to one catalogue.

    Exit status: 0 answered, 1 no answer or something is held, 2 wrong use, 3 the catalogue cannot be used.
    """
