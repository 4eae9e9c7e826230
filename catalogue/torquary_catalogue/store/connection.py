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
from torquary_catalogue.store.layout import LAYOUT, bring_up_to_date, make_tables, read_layout

STORAGE_VERSION = "v1.4.0"
"""Oldest DuckDB that opens the file: one made by DuckDB 2 with its defaults opens in no 1.x client."""

_OFFLINE: dict[str, str | bool | int | float | list[str]] = {"autoinstall_known_extensions": "false"}
# A question is over before more threads would have started.
_READING: dict[str, str | bool | int | float | list[str]] = {**_OFFLINE, "threads": 1}
_PAUSE = 0.1
_UPDATE_PATIENCE = 10.0


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

    One that an earlier version wrote is brought up to date in its place first, also when it is only to be read.
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
        if _check_format(catalogue, writing=writing):
            return catalogue
        if writing:
            bring_up_to_date(catalogue)
            return catalogue
    except duckdb.Error as error:
        catalogue.connection.close()
        raise _explain(path, str(error)) from None
    except BaseException:
        catalogue.connection.close()
        raise
    catalogue.connection.close()
    _bring_up_to_date_in_place(path)
    return open_catalogue(path, patience=patience)


def _bring_up_to_date_in_place(path: Path) -> None:
    """Take a file that an earlier version wrote to this one's layout, before it is read."""
    try:
        open_catalogue(path, writing=True, patience=_UPDATE_PATIENCE).connection.close()
    except CatalogueLocked:
        raise
    except TorquaryError as error:
        raise TorquaryError(
            f"{path} was written by an earlier version of torquary and cannot be brought up to date here ({error}): "
            "load or find it once where it may be written, or use a copy"
        ) from None


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


def _check_format(catalogue: Catalogue, *, writing: bool) -> bool:
    """Tell whether the file has the layout of this version; False for an older one."""
    path = catalogue.path
    try:
        version = read_layout(catalogue)
    except duckdb.CatalogException:
        count = catalogue.connection.execute("SELECT count(*) FROM duckdb_tables()").fetchone()
        if writing and count == (0,):
            # A load that was killed while it made the file leaves it without tables.
            make_tables(catalogue)
            return True
        raise TorquaryError(
            f"{path} is a DuckDB file, but not a torquary catalogue: name another file with --catalogue FILE"
        ) from None
    except duckdb.Error as error:
        raise _explain(path, str(error)) from None
    if version > LAYOUT:
        raise TorquaryError(f"{path} has layout {version}, this program knows up to {LAYOUT}: update torquary")
    return version == LAYOUT


def _create(path: Path) -> Catalogue:
    if not path.parent.is_dir():
        raise TorquaryError(f"{path.parent}: there is no such folder to put the catalogue in")
    connection = duckdb.connect(config=_OFFLINE)
    name = str(path).replace("'", "''")
    try:
        connection.execute(f"ATTACH '{name}' AS catalogue (STORAGE_VERSION '{STORAGE_VERSION}')")
        connection.execute("USE catalogue")
        catalogue = Catalogue(connection, path)
        make_tables(catalogue)
    except duckdb.Error as error:
        connection.close()
        raise _explain(path, str(error)) from None
    return catalogue
