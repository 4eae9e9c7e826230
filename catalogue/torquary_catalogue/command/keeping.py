"""Putting on record what a command gave out, so that it can be recalled. Imports little: `find` uses it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from torquary_catalogue.command.options import take_user
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.show.visible import say

if TYPE_CHECKING:
    from torquary_catalogue.find import Row

_KEPT = ("sheet", "min_nm", "nominal_nm", "max_nm", "limit_nm")

Figures = list[dict[str, Any]]


def list_figures(rows: Iterable[Row]) -> Figures:
    """Return the figures of rows that are released, each row once, as they are put on record."""
    kept = {(row.sheet, row.id): row for row in rows if row.state == "released"}
    return [{"setting": row.id, **{name: getattr(row, name) for name in _KEPT}} for row in kept.values()]


def keep_one(catalogue: Path, figures: Figures, **given: str) -> int:
    """Put one thing on record, with `kind`, `what_for`, `question` and `answer`; return its number."""
    from torquary_catalogue.store import open_catalogue
    from torquary_catalogue.store.given_out import GivenOut, keep_given

    with open_catalogue(catalogue, writing=True) as opened:
        return keep_given(opened, GivenOut(who=take_user() or "not known", **given), figures)


def keep_or_say(catalogue: Path, figures: Figures, written: str, **given: str) -> None:
    """Put on record what was `written`; where the catalogue may only be read, say that it cannot be recalled."""
    try:
        keep_one(catalogue, figures, **given)
    except TorquaryError as error:
        say(f"{written} is written, and cannot be recalled: {error.message}", err=True)
