"""A catalogue as a folder of Parquet: what an export in parts keeps beside them, and answers from as its file does.

The parts show what is in force, for other programs. An answer also needs the words of sheets, exact figures, reasons
and what is out of force: the tables themselves, so that every command that only reads has what it has in the file.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store.layout import LAYOUT, read_layout, show_tables

if TYPE_CHECKING:
    from torquary_catalogue.store.connection import Catalogue

TABLES = "_torquary"
"""The folder of the tables: Hive, Spark and Trino pass over names that begin so."""
TABLE_ENDING = ".table"
"""Not .parquet: who reads `**/*.parquet` gets the parts alone."""


def is_exported(path: Path) -> bool:
    """Tell whether `path` is a folder with the tables of a catalogue."""
    return os.path.isdir(path / TABLES)


def list_tables(catalogue: Catalogue) -> list[str]:
    """Return the names of the catalogue's tables, which are views where it is an exported folder."""
    if is_exported(catalogue.path):
        return sorted(file.stem for file in (catalogue.path / TABLES).glob(f"*{TABLE_ENDING}"))
    return [row["name"] for row in catalogue.rows("SELECT table_name AS name FROM duckdb_tables() ORDER BY name")]


def fill_from_folder(catalogue: Catalogue) -> None:
    """Show the tables in the catalogue's folder under their names, with views and macros.

    `TorquaryError` (status 3) for those of another version; a fault of DuckDB where one is missing or damaged.
    """
    run = catalogue.connection.execute
    # The end of each file, which tells what is in it, is read once and not for each question.
    run("SET parquet_metadata_cache = true")
    for name in list_tables(catalogue):
        file = catalogue.path / TABLES / f"{name}{TABLE_ENDING}"
        run(f"CREATE VIEW {_name(name)} AS FROM read_parquet({quote(_escape(str(file)))})")
    if read_layout(catalogue) != LAYOUT:
        raise TorquaryError(
            f"{catalogue.path} was exported by another version of torquary: export it anew from its catalogue"
        )
    show_tables(catalogue)


def _escape(name: str) -> str:
    """Return a pattern that means this name alone."""
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in name)


def quote(text: str) -> str:
    """Return a text as SQL has it."""
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def _name(text: str) -> str:
    doubled = text.replace('"', '""')
    return f'"{doubled}"'
