"""PDF file to `Document`."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from pdfminer.pdfpage import PDFPage

from torquary_ingest.document import Document, HeadingLine, Page, PassedPage
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.pdf.file import PdfFile, open_file
from torquary_ingest.openers.pdf.fonts import names_mute_font
from torquary_ingest.openers.pdf.pages_told import tell_pages
from torquary_ingest.openers.pdf.pictured import find_pictured
from torquary_ingest.openers.pdf.sheet_page import read_page
from torquary_ingest.plugins import OpenWish

if TYPE_CHECKING:
    from torquary_ingest.openers.pdf.look import Chosen


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
            if chosen is None or _is_read(page, number, chosen.why, file)
        ]
    finally:
        file.close()
    whole, mixed = find_pictured(pages)
    mixed = [page for page in mixed if chosen is None or page.number in chosen.searched]
    if whole or mixed:
        # Pictures are read with libraries that other pages do not need.
        from torquary_ingest.openers.pdf.scanned import read_pictures

        pages = read_pictures(content, wish, pages, whole, mixed)
    _refuse_without_words(pages)
    passed = _passed_over(chosen, pages)
    told = tell_pages(chosen.why, [page.number for page in pages], passed) if chosen is not None else ()
    return Document(
        file=path.name,
        kind="pdf",
        pages=tuple(pages),
        page_count=len(found),
        digest=hashlib.sha256(content).hexdigest(),
        noted=file.noted,
        glimpsed=_glimpsed_of_others(chosen, pages),
        passed=passed,
        findings=(*file.findings, *told),
    )


def _is_read(page: PDFPage, number: int, chosen: Collection[int], file: PdfFile) -> bool:
    return number in chosen or number in file.page_faults or names_mute_font(page.resources)


def _glimpsed_of_others(chosen: Chosen | None, pages: Sequence[Page]) -> tuple[HeadingLine, ...]:
    """Return the heading lines of the pages that were not read closely."""
    read = {page.number for page in pages}
    return tuple(line for line in chosen.glimpsed if line.page not in read) if chosen is not None else ()


def _passed_over(chosen: Chosen | None, pages: Sequence[Page]) -> tuple[PassedPage, ...]:
    """Return the pages that were not read closely, with what they tell."""
    read = {page.number for page in pages}
    return tuple(page for page in chosen.passed if page.number not in read) if chosen is not None else ()


def _choose_pages(content: bytes, wish: OpenWish) -> Chosen | None:
    """Return the pages worth reading; None: all. What looks for them is imported for that alone."""
    from torquary_ingest.openers.pdf.look import choose_pages

    return choose_pages(content, wish.password, wish.sought)


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
