"""Opening and creating the catalogue file. Every way in which that fails is one line for the person."""

from __future__ import annotations

import stat
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store.batch import Batch
from torquary_catalogue.store.engine import duckdb
from torquary_catalogue.store.exported_folder import fill_from_folder, is_exported
from torquary_catalogue.store.faults import FAULTS, CatalogueLocked, explain
from torquary_catalogue.store.layout import LAYOUT, bring_up_to_date, make_tables, read_layout
from torquary_catalogue.store.working import WorkingCopy, refuse_read_only

STORAGE_VERSION = "v1.4.0"
"""Oldest DuckDB that opens the file: one made by DuckDB 2 with its defaults opens in no 1.x client."""

_Settings = dict[str, str | bool | int | float | list[str]]
# These optimizers take longer than a question takes without them.
_UNUSED = "statistics_propagation,join_order,cte_inlining"
_UNUSED_ASKING = f"{_UNUSED},common_subexpressions,common_subplan,duplicate_groups,projection_pullup"
_OFFLINE: _Settings = {
    "autoinstall_known_extensions": "false",
    "autoload_known_extensions": "false",
    "disabled_optimizers": _UNUSED,
}
# A question is over before more threads would have started.
_READING: _Settings = {**_OFFLINE, "threads": 1, "disabled_optimizers": _UNUSED_ASKING}
_NOT_OURS = "{path} is a DuckDB file, but not a torquary catalogue: name another file with --catalogue FILE"
_MARK = b"DUCK"
_PAUSE = 0.05

READER_PATIENCE = 5.0
"""Seconds that a reader waits for a program that writes to the catalogue itself; torquary never does."""
WRITER_PATIENCE = 60.0
"""Seconds that a writer waits for other torquaries; each holds the catalogue for one batch of sheets only."""


class Catalogue:
    """An open catalogue. `path` is its file; use as a context manager, so that the file is let go.

    `batch` is what waits until several sheets are written (`follow.together`); None outside of that.

    One opened for writing is a working copy: it is put in the catalogue's place when the block ends well, and
    thrown away when an error ends it. A fault of DuckDB that leaves the block becomes a `TorquaryError`.
    """

    def __init__(self, connection: duckdb.DuckDBPyConnection, path: Path, working: WorkingCopy | None = None) -> None:
        self.connection = connection
        self.path = path
        self.batch: Batch | None = None
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

    def look_up(self, query: str, keys: Sequence[str]) -> list[dict[str, Any]]:
        """Return the rows of a query for `keys`; its column `asked` says for which of them each row is."""
        return self.rows(query, {"keys": keys})

    def find_settings(self, query: str, parts: Mapping[str, Any]) -> list[dict[str, Any]]:
        """Return the rows of `query`, which puts `parts` of a question (name → value) to the macro find_setting."""
        return self.rows(query)

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
    """Open the catalogue at `path`, a file or an exported folder; with `writing` it is made if it is not there.

    A reader sees the last whole state. A writer gets a working copy and waits for other writers.

    One that an earlier version wrote is brought up to date first, by a writer, also when it is only to be read.
    Raises `TorquaryError` (status 3) if it is missing, locked, not a catalogue or of a newer layout.
    """
    if is_exported(path):
        return _open_folder(path, writing=writing)
    there = _is_there(path)
    if writing:
        return _open_copy(path)
    if not there:
        raise TorquaryError(f"{path}: no catalogue there; make one with: torquary load SHEETS --catalogue {path}")
    catalogue = Catalogue(_connect_patiently(path, READER_PATIENCE), path)
    try:
        layout = _check_layout(catalogue)
        if layout is None:
            raise TorquaryError(_NOT_OURS.format(path=path))
        if layout == LAYOUT:
            return catalogue
    except BaseException:
        catalogue.connection.close()
        raise
    catalogue.connection.close()
    _bring_up_to_date_in_place(path)
    return open_catalogue(path)


def _open_folder(path: Path, *, writing: bool) -> Catalogue:
    """Open an exported folder, which is never written, nor brought up to date."""
    if writing:
        raise TorquaryError(
            f"{path} is an exported folder, which is only read: do this in the catalogue it was exported from"
        )
    catalogue = Catalogue(duckdb.connect(config=_READING), path)
    try:
        fill_from_folder(catalogue)
    except BaseException as error:
        catalogue.connection.close()
        if isinstance(error, FAULTS):
            raise explain(path, error) from None
        raise
    return catalogue


def _bring_up_to_date_in_place(path: Path) -> None:
    """Take a file that an earlier version wrote to this one's layout, before it is read."""
    try:
        open_catalogue(path, writing=True).close()
    except CatalogueLocked:
        raise
    except TorquaryError as error:
        raise TorquaryError(
            f"{path} was written by an earlier version of torquary and cannot be brought up to date here ({error}): "
            "load or find it once where it may be written, or use a copy"
        ) from None


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
        there = _is_there(path)
        if there:
            refuse_read_only(path)
            _write_out_log(path)
            working.fill(patience=READER_PATIENCE)
        connection = duckdb.connect(config=_OFFLINE)
        name = str(working.file).replace("'", "''")
        made = "" if there else f" (STORAGE_VERSION '{STORAGE_VERSION}')"
        connection.execute(f"ATTACH '{name}' AS catalogue{made}")
        connection.execute("USE catalogue")
        catalogue = Catalogue(connection, path, working)
        layout = _check_layout(catalogue) if there else None
        if layout is None:
            make_tables(catalogue)
        elif layout < LAYOUT:
            bring_up_to_date(catalogue)
    except BaseException as error:
        if connection is not None:
            connection.close()
        working.discard()
        if isinstance(error, FAULTS):
            raise explain(path, error) from None
        raise
    return catalogue


def _write_out_log(path: Path) -> None:
    """Let the last changes of a program that was killed go into the file before it is copied."""
    if path.with_name(f"{path.name}.wal").exists():
        _connect_patiently(path, READER_PATIENCE, writing=True).close()


def _check_layout(catalogue: Catalogue) -> int | None:
    """Return the number of the layout, None where the file has no tables yet.

    Raises `TorquaryError` (status 3) if it is not ours or of a newer layout.
    """
    path = catalogue.path
    try:
        version = read_layout(catalogue)
    except duckdb.CatalogException:
        count = catalogue.connection.execute("SELECT count(*) FROM duckdb_tables()").fetchone()
        if count == (0,):
            # A load that was killed while it made the file left it so.
            return None
        raise TorquaryError(_NOT_OURS.format(path=path)) from None
    except FAULTS as error:
        raise explain(path, error) from None
    if version > LAYOUT:
        raise TorquaryError(f"{path} has layout {version}, this program knows up to {LAYOUT}: update torquary")
    return version
