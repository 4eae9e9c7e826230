"""`torquary load`: sheets into the catalogue, each in its own short transaction."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

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
from torquary_catalogue.command.progress import Progress, ended_by_ctrl_c
from torquary_catalogue.command.sheets import sheets_named
from torquary_catalogue.errors import NO_ANSWER, STOPPED
from torquary_catalogue.show.visible import print_json, say


@click.command("load")
@click.argument("paths", nargs=-1, required=True, type=click.Path(), metavar="FILE|FOLDER|ADDRESS...")
@every_page_option
@password_option
@unwitnessed_option
@profile_option
@click.option("--again", is_flag=True, help="Read sheets anew that are in the catalogue; decisions are kept.")
@click.option(
    "--replace", is_flag=True, help="Put other sheets of the same file names out of force: these take their place."
)
@click.option(
    "--cluster",
    default="",
    metavar="ADDRESS",
    help="Have the workers of a Dask cluster read the sheets: the address of its scheduler, like tcp://HOST:8786.",
)
@json_option
@catalogue_option
def command(
    paths: tuple[str, ...],
    every_page: bool,
    password: str,
    unwitnessed: bool,
    profiles: tuple[Path, ...],
    again: bool,
    replace: bool,
    cluster: str,
    as_json: bool,
    catalogue: Path,
) -> None:
    """Read sheets, or folders of them, into the catalogue, which is made if it is not there.

    ADDRESS is one that fsspec opens, such as s3://BUCKET/FOLDER, sftp://HOST/FOLDER or https://HOST/FILE.pdf.

    The same content again changes nothing; what shows itself to be a later edition replaces the earlier one. A layout
    profile goes into the folder profiles beside the catalogue, and sheets it is for are read anew. Exit status
    1: something is held, a sheet could not be read, or one gave nothing although it may hold torques.
    """
    from torquary_catalogue.load import load_sheets
    from torquary_catalogue.profiles import keep_profiles
    from torquary_catalogue.show.summary import summary_to_dict, write_summary

    with sheets_named(paths) as named:
        known = keep_profiles(catalogue, profiles, tell=lambda line: say(line, err=True))
        progress = Progress(len(named.sheets), shown=sys.stderr.isatty() and not as_json)
        with _said_when_stopped(progress, len(named.sheets)), ended_by_ctrl_c(), progress:
            summary = load_sheets(
                catalogue,
                named.sheets,
                places=named.places,
                every_page=every_page,
                password=password,
                unwitnessed=unwitnessed,
                again=again or every_page or unwitnessed,
                replace=replace,
                who=take_user() or "not known",
                profiles=known,
                named={path.name for path in profiles},
                folders=named.folders,
                cluster=cluster,
                step=progress,
            )
    if as_json:
        print_json(summary_to_dict(summary))
    else:
        say(*write_summary(summary))
    sys.exit(NO_ANSWER if summary.held or summary.refused or summary.unread else 0)


@contextmanager
def _said_when_stopped(progress: Progress, sheets: int) -> Iterator[None]:
    """Say what a load that is stopped has done, and end with its status."""
    try:
        yield
    except KeyboardInterrupt:
        done = f"{progress.done} of {sheets} sheets are in the catalogue"
        say(f"Stopped: {done}; the same command goes on from there.", err=True)
        sys.exit(STOPPED)
