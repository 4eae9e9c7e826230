"""Parquet, written by DuckDB itself."""

from __future__ import annotations

from pathlib import Path

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.settings import PUBLIC_COLUMNS, read_kinds


def write_parquet(catalogue: Catalogue, target: Path) -> int:
    """Write the view current_setting with its types; return the number of rows. OSError if it cannot be.

    Exact figures are DOUBLE there: frames take wide decimals for objects, and compute with none of them.
    """
    from torquary_catalogue.store.engine import duckdb

    name = str(target).replace("'", "''")
    exact = {name for name, kind in read_kinds(catalogue).items() if kind.startswith("DECIMAL")}
    columns = ", ".join(f"{one}::DOUBLE AS {one}" if one in exact else one for one in PUBLIC_COLUMNS)
    try:
        written = catalogue.connection.execute(
            f"COPY (SELECT {columns} FROM current_setting ORDER BY file, sheet, number) TO '{name}' (FORMAT parquet)"
        ).fetchone()
    except duckdb.IOException as error:
        if target.name not in str(error):
            raise  # it is the catalogue that cannot be read
        raise OSError(0, str(error).splitlines()[0]) from None
    return int(written[0]) if written else 0
