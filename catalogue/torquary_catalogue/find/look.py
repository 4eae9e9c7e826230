"""Where a person has to look for a reading that is held: sheet, page, and the picture of its row."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from torquary_catalogue.find.row import Row
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.pictures import which_have_pictures


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A place to look at: setting (`id`), `file` with its digest `sheet` and `edition`, and `page` (from 1).

    `picture` is the file that `torquary held --pictures FOLDER` writes for it there, None where no picture is kept.
    """

    id: str
    file: str
    sheet: str
    edition: str
    page: int | None
    picture: str | None


def say_where_to_look(catalogue: Catalogue, held: Iterable[Row]) -> tuple[Look, ...]:
    """Return where to look for readings that are held."""
    rows = list(held)
    kept = which_have_pictures(catalogue, ((row.sheet, row.id) for row in rows)) if rows else set()
    return tuple(
        Look(
            id=row.id, file=row.file, sheet=row.sheet, edition=row.edition, page=row.page,
            picture=f"{row.id}.png" if (row.sheet, row.id) in kept else None,
        )
        for row in rows
    )  # fmt: skip
