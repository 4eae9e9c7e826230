"""`torquary profile`: the headings of a sheet, for a person to explain the unknown ones."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from torquary_catalogue.command.options import every_page_option, json_option, password_option
from torquary_catalogue.errors import NO_ANSWER, WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say


@click.command("profile")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option(
    "--to",
    "target",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="The file to write; default: NAME.profile.json here. An existing file is left alone.",
)
@every_page_option
@password_option
@json_option
def command(sheet: Path, target: Path | None, every_page: bool, password: str, as_json: bool) -> None:
    """Write a layout profile of SHEET: its headings, what each is taken for, and room to explain the unknown ones.

    With --json it is printed, and no file is written. Exit status 1: the sheet could not be read, or holds no headings.
    """
    from torquary_ingest.errors import SheetRefused
    from torquary_ingest.reader import draft_profile

    if not sheet.is_file():
        raise TorquaryError(f"{sheet}: there is no such file: check the name", status=WRONG_USE)
    target = target or Path(f"{sheet.stem}.profile.json")
    if not as_json and target.exists():
        raise TorquaryError(f"{target} is there already: fill that one in, or name another with --to", status=WRONG_USE)
    try:
        draft = draft_profile(sheet, every_page=every_page, password=password)
    except SheetRefused as refused:
        raise TorquaryError(f"{sheet.name}: {refused.message}", status=NO_ANSWER) from None
    if not draft["headings"]:
        raise TorquaryError(f"{sheet.name}: no table or list with figures is seen, so no headings", status=NO_ANSWER)
    if as_json:
        print_json(draft)
    else:
        _write(target, draft)
        say(*_tell(sheet, target, draft))
    sys.exit(0)


def _write(target: Path, draft: dict[str, Any]) -> None:
    from torquary_schema.report import dump_json

    try:
        with target.open("x", encoding="utf-8") as file:
            file.write(dump_json(draft) + "\n")
    except OSError as error:
        message = f"{target} cannot be written ({error.strerror or error}): name another file with --to"
        raise TorquaryError(message, status=WRONG_USE) from None


def _tell(sheet: Path, target: Path, draft: dict[str, Any]) -> list[str]:
    """Return what was found and what a person does next."""
    lines = [f"{target}: {len(draft['headings'])} heading(s) of {sheet.name}, maker {draft['maker'] or 'not found'}"]
    for heading in draft["headings"]:
        under = " | ".join(heading["under_it"])
        lines.append(f"  {heading['taken_for']:<12} “{heading['printed']}”" + (f" over {under}" if under else ""))
    if all(heading["taken_for"] != "unknown" for heading in draft["headings"]):
        return [*lines, "Every heading is known: there is nothing to fill in."]
    lines.append(f'In {target} see that "maker" is right, and fill in "means" for the unknown headings; then:')
    lines.append(f"  torquary load --profile {target} {sheet}")
    return lines
