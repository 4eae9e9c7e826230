"""What went wrong with the catalogue file, in one line that says what to do."""

from __future__ import annotations

from pathlib import Path

from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store.engine import duckdb

# DuckDB tells its faults apart by text alone; "lock" would be found in "block" too.
_LOCKED = ("could not set lock", "conflicting lock", "being used by another process")
_NO_ROOM = ("no space left", "disk quota", "file too large", "not enough space", "disk is full", "could not write all")
_NO_RIGHTS = ("permission denied", "read-only file system", "operation not permitted", "access is denied")
_NEWER = ("newer version", "storage version", "version number")
_NO_MEMORY = ("out of memory", "failed to allocate", "could not allocate")


FAULTS = (duckdb.Error, UnicodeDecodeError, MemoryError)
"""What DuckDB raises at a file that cannot be used: its own errors, and Python's at text or sizes that are damaged."""


class CatalogueLocked(TorquaryError):  # noqa: N818  (a fact, as in errors elsewhere)
    """Another program holds the catalogue for writing."""


def explain(path: Path, error: BaseException) -> TorquaryError:
    """Return the error (status 3) for a fault of DuckDB or of the system at the catalogue `path`."""
    said = str(error).lower()
    if _says(said, _LOCKED):
        return CatalogueLocked(f"{path} is in use by another program that writes to it: try again when it has ended")
    if _says(said, _NO_ROOM):
        return TorquaryError(
            f"{path}: there is no room left to write it, and it is as it was before: make room and try again"
        )
    if _says(said, _NO_RIGHTS):
        return TorquaryError(f"{path} cannot be opened or written: check the permissions of the file and its folder")
    if _says(said, _NEWER):
        return TorquaryError(f"{path} was written by a newer version of DuckDB: update torquary to open it")
    if isinstance(error, MemoryError | duckdb.OutOfMemoryException) or _says(said, _NO_MEMORY):
        return TorquaryError(f"{path} needs more memory than there is: end other programs and try again")
    if isinstance(error, OSError):
        return TorquaryError(f"{path} cannot be used ({error.strerror or error}): check its name and its folder")
    return TorquaryError(
        f"{path} is not a catalogue, or it is damaged ({_shorten(error)}): "
        "name another file with --catalogue FILE, or take the last copy of it"
    )


def _says(said: str, marks: tuple[str, ...]) -> bool:
    return any(mark in said for mark in marks)


def _shorten(error: BaseException) -> str:
    """Return what DuckDB says of it: its first line, bounded."""
    lines = str(error).splitlines()
    return lines[0][:160] if lines else type(error).__name__
