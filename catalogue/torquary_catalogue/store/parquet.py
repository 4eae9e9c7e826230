"""Parquet, written by DuckDB itself."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.exported_folder import TABLE_ENDING, TABLES, list_tables, quote
from torquary_catalogue.store.settings import PUBLIC_COLUMNS, read_kinds

_ORDER = {"setting": "ORDER BY sheet_number, number", "sheet_word": "ORDER BY word, sheet_number"}
"""What a question looks up stands sorted, so that groups of rows are passed over; other tables stay as they are."""
_GROUP = 10_240
"""Rows of a group, a twelfth of DuckDB's own: a question is for few sheets."""


def write_parquet(catalogue: Catalogue, target: Path, by: Sequence[str] = ()) -> int:
    """Write the view current_setting with its types; return the number of rows. OSError if it cannot be.

    With columns `by`, `target` is a folder with a folder for each of their values; an empty text counts as missing.
    Exact figures are DOUBLE there: frames take wide decimals for objects, and compute with none of them.
    """
    exact = {name for name, kind in read_kinds(catalogue).items() if kind.startswith("DECIMAL")}
    written_as = {**{one: f"{one}::DOUBLE" for one in exact}, **{one: f"nullif({one}, '')" for one in by}}
    columns = ", ".join(f"{written_as.get(one, one)} AS {one}" for one in PUBLIC_COLUMNS)
    options = ""
    if by:
        # No file is named like another: some file systems take the folders of "Quay" and "QUAY" for one.
        options = f", PARTITION_BY ({', '.join(by)}), FILENAME_PATTERN 'settings_{{uuid}}', OVERWRITE_OR_IGNORE"
    return _copy_rows(catalogue, f"SELECT {columns} FROM current_setting ORDER BY file, sheet, number", target, options)


def write_tables(catalogue: Catalogue, folder: Path) -> None:
    """Write every table of the catalogue into `folder`. OSError if it cannot be."""
    tables = folder / TABLES
    tables.mkdir()
    for name in list_tables(catalogue):
        rows = f"SELECT * FROM {name} {_ORDER.get(name, '')}"
        _copy_rows(catalogue, rows, tables / f"{name}{TABLE_ENDING}", f", ROW_GROUP_SIZE {_GROUP}")


def _copy_rows(catalogue: Catalogue, rows: str, target: Path, options: str = "") -> int:
    """Write the rows of a query as Parquet, with further `options` of COPY; return their number.

    OSError if they cannot be written.
    """
    from torquary_catalogue.store.engine import duckdb

    try:
        copy = f"COPY ({rows}) TO {quote(str(target))} (FORMAT parquet{options})"
        written = catalogue.connection.execute(copy).fetchone()
    except duckdb.IOException as error:
        if target.name not in str(error):
            raise  # it is the catalogue that cannot be read
        raise OSError(0, str(error).splitlines()[0]) from None
    return int(written[0]) if written else 0
