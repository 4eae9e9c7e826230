"""Tells workbooks; what reads them is imported when one is opened."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.document import Document
from torquary_ingest.plugins import OpenWish
from torquary_schema.file_kinds import WORKBOOKS, has_ending

_OTHER_KINDS = (b"%PDF", b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"{\\rtf")


class WorkbookOpener:
    """Opens `.xlsx` and `.ods`: what each cell shows, never what is hidden. A page is a worksheet."""

    name = "workbook"

    def recognises(self, path: Path, head: bytes) -> bool:
        """Tell by the name's ending, unless the bytes are plainly of another kind."""
        return has_ending(path.name, WORKBOOKS) and not head.startswith(_OTHER_KINDS)

    def open(self, path: Path, wish: OpenWish) -> Document:
        """Return a document with a page for each visible worksheet, its tables given.

        Raises `SheetRefused`: sheet_encrypted, sheet_damaged, sheet_too_large, sheet_unknown_kind,
        sheet_no_pages, sheet_not_a_table.
        """
        from torquary_ingest.openers.workbook.reading import read_workbook

        return read_workbook(path)
