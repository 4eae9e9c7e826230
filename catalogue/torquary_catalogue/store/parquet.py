"""Parquet, written by DuckDB itself."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.settings import PUBLIC_COLUMNS, read_kinds


def write_parquet(catalogue: Catalogue, target: Path, by: Sequence[str] = ()) -> int:
    """Write the view current_setting with its types; return the number of rows. OSError if it cannot be.

    With columns `by`, `target` is a folder with a folder for each of their values; an empty text counts as missing.
    Exact figures are DOUBLE there: frames take wide decimals for objects, and compute with none of them.
    """
    from torquary_catalogue.store.engine import duckdb

    name = str(target).replace("'", "''")
    exact = {name for name, kind in read_kinds(catalogue).items() if kind.startswith("DECIMAL")}
    written_as = {**{one: f"{one}::DOUBLE" for one in exact}, **{one: f"nullif({one}, '')" for one in by}}
    columns = ", ".join(f"{written_as.get(one, one)} AS {one}" for one in PUBLIC_COLUMNS)
    options = "FORMAT parquet"
    if by:
        # No file is named like another: some file systems take the folders of "Quay" and "QUAY" for one.
        options += f", PARTITION_BY ({', '.join(by)}), FILENAME_PATTERN 'settings_{{uuid}}', OVERWRITE_OR_IGNORE"
    rows = f"SELECT {columns} FROM current_setting ORDER BY file, sheet, number"
    try:
        written = catalogue.connection.execute(f"COPY ({rows}) TO '{name}' ({options})").fetchone()
    except duckdb.IOException as error:
        if target.name not in str(error):
            raise  # it is the catalogue that cannot be read
        raise OSError(0, str(error).splitlines()[0]) from None
    return int(written[0]) if written else 0
