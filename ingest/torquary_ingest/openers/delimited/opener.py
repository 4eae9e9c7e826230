"""Tells delimited text files; what reads them is imported when one is opened."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.document import Document
from torquary_ingest.plugins import OpenWish
from torquary_schema.file_kinds import MAY_BE_DELIMITED, has_ending

_OTHER_KINDS = (
    b"%PDF", b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"\x1f\x8b", b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"{\\rtf",
    b"II*\x00", b"MM\x00*", b"SQLite format",
)  # fmt: skip


class DelimitedOpener:
    """Opens CSV, TSV and TXT. Encoding, delimiter, quoting and the tables' borders are found, not assumed."""

    name = "delimited"

    def recognises(self, path: Path, head: bytes) -> bool:
        """Tell by the name's ending, unless the bytes are plainly of another kind."""
        return has_ending(path.name, MAY_BE_DELIMITED) and not head.startswith(_OTHER_KINDS)

    def open(self, path: Path, wish: OpenWish) -> Document:
        """Return a document of one page with its tables given.

        Raises `SheetRefused`: sheet_empty, sheet_too_large, sheet_unknown_encoding, sheet_not_a_table.
        """
        from torquary_ingest.openers.delimited.reading import read_delimited

        return read_delimited(path)
