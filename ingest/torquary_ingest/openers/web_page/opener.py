"""Tells saved web pages; what reads them is imported when one is opened."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.document import Document
from torquary_ingest.plugins import OpenWish
from torquary_schema.file_kinds import WEB_PAGES, has_ending

_OTHER_KINDS = (b"%PDF", b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"\x1f\x8b", b"\x89PNG", b"\xff\xd8\xff", b"GIF8")


class WebPageOpener:
    """Opens saved web pages: what shows, in its order. Tables are given, prose is lines; nothing is fetched."""

    name = "web_page"

    def recognises(self, path: Path, head: bytes) -> bool:
        """Tell by the name's ending, unless the bytes are plainly of another kind."""
        return has_ending(path.name, WEB_PAGES) and not head.startswith(_OTHER_KINDS)

    def open(self, path: Path, wish: OpenWish) -> Document:
        """Return a document of one page.

        Raises `SheetRefused`: sheet_empty, sheet_too_large, sheet_unknown_encoding, sheet_damaged,
        sheet_not_a_table.
        """
        from torquary_ingest.openers.web_page.reading import read_web_page

        return read_web_page(path)
