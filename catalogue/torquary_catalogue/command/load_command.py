"""`torquary load`: sheets into the catalogue, each in its own short transaction."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from torquary_catalogue.command.options import (
    catalogue_option,
    every_page_option,
    json_option,
    password_option,
    profile_option,
    take_user,
    unwitnessed_option,
)
from torquary_catalogue.command.sheets import collect_sheets
from torquary_catalogue.errors import NO_ANSWER
from torquary_catalogue.show.visible import make_visible, print_json, say


@click.command("load")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE|FOLDER...")
@every_page_option
@password_option
@unwitnessed_option
@profile_option
@click.option("--again", is_flag=True, help="Read sheets anew that are in the catalogue; decisions are kept.")
@click.option(
    "--replace", is_flag=True, help="Put other sheets of the same file names out of force: these take their place."
)
@json_option
@catalogue_option
def command(
    paths: tuple[Path, ...],
    every_page: bool,
    password: str,
    unwitnessed: bool,
    profiles: tuple[Path, ...],
    again: bool,
    replace: bool,
    as_json: bool,
    catalogue: Path,
) -> None:
    """Read sheets, or folders of them, into the catalogue, which is made if it is not there.

    The same content again changes nothing; what shows itself to be a later edition replaces the earlier one. A layout
    profile goes into the folder profiles beside the catalogue, and sheets it is for are read anew. Exit status
    1: something is held, a sheet could not be read, or one gave nothing although it may hold torques.
    """
    from torquary_catalogue.load import load_sheets
    from torquary_catalogue.profiles import keep_profiles
    from torquary_catalogue.show.summary import summary_to_dict, write_summary

    sheets = collect_sheets(paths)
    known = keep_profiles(catalogue, profiles, tell=lambda line: say(line, err=True))
    with _Progress(len(sheets), shown=sys.stderr.isatty() and not as_json) as step:
        summary = load_sheets(
            catalogue,
            sheets,
            every_page=every_page,
            password=password,
            unwitnessed=unwitnessed,
            again=again or every_page or unwitnessed,
            replace=replace,
            who=take_user() or "not known",
            profiles=known,
            named={path.name for path in profiles},
            folders=[path for path in paths if path.is_dir()],
            step=step,
        )
    if as_json:
        print_json(summary_to_dict(summary))
    else:
        say(*write_summary(summary))
    sys.exit(NO_ANSWER if summary.held or summary.refused or summary.unread else 0)


class _Progress:
    """A progress bar on standard error, if it is a terminal; call it with the name of each sheet done."""

    def __init__(self, total: int, *, shown: bool) -> None:
        self._bar: Any = None
        if shown:
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

            self._bar = Progress(
                BarColumn(),
                MofNCompleteColumn(),
                TimeElapsedColumn(),
                TextColumn("{task.description}"),
                console=Console(stderr=True),
                transient=True,
            )
            self._task = self._bar.add_task("", total=total)

    def __enter__(self) -> _Progress:
        if self._bar is not None:
            self._bar.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self._bar is not None:
            self._bar.stop()

    def __call__(self, name: str) -> None:
        if self._bar is not None:
            self._bar.update(self._task, advance=1, description=make_visible(name).replace("[", "\\["))
