"""Writing the pictures of an answer's printed rows, and saying where to look for a row that has none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.find import Row
from torquary_catalogue.show.row_words import write_place
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.pictures import read_cell, read_picture
from torquary_schema.file_kinds import MAY_BE_DELIMITED, WEB_PAGES, WORKBOOKS, has_ending

_WITHOUT_PAGES = (*MAY_BE_DELIMITED, *WORKBOOKS, *WEB_PAGES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What became of one row's picture: the file it was written to, or (None) the reason and the place."""

    id: str
    file: str | None
    text: str


def write_pictures(catalogue: Catalogue, rows: Sequence[Row], target: Path) -> tuple[Shown, ...]:
    """Write the first picture to `target`, further ones to NAME-2.png, NAME-3.png …, in the order of the rows.

    Raises `TorquaryError` when the name does not end in .png, or the file cannot be written.
    """
    if target.suffix.lower() != ".png":
        raise TorquaryError(f"{target}: a picture is written as PNG: name a file that ends in .png")
    shown: list[Shown] = []
    for row in rows:
        number = sum(one.file is not None for one in shown) + 1
        file = target if number == 1 else target.with_name(f"{target.stem}-{number}{target.suffix}")
        shown.append(_write(catalogue, row, file))
    return tuple(shown)


def write_held_pictures(
    catalogue: Catalogue, rows: Sequence[Mapping[str, Any]], folder: Path
) -> list[dict[str, Any]]:
    """Write the pictures of held readings (rows of held_setting) to FOLDER/ID.png; return the rows with `picture`.

    `picture` is the file, None where the catalogue keeps none. Raises `TorquaryError` when a file cannot be
    written.
    """
    told = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise TorquaryError(f"{folder} cannot be made ({error.strerror}): name another folder") from None
    for row in rows:
        png = read_picture(catalogue, row["sheet"], row["id"])
        file = folder / f"{row['id']}.png"
        if png is not None:
            _save(file, png)
        told.append({**row, "picture": None if png is None else str(file)})
    return told


def _save(file: Path, png: bytes) -> None:
    try:
        file.write_bytes(png)
    except OSError as error:
        raise TorquaryError(f"{file} cannot be written ({error.strerror}): name another file") from None


def _write(catalogue: Catalogue, row: Row, file: Path) -> Shown:
    if row.state != "released":
        return Shown(id=row.id, file=None, text=f"no picture, the figure is held: {write_place(row)}")
    png = read_picture(catalogue, row.sheet, row.id)
    if png is None:
        cell = _write_cell(row, *read_cell(catalogue, row.sheet, row.id))
        return Shown(id=row.id, file=None, text=f"no picture, {_say_why(row)}: {write_place(row)}{cell}")
    _save(file, png)
    return Shown(id=row.id, file=str(file), text=f"{file}: {write_place(row)}")


def _write_cell(row: Row, number: int | None, column: int | None) -> str:
    """Write where the torque stands in its row: the cell's name in a workbook, the column elsewhere."""
    if number is None or column is None:
        return ""
    if not has_ending(row.file, WORKBOOKS):
        return f", column {column}"
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f", cell {letters}{number}"


def _say_why(row: Row) -> str:
    if has_ending(row.file, _WITHOUT_PAGES):
        return "such a file has no printed page"
    return "none was kept; load the sheet with --again"
