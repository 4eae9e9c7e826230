"""The report of a sheet that was not read."""

from __future__ import annotations

import hashlib
from pathlib import Path

from torquary_ingest.errors import SheetRefused
from torquary_schema.values import Finding, SheetReport


def refuse_sheet(path: Path, refused: SheetRefused) -> SheetReport:
    """Return the report of a sheet that was not read: what is the matter and what to do."""
    finding = Finding(code=refused.code, scope="sheet", message=refused.message)
    return SheetReport(file=path.name, digest=take_digest(path), state="refused", findings=(finding,))


def take_digest(path: Path) -> str:
    """Return the SHA-256 of a file's bytes in hex, "" for one that cannot be reached."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""
