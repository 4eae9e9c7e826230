"""Opening and creating the catalogue file. Every way in which that fails is one line for the person."""

from __future__ import annotations

import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any

import duckdb

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store.faults import FAULTS, CatalogueLocked, explain
from torquary_catalogue.store.working import WorkingCopy, refuse_read_only

FORMAT_VERSION = 1
"""Layout of the tables; raised whenever one of them changes."""

STORAGE_VERSION = "v1.4.0"
"""Oldest DuckDB that opens the file: one made by DuckDB 2 with its defaults opens in no 1.x client."""

_SCRIPTS = ("tables.sql", "functions.sql", "views.sql", "picture.sql", "face.sql")
_Settings = dict[str, str | bool | int | float | list[str]]
_OFFLINE: _Settings = {"autoinstall_known_extensions": "false", "autoload_known_extensions": "false"}
# A question is over before more threads would have started.
_READING: _Settings = {**_OFFLINE, "threads": 1}
_NOT_OURS = "{path} is a DuckDB file, but not a torquary catalogue: name another file with --catalogue FILE"
_MARK = b"DUCK"
_PAUSE = 0.05

READER_PATIENCE = 5.0
"""Seconds that a reader waits for a program that writes to the catalogue itself; torquary never does."""
WRITER_PATIENCE = 60.0
"""Seconds that a writer waits for other torquaries; each holds the catalogue for one batch of sheets only."""


class Catalogue:
    """An open catalogue. `path` is its file; use as a context manager, so that the file is let go.

    One opened for writing is a working copy: it is put in the catalogue's place when the block ends well, and
    thrown away when an error ends it. A fault of DuckDB that leaves the block becomes a `TorquaryError`.
    """

    def __init__(self, connection: duckdb.DuckDBPyConnection, path: Path, working: WorkingCopy | None = None) -> None:
        self.connection = connection
        self.path = path
        self._working = working

    def __enter__(self) -> Catalogue:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        try:
            self.close(keep=kind is None)
        except duckdb.Error as fault:
            raise explain(self.path, fault) from None
        if isinstance(error, FAULTS):
            raise explain(self.path, error) from None

    def close(self, *, keep: bool = True) -> None:
        """Let the file go; of a working copy, `keep` what was written, or not. Raises `TorquaryError` (status 3)."""
        if self._working is None:
            self.connection.close()
            return
        working, self._working = self._working, None
        try:
            if keep and working.has_log():
                # Closing would do it too, and be silent if it failed.
                self.connection.execute("CHECKPOINT")
            self.connection.close()
        except BaseException:
            working.discard()
            raise
        if keep:
            working.publish()
        else:
            working.discard()

    def rows(self, query: str, values: Any = None) -> list[dict[str, Any]]:
        """Return the rows of a query, each as column → value."""
        found = self.connection.execute(query, values)
        names = [column[0] for column in found.description or ()]
        return [dict(zip(names, row, strict=True)) for row in found.fetchall()]

    def has_table(self, name: str) -> bool:
        """Tell whether a table is there; catalogues made by an earlier version lack some."""
        return bool(self.rows("SELECT 1 FROM duckdb_tables() WHERE table_name = ?", [name]))

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


def open_catalogue(path: Path, *, writing: bool = False) -> Catalogue:
    """Open the catalogue at `path`; with `writing` it is made if it is not there.

    A reader sees the last whole state. A writer gets a working copy and waits for other writers.

    Raises `TorquaryError` (status 3) if it is missing, locked, not a catalogue or of a newer layout.
    """
    there = _is_there(path)
    if writing:
        return _open_copy(path)
    if not there:
        raise TorquaryError(f"{path}: no catalogue there; make one with: torquary load SHEETS --catalogue {path}")
    catalogue = Catalogue(_connect_patiently(path, READER_PATIENCE), path)
    try:
        if _is_bare(catalogue):
            raise TorquaryError(_NOT_OURS.format(path=path))
    except BaseException:
        catalogue.connection.close()
        raise
    return catalogue


