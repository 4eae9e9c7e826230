"""A small sheet written as text (delimited text, a page), and what the reader gives of it."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting


def settings_of(path: Path, text: str) -> list[Setting]:
    """Return the settings read from `text` in a file of that name."""
    path.write_text(text, encoding="utf-8")
    return list(read_sheet(path).settings)
