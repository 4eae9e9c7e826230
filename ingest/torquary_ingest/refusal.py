"""Files that are named as sheets: opened with care, and the report of one that was not read."""

from __future__ import annotations

import hashlib
import os
import stat
from io import BufferedReader
from pathlib import Path

from torquary_ingest.errors import SheetRefused
from torquary_schema.values import Finding, SheetReport


def refuse_sheet(path: Path, refused: SheetRefused) -> SheetReport:
    """Return the report of a sheet that was not read: what is the matter and what to do."""
    finding = Finding(code=refused.code, scope="sheet", message=refused.message)
    return SheetReport(file=write_name(path), digest=take_digest(path), state="refused", findings=(finding,))


def take_digest(path: Path) -> str:
    """Return the SHA-256 of a file's bytes in hex, "" for one that cannot be reached."""
    try:
        with open_file(path) as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def open_file(path: Path) -> BufferedReader:
    """Open a regular file for reading; OSError for all else.

    Nothing is waited for: a pipe without a writer would never open, and a device never end.
    """
    opened = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        kind = os.fstat(opened).st_mode
        if not stat.S_ISREG(kind):
            raise OSError(0, "it is a folder" if stat.S_ISDIR(kind) else "it is no file, but a pipe or a device")
        return os.fdopen(opened, "rb")
    except BaseException:
        os.close(opened)
        raise


def write_name(path: Path) -> str:
    """Return a file's name as text; bytes of a name that is not UTF-8 are shown as \\xNN."""
    return os.fsencode(path.name).decode("utf-8", "backslashreplace")