def _is_there(path: Path) -> bool:
    """Tell whether there is a file; `TorquaryError` (status 3) if what is there cannot be a catalogue."""
    try:
        found = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError as error:
        raise explain(path, error) from None
    if stat.S_ISDIR(found.st_mode):
        raise TorquaryError(f"{path} is a folder, not a catalogue: name a file with --catalogue FILE")
    if not stat.S_ISREG(found.st_mode):
        raise TorquaryError(f"{path} is no file, but a device or a pipe: name a file with --catalogue FILE")
    if found.st_size == 0:
        raise TorquaryError(f"{path} is empty, not a catalogue: name another file, or delete this one")
    if _read_mark(path) != _MARK:
        # DuckDB would take it for what its name or first bytes say, and look for an extension to read it.
        raise TorquaryError(f"{path} is not a catalogue, or it is damaged: name another file with --catalogue FILE")
    return True


def _read_mark(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(12)[8:]
    except OSError as error:
        raise explain(path, error) from None


def _connect_patiently(path: Path, patience: float, *, writing: bool = False) -> duckdb.DuckDBPyConnection:
    """Connect to the file itself, which a program that writes to it may hold for a while."""
    end = time.monotonic() + patience
    while True:
        try:
            return duckdb.connect(str(path), read_only=not writing, config=_OFFLINE if writing else _READING)
        except FAULTS as error:
            fault = explain(path, error)
            if not isinstance(fault, CatalogueLocked) or time.monotonic() >= end:
                raise fault from None
            time.sleep(_PAUSE)


def _open_copy(path: Path) -> Catalogue:
    """Open a working copy of the catalogue, which is new where there is none."""
    if not path.parent.is_dir():
        raise TorquaryError(f"{path.parent}: there is no such folder to put the catalogue in")
    working = WorkingCopy(path, patience=WRITER_PATIENCE)
    connection = None
    try:
        # Only now, for another torquary may have made it meanwhile.
        bare = not _is_there(path) or _check_source(path)
        if path.exists():
            working.fill(patience=READER_PATIENCE)
        connection = duckdb.connect(config=_OFFLINE)
        name = str(working.file).replace("'", "''")
        connection.execute(f"ATTACH '{name}' AS catalogue (STORAGE_VERSION '{STORAGE_VERSION}')")
        connection.execute("USE catalogue")
        catalogue = Catalogue(connection, path, working)
        if bare:
            _fill(catalogue)
    except BaseException as error:
        if connection is not None:
            connection.close()
        working.discard()
        if isinstance(error, FAULTS):
            raise explain(path, error) from None
        raise
    return catalogue


def _check_source(path: Path) -> bool:
    """Look at the catalogue before it is copied; tell whether it has no tables yet."""
    refuse_read_only(path)
    log = path.with_name(f"{path.name}.wal")
    if log.exists():
        # A program that was killed left its last changes there; they go into the file first.
        _connect_patiently(path, READER_PATIENCE, writing=True).close()
    with Catalogue(_connect_patiently(path, READER_PATIENCE), path) as catalogue:
        return _is_bare(catalogue)


def _is_bare(catalogue: Catalogue) -> bool:
    """Tell whether the file has no tables yet; `TorquaryError` (status 3) if it is not ours or of a newer layout."""
    path = catalogue.path
    try:
        found = catalogue.connection.execute("SELECT version FROM catalogue_format").fetchone()
    except duckdb.CatalogException:
        count = catalogue.connection.execute("SELECT count(*) FROM duckdb_tables()").fetchone()
        if count == (0,):
            # A load that was killed while it made the file left it so.
            return True
        raise TorquaryError(_NOT_OURS.format(path=path)) from None
    except FAULTS as error:
        raise explain(path, error) from None
    version = found[0] if found else 0
    if version > FORMAT_VERSION:
        raise TorquaryError(f"{path} has layout {version}, this program knows up to {FORMAT_VERSION}: update torquary")
    return False


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
