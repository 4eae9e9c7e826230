"""`torquary read`: what sheets give, with no catalogue."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from torquary_catalogue.command.options import (
    every_page_option,
    json_option,
    password_option,
    profile_option,
    unwitnessed_option,
)
from torquary_catalogue.command.sheets import collect_sheets
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say

if TYPE_CHECKING:
    from torquary_schema.values import SheetReport


@click.command("read")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE...")
@every_page_option
@password_option
@unwitnessed_option
@profile_option
@click.option("--pages", "by_page", is_flag=True, help="Say page by page what became of every torque printed there.")
@json_option
def command(
    files: tuple[Path, ...],
    every_page: bool,
    password: str,
    unwitnessed: bool,
    profiles: tuple[Path, ...],
    by_page: bool,
    as_json: bool,
) -> None:
    """Read sheets and print their settings and findings; touches no catalogue.

    Exit status 1: something is held, a sheet could not be read, or one gave nothing although it may hold torques.
    """
    from torquary_catalogue.profiles import read_profiles
    from torquary_ingest.reader import read_sheets

    if by_page and as_json:
        raise TorquaryError("--pages is told in text: leave out --json, which has the page of each", status=WRONG_USE)

    known = read_profiles(profiles)
    reports = read_sheets(
        collect_sheets(files), every_page=every_page, password=password, unwitnessed=unwitnessed, profiles=known
    )
    used: set[str] = set()
    doubtful = False
    kept = []
    for report in reports:
        used.update(report.profiles)
        doubtful |= _is_doubtful(report)
        if as_json:
            kept.append(report)
        else:
            say(*_write(report, by_page=by_page))
    if as_json:
        from torquary_schema.report import report_to_dict

        print_json({"sheets": [report_to_dict(report) for report in kept]})
    for profile in known:
        if profile.name not in used:
            say(f"layout profile {profile.name} was used for no sheet (its maker: {profile.maker})", err=True)
    sys.exit(NO_ANSWER if doubtful else 0)


def _write(report: SheetReport, *, by_page: bool) -> list[str]:
    from torquary_catalogue.show.by_page import write_by_page
    from torquary_catalogue.show.sheets import write_report

    return write_by_page(report) if by_page else write_report(report)


def _is_doubtful(report: SheetReport) -> bool:
    from torquary_schema.findings import leaves_unread

    if report.state == "refused" or any(setting.state == "held" for setting in report.settings):
        return True
    return not report.settings and any(leaves_unread(finding.code) for finding in report.findings)
