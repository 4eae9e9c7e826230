"""`torquary sheet`: one sheet, and decisions about it as a whole."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from torquary_catalogue.command.options import catalogue_option, json_option, take_user, who_option, why_option
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import print_json, say

if TYPE_CHECKING:
    from torquary_catalogue.decide.sheet_decision import SheetDecided
    from torquary_catalogue.store import Catalogue

_DEEDS = ("withdraw", "restore", "replaces", "beside")
_OPTIONS = {
    "name": "file", "title": "title", "maker": "maker", "number": "document_number", "edition": "edition",
    "date": "edition_date",
}  # fmt: skip
"""Option → column of the table sheet."""


@click.command("sheet")
@click.argument("sheet", metavar="ID")
@click.argument("deed", metavar="[withdraw|restore|replaces|beside]", required=False)
@click.argument("other", metavar="[OTHER]", required=False)
@click.option("--maker", help="The maker, where the sheet was read otherwise.")
@click.option("--title", help="The title.")
@click.option("--number", help="The number of the document.")
@click.option("--edition", help="The edition as it is printed: 'Rev. B'.")
@click.option("--date", help="The date of the edition: 2024, 2024-05 or 2024-05-17.")
@click.option("--name", help="The file name under which it is shown.")
@who_option
@why_option
@json_option
@catalogue_option
def command(
    sheet: str,
    deed: str | None,
    other: str | None,
    who: str,
    why: str,
    as_json: bool,
    catalogue: Path,
    **given: str | None,
) -> None:
    """Show the sheet ID (the beginning of its id, or a file name; see torquary sheets), or decide about it.

    Options correct what was read of it, '' for what it does not say. withdraw takes it out of force, restore puts it
    back, replaces OTHER puts it in the place of another one, beside OTHER keeps both in force. All are decisions:
    --why says the reason, torquary decisions lists them and takes them back.
    """
    from torquary_catalogue.store import open_catalogue

    corrected = {_OPTIONS[name]: text for name, text in given.items() if text is not None}
    _check(deed, other, corrected)
    deciding = deed is not None or bool(corrected)
    if not deciding or not catalogue.exists():
        with open_catalogue(catalogue) as opened:
            return _show(opened, sheet, as_json=as_json)
    with open_catalogue(catalogue, writing=True) as opened:
        done = _decide(opened, sheet, deed, other, corrected, {"who": who or take_user(), "why": why})
    tell_decided(done, as_json=as_json)


def _check(deed: str | None, other: str | None, corrected: dict[str, str]) -> None:
    if deed is not None and deed not in _DEEDS:
        raise TorquaryError(f"{deed!r} is no deed: write {', '.join(_DEEDS[:-1])} or {_DEEDS[-1]}", status=WRONG_USE)
    if (deed in ("replaces", "beside")) != (other is not None):
        raise TorquaryError("replaces and beside need another sheet; the others take none", status=WRONG_USE)
    if deed is not None and corrected:
        raise TorquaryError(f"{deed} and corrections are two decisions: write one at a time", status=WRONG_USE)


def _decide(
    catalogue: Catalogue,
    sheet: str,
    deed: str | None,
    other: str | None,
    corrected: dict[str, str],
    said: dict[str, str],
) -> SheetDecided:
    from torquary_catalogue.decide import sheet_decision

    if deed == "withdraw":
        return sheet_decision.withdraw_sheet(catalogue, sheet, **said)
    if deed == "restore":
        return sheet_decision.restore_sheet(catalogue, sheet, **said)
    if deed == "replaces":
        return sheet_decision.replace_sheet(catalogue, sheet, other or "", **said)
    if deed == "beside":
        return sheet_decision.keep_beside(catalogue, sheet, other or "", **said)
    return sheet_decision.correct_sheet(catalogue, sheet, corrected, **said)


def tell_decided(done: SheetDecided, *, as_json: bool) -> None:
    """Print a decision about a sheet, or one that was taken back, with what follows from it."""
    from torquary_catalogue.show.sheet_list import write_found

    if as_json:
        told = [{"code": one.code, "message": one.message} for one in done.findings]
        numbers: dict[str, Any] = {"decisions": list(done.numbers), "sheet": done.digest, "file": done.file}
        print_json(numbers | {"before": done.before, "after": done.after, "findings": told})
        return
    numbered = ", ".join(map(str, done.numbers))
    say(f"{done.file}: {done.before} → {done.after} (decision {numbered})", *write_found(done.findings))


def _show(catalogue: Catalogue, named: str, *, as_json: bool) -> None:
    from torquary_catalogue.decide.sheet_decision import find_sheet
    from torquary_catalogue.show.sheet_list import sheet_to_dict, write_sheet
    from torquary_catalogue.store.record import read_made
    from torquary_catalogue.store.sheets import read_sheet

    digest = find_sheet(catalogue, named)["digest"]
    row = read_sheet(catalogue, digest)
    made = [one for one in read_made(catalogue) if digest in (one.sheet, one.other)]
    if as_json:
        from torquary_catalogue.command.decisions_command import as_dict

        print_json({**sheet_to_dict(row), "decisions": [as_dict(one) for one in made]})
    else:
        say(*write_sheet(row, made))
