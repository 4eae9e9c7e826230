"""Pictures of printed rows in the catalogue, so that a figure can be looked at where the sheet is not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from torquary_catalogue.store.connection import Catalogue


def write_pictures(catalogue: Catalogue, sheet: str, pictures: Iterable[tuple[str, bytes]]) -> None:
    """Keep the PNG of each setting (id) of a sheet; those it had before are dropped."""
    catalogue.connection.execute("DELETE FROM picture WHERE sheet = ?", [sheet])
    rows = list(pictures)
    if rows:
        catalogue.connection.execute(
            "INSERT INTO picture SELECT $sheet, unnest($settings::VARCHAR[]), unnest($pngs::BLOB[])",
            {"sheet": sheet, "settings": [setting for setting, _ in rows], "pngs": [png for _, png in rows]},
        )


def which_have_pictures(catalogue: Catalogue, settings: Iterable[tuple[str, str]]) -> set[tuple[str, str]]:
    """Return those of the settings (sheet, id) whose picture is kept."""
    wanted = set(settings)
    query = "SELECT sheet, setting FROM picture WHERE setting IN (SELECT unnest($ids::VARCHAR[]))"
    found = catalogue.connection.execute(query, {"ids": [setting for _, setting in wanted]}).fetchall()
    return {(sheet, setting) for sheet, setting in found} & wanted


def read_cell(catalogue: Catalogue, sheet: str, setting: str) -> tuple[int | None, int | None]:
    """Return row and column (from 1) of a setting's torque cell; None where the sheet has no cells."""
    found = catalogue.connection.execute(
        "SELECT row_number, column_number FROM setting WHERE sheet = ? AND id = ?", [sheet, setting]
    ).fetchone()
    return (found[0], found[1]) if found else (None, None)


def read_picture(catalogue: Catalogue, sheet: str, setting: str) -> bytes | None:
    """Return the PNG of a setting; None if there is none."""
    found = catalogue.connection.execute(
        "SELECT png FROM picture WHERE sheet = ? AND setting = ?", [sheet, setting]
    ).fetchone()
    return bytes(found[0]) if found else None


def read_pictures(catalogue: Catalogue, sheets: Iterable[str]) -> Iterator[tuple[tuple[str, str], bytes]]:
    """Yield sheet and setting of each picture that is kept of these sheets, with its PNG."""
    query = "SELECT sheet, setting, png FROM picture WHERE list_contains($sheets::VARCHAR[], sheet) ORDER BY ALL"
    found = catalogue.connection.execute(query, {"sheets": list(sheets)})
    while some := found.fetchmany(1000):
        yield from (((sheet, setting), bytes(png)) for sheet, setting, png in some)
