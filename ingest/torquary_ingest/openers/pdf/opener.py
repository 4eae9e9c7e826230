"""Tells PDF files; what reads them is imported when one is opened."""

from __future__ import annotations

from pathlib import Path

from torquary_ingest.document import Document
from torquary_ingest.plugins import OpenWish


class PdfOpener:
    """Opens PDF files. Pages that cannot bear a figure are passed over unless every page is wished for."""

    name = "pdf"

    def recognises(self, path: Path, head: bytes) -> bool:
        """Tell a PDF by its header, or an empty or damaged one by its name."""
        return b"%PDF-" in head[:1024] or path.suffix.lower() == ".pdf"

    def open(self, path: Path, wish: OpenWish) -> Document:
        """Return the document; raise `SheetRefused` for a file that gives no words at all."""
        from torquary_ingest.openers.pdf.reading import read_pdf

        return read_pdf(path, wish)
