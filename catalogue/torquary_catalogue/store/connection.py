"""Opening and creating the catalogue file. Every way in which that fails is one line for the person."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any

import duckdb

from torquary_catalogue.errors import TorquaryError

FORMAT_VERSION = 1
"""Layout of the tables; raised whenever one of them changes."""

STORAGE_VERSION = "v1.4.0"
"""Oldest DuckDB that opens the file: one made by DuckDB 2 with its defaults opens in no 1.x client."""

_SCRIPTS = ("tables.sql", "functions.sql", "views.sql", "picture.sql", "face.sql")
_OFFLINE: dict[str, str | bool | int | float | list[str]] = {"autoinstall_known_extensions": "false"}
# A question is over before more threads would have started.
_READING: dict[str, str | bool | int | float | list[str]] = {**_OFFLINE, "threads": 1}
_PAUSE = 0.1


class CatalogueLocked(TorquaryError):  # noqa: N818  (a fact, as in errors elsewhere)
    """Another program holds the catalogue for writing."""


class Catalogue:
    """An open catalogue. `path` is its file; use as a context manager, so that the file is let go."""

    def __init__(self, connection: duckdb.DuckDBPyConnection, path: Path) -> None:
        self.connection = connection
        self.path = path

    def __enter__(self) -> Catalogue:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.connection.close()

    def rows(self, query: str, values: Any = None) -> list[dict[str, Any]]:
        """Return the rows of a query, each as column → value."""
        found = self.connection.execute(query, values)
        names = [column[0] for column in found.description or ()]
        return [dict(zip(names, row, strict=True)) for row in found.fetchall()]

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """Keep all that is done inside, or nothing of it."""
        self.connection.begin()
        try:
            yield
        except BaseException:
            self.connection.rollback()
            raise
        self.connection.commit()


def open_catalogue(path: Path, *, writing: bool = False, patience: float = 0.0) -> Catalogue:
    """Open the catalogue at `path`; with `writing` it is made if it is not there.

    While another program writes to it, try again for `patience` seconds.

    Raises `TorquaryError` (status 3) if it is missing, locked, not a catalogue or of a newer layout.
    """
    if path.is_dir():
        raise TorquaryError(f"{path} is a folder, not a catalogue: name a file with --catalogue FILE")
    if not path.exists():
        if not writing:
            raise TorquaryError(f"{path}: no catalogue there; make one with: torquary load SHEETS --catalogue {path}")
        return _create(path)
    catalogue = Catalogue(_connect_patiently(path, writing=writing, patience=patience), path)
    try:
        _check_format(catalogue, writing=writing)
    except BaseException:
        catalogue.connection.close()
        raise
    return catalogue


def _connect_patiently(path: Path, *, writing: bool, patience: float) -> duckdb.DuckDBPyConnection:
    end = time.monotonic() + patience
    while True:
        try:
            return _connect(path, writing=writing)
        except CatalogueLocked:
            if time.monotonic() >= end:
                raise
            time.sleep(_PAUSE)


def _connect(path: Path, *, writing: bool) -> duckdb.DuckDBPyConnection:
    if path.stat().st_size == 0:
        raise TorquaryError(f"{path} is empty, not a catalogue: name another file, or delete this one")
    try:
        return duckdb.connect(str(path), read_only=not writing, config=_OFFLINE if writing else _READING)
    except duckdb.Error as error:
        raise _explain(path, str(error)) from None


def _explain(path: Path, fault: str) -> TorquaryError:
    """Put DuckDB's fault into one line that says what to do."""
    lowered = fault.lower()
    if "lock" in lowered:
        return CatalogueLocked(f"{path} is in use by another program that writes to it: try again when it has ended")
    if "permission" in lowered or "read-only" in lowered or "cannot open file" in lowered:
        return TorquaryError(f"{path} cannot be opened: check the permissions of the file and its folder")
    if "newer version" in lowered or "storage version" in lowered:
        return TorquaryError(f"{path} was written by a newer version of DuckDB: update torquary to open it")
    return TorquaryError(f"{path} is not a catalogue, or it is damaged: name another file with --catalogue FILE")


def _check_format(catalogue: Catalogue, *, writing: bool) -> None:
    path = catalogue.path
    try:
        found = catalogue.connection.execute("SELECT version FROM catalogue_format").fetchone()
    except duckdb.CatalogException:
        count = catalogue.connection.execute("SELECT count(*) FROM duckdb_tables()").fetchone()
        if writing and count == (0,):
            # A load that was killed while it made the file leaves it without tables.
            _fill(catalogue)
            return
        raise TorquaryError(
            f"{path} is a DuckDB file, but not a torquary catalogue: name another file with --catalogue FILE"
        ) from None
    except duckdb.Error as error:
        raise _explain(path, str(error)) from None
    version = found[0] if found else 0
    if version > FORMAT_VERSION:
        raise TorquaryError(f"{path} has layout {version}, this program knows up to {FORMAT_VERSION}: update torquary")


def _create(path: Path) -> Catalogue:
    if not path.parent.is_dir():
        raise TorquaryError(f"{path.parent}: there is no such folder to put the catalogue in")
    connection = duckdb.connect(config=_OFFLINE)
    name = str(path).replace("'", "''")
    try:
        connection.execute(f"ATTACH '{name}' AS catalogue (STORAGE_VERSION '{STORAGE_VERSION}')")
        connection.execute("USE catalogue")
        catalogue = Catalogue(connection, path)
        _fill(catalogue)
    except duckdb.Error as error:
        connection.close()
        raise _explain(path, str(error)) from None
    return catalogue


def _fill(catalogue: Catalogue) -> None:
    """Make tables, macros and views in one transaction."""
    from importlib.metadata import version
    from importlib.resources import files

    folder = files("torquary_catalogue.store")
    with catalogue.transaction():
        for name in _SCRIPTS:
            catalogue.connection.execute((folder / name).read_text("utf-8"))
        _comment_views(catalogue)
        catalogue.connection.execute(
            "INSERT INTO catalogue_format VALUES (?, ?, (now() AT TIME ZONE 'UTC'), NULL)",
            [FORMAT_VERSION, f"torquary {version('torquary')}"],
        )


def _comment_views(catalogue: Catalogue) -> None:
    """Give each column of a view the comment of the table column it shows."""
    uncommented = catalogue.rows("""
        SELECT v.table_name AS view, v.column_name AS name, 
            first(t.comment ORDER BY t.table_name DESC) AS comment
        FROM duckdb_columns() AS v
        JOIN duckdb_columns() AS t ON t.column_name = v.column_name AND t.comment IS NOT NULL
        WHERE v.comment IS NULL AND v.table_name IN (SELECT view_name FROM duckdb_views() WHERE NOT internal)
        GROUP BY ALL""")
    for column in uncommented:
        comment = column["comment"].replace("'", "''")
        catalogue.connection.execute(f"COMMENT ON COLUMN {column['view']}.{column['name']} IS '{comment}'")
