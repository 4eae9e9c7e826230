"""Tells picture files; what reads them is imported when one is opened."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.document import Document
from torquary_ingest.plugins import OpenWish
from torquary_schema.file_kinds import PICTURES, has_ending

_HEADS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"II*\x00", b"MM\x00*")


class PictureOpener:
    """Opens PNG, JPEG and TIFF files; what is read from them is held until a person accepts it."""

    name = "picture"

    def recognises(self, path: Path, head: bytes) -> bool:
        """Tell a picture by its first bytes, or a damaged one by its name."""
        return head.startswith(_HEADS) or has_ending(path.name, PICTURES)

    def open(self, path: Path, wish: OpenWish) -> Document:
        """Return the document; raise `SheetRefused` for a file in which no word can be read."""
        from torquary_ingest.openers.picture.reading import read_picture_file

        return read_picture_file(path)
