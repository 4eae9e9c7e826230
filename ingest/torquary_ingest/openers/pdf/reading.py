"""PDF file to `Document`."""

from __future__ import annotations

import hashlib
from pathlib import Path

from torquary_ingest.document import Document, Page
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.pdf.file import open_file
from torquary_ingest.openers.pdf.fonts import names_mute_font
from torquary_ingest.openers.pdf.pictured import find_pictured
from torquary_ingest.openers.pdf.sheet_page import read_page
from torquary_ingest.plugins import OpenWish


def read_pdf(path: Path, wish: OpenWish) -> Document:
    """Return the document; raise `SheetRefused` for a file that gives no words at all."""
    content = path.read_bytes()
    file = open_file(content, wish.password)
    found = file.read_pages()
    if not found:
        raise SheetRefused("sheet_no_pages", "the file has no pages: ask its maker for a whole one")
    chosen = None if wish.every_page else _choose_pages(content, wish)
    try:
        pages = [
            read_page(file, page, number, figures=wish.figures)
            for number, page in enumerate(found, start=1)
            if chosen is None or number in chosen or number in file.page_faults or names_mute_font(page.resources)
        ]
    finally:
        file.close()
    whole, mixed = find_pictured(pages)
    if whole or mixed:
        # Pictures are read with libraries that other pages do not need.
        from torquary_ingest.openers.pdf.scanned import read_pictures

        pages = read_pictures(content, wish, pages, whole, mixed)
    _refuse_without_words(pages)
    return Document(
        file=path.name,
        kind="pdf",
        pages=tuple(pages),
        page_count=len(found),
        digest=hashlib.sha256(content).hexdigest(),
        noted=file.noted,
        findings=tuple(file.findings),
    )


def _choose_pages(content: bytes, wish: OpenWish) -> frozenset[int] | None:
    """Return the numbers of the pages worth reading; None: all. What looks for them is imported for that alone."""
    from torquary_ingest.openers.pdf.look import choose_pages

    return choose_pages(content, wish.password)


def _refuse_without_words(pages: list[Page]) -> None:
    """Refuse a file whose pages were all read and gave no word, or none that can be read."""
    words = [word for page in pages for word in page.words]
    readable = [word for word in words if not any(doubt.code == "character_unreadable" for doubt in word.doubts)]
    if pages and not readable:
        if words:
            raise SheetRefused(
                "sheet_no_text", "the font has no Unicode map, so its text cannot be read: read the sheet by eye"
            )
        told = next((finding.message for page in pages for finding in page.findings), "")
        raise SheetRefused("sheet_no_text", told or "the pages show no live text: read the sheet by eye")
