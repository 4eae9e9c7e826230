"""Options and ways of printing that several commands share."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

import click

from torquary_catalogue.errors import WRONG_USE, TorquaryError

_Function = TypeVar("_Function", bound=Callable[..., Any])


def is_text(word: str) -> bool:
    """Tell whether a word from the command line was UTF-8; other bytes come as lone surrogates."""
    return not any("\ud800" <= letter <= "\udfff" for letter in word)


def show_text(word: str) -> str:
    """Return a word that can be printed: what was not UTF-8 is escaped."""
    try:
        raw = os.fsencode(word)
    except UnicodeEncodeError:
        return word.encode("utf-8", "backslashreplace").decode("utf-8")
    return raw.decode("utf-8", "backslashreplace")


def _check_catalogue(ctx: click.Context, option: click.Parameter, path: Path) -> Path:
    """Refuse a name that DuckDB cannot be given."""
    if not is_text(str(path)):
        raise click.BadParameter(f"“{show_text(str(path))}” is not UTF-8: give the catalogue another name", ctx, option)
    return path


def catalogue_option(function: _Function) -> _Function:
    """Add --catalogue FILE."""
    return click.option(
        "--catalogue",
        type=click.Path(path_type=Path),
        envvar="TORQUARY_CATALOGUE",
        default="torquary.duckdb",
        show_default=True,
        metavar="FILE",
        callback=_check_catalogue,
        help="The catalogue file, or to read a folder that export --to wrote; also from TORQUARY_CATALOGUE.",
    )(function)


def json_option(function: _Function) -> _Function:
    """Add --json."""
    return click.option("--json", "as_json", is_flag=True, help="Print JSON.")(function)


def unit_option(function: _Function) -> _Function:
    """Add --unit."""
    shown = "Unit to show: Nm, cNm, lb-in, lb-ft or kgf-cm."
    return click.option("--unit", default="Nm", show_default=True, help=shown)(function)


def paper_option(function: _Function) -> _Function:
    """Add --paper."""
    sizes = click.Choice(["a4", "letter"])
    return click.option("--paper", type=sizes, default="a4", show_default=True, help="Size of the paper.")(function)


def driver_option(function: _Function) -> _Function:
    """Add --driver FILE, as often as wished."""
    shown = "A driver at hand (see torquary board new); may be given several times."
    file = click.Path(path_type=Path)
    return click.option("--driver", "drivers", multiple=True, type=file, metavar="FILE", help=shown)(function)


def day_option(meaning: str) -> Callable[[_Function], _Function]:
    """Add --on DAY, read: the day that is typed, else today."""
    return click.option(
        "--on", "day", metavar="DAY", callback=_read_day, help=f"{meaning}, like 2026-03-01. [default: today]"
    )


def _read_day(ctx: click.Context, option: click.Parameter, text: str | None) -> date:
    try:
        return date.today() if text is None else date.fromisoformat(text)
    except ValueError:
        raise TorquaryError(f"--on {text!r} is no day: write it like 2026-03-01", status=WRONG_USE) from None


def every_page_option(function: _Function) -> _Function:
    """Add --every-page."""
    return click.option(
        "--every-page", is_flag=True, help="Read every page closely, not only those that can bear a figure."
    )(function)


def password_option(function: _Function) -> _Function:
    """Add --password."""
    return click.option("--password", default="", metavar="TEXT", help="Password of encrypted sheets.")(function)


def unwitnessed_option(function: _Function) -> _Function:
    """Add --unwitnessed."""
    return click.option(
        "--unwitnessed",
        is_flag=True,
        help="Release PDF figures too that the picture of the page could not confirm, each with a remark; "
        "those that it contradicts stay held.",
    )(function)


def profile_option(function: _Function) -> _Function:
    """Add --profile FILE, as often as wished."""
    return click.option(
        "--profile",
        "profiles",
        multiple=True,
        type=click.Path(path_type=Path),
        metavar="FILE",
        help="A layout profile that explains headings (see torquary profile); may be given several times.",
    )(function)


def who_option(function: _Function) -> _Function:
    """Add --who."""
    return click.option("--who", default="", help="Who decides. [default: the user of this computer]")(function)


def why_option(function: _Function) -> _Function:
    """Add --why."""
    return click.option("--why", default="", help="The reason.")(function)


def take_user() -> str:
    """Return the user of this computer, "" if the system does not say."""
    import getpass

    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return ""
