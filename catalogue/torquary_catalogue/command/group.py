"""The command `torquary`: finds its subcommands without importing them, and turns errors into one line."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any, cast

import click

from torquary_catalogue.command.options import is_text, show_text
from torquary_catalogue.errors import STOPPED, TorquaryError
from torquary_catalogue.show.visible import make_visible, put_on_one_line, say

COMMANDS = {
    "demo": "Load the sample sheets into demo.duckdb and ask it.",
    "tables": "Show the tables that are seen in a file.",
    "read": "Read sheets and print what they give; touches no catalogue.",
    "load": "Read sheets, or folders of them, into the catalogue.",
    "profile": "List a sheet's headings, to explain the unknown ones.",
    "find": "Ask for a tightening torque.",
    "plan": "Plan the work on a whole board.",
    "board": "Write a board list; keep the record of the work.",
    "held": "List the readings that wait for a decision.",
    "decide": "Accept, correct, reject or reopen a reading.",
    "add": "Add a row that the reader missed.",
    "sheets": "List the sheets of the catalogue.",
    "sheet": "Show a sheet; correct, withdraw, restore or replace it.",
    "decisions": "List what was decided, or take it back.",
    "changes": "Tell what changed from one edition to the next.",
    "recall": "List what was given out and does not stand any more.",
    "pocket": "Write the catalogue as one page that answers without a network.",
    "export": "Write the catalogue as Parquet, CSV or JSON Lines.",
    "schema": "Print the JSON Schema of a record, an answer and the like.",
    "extractors": "List the installed openers and extractors.",
}


@contextmanager
def _faults_made_visible() -> Iterator[None]:
    """Click prints its faults itself and repeats the arguments in them, which may be names of files."""
    try:
        yield
    except click.exceptions.NoArgsIsHelpError:
        raise
    except click.UsageError as fault:
        raise click.UsageError(make_visible(fault.format_message()), ctx=fault.ctx) from None


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

    def make_context(
        self, info_name: str | None, args: list[str], parent: click.Context | None = None, **extra: Any
    ) -> click.Context:
        with _faults_made_visible():
            return super().make_context(info_name, args, parent, **extra)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            with _faults_made_visible():
                return super().invoke(ctx)
        except TorquaryError as error:
            say(f"Error: {put_on_one_line(error.message)}", err=True)
            ctx.exit(error.status)
        except KeyboardInterrupt:
            say("Stopped.", err=True)
            ctx.exit(STOPPED)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="torquary")
def main() -> None:
    """Tightening torques of screw terminals: from datasheets to one catalogue.

    Exit status: 0 answered, 1 no answer or something is held, 2 wrong use, 3 the catalogue cannot be used,
    130 stopped by Ctrl-C.
    """
