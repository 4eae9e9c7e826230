"""PDF file to `Document`."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from pdfminer.pdfpage import PDFPage

from torquary_ingest.document import Document, Page
from torquary_ingest.errors import SheetRefused
from torquary_ingest.limits import OutOfTime, stop_after
from torquary_ingest.openers.pdf.file import PdfFile, open_file
from torquary_ingest.openers.pdf.fonts import names_mute_font
from torquary_ingest.openers.pdf.pages_told import tell_pages
from torquary_ingest.openers.pdf.pictured import find_pictured
from torquary_ingest.openers.pdf.sheet_page import read_page
from torquary_ingest.plugins import OpenWish

if TYPE_CHECKING:
    from torquary_ingest.openers.pdf.look import Chosen

_PARSING = 0.6
"""Share of the time left in which pages are parsed; what is made of them takes the rest."""


def read_pdf(path: Path, wish: OpenWish) -> Document:
    """Return the document; raise `SheetRefused` for a file that gives no words at all."""
    content = path.read_bytes()
    file = open_file(content, wish.password)
    found = file.read_pages()
    if not found:
        raise SheetRefused("sheet_no_pages", "the file has no pages: ask its maker for a whole one")
    chosen = None if wish.every_page else _choose_pages(content, wish)
    try:
        numbers = _order(found, chosen, file)
        pages = _read_in_time(
            lambda number: read_page(file, found[number - 1], number, figures=wish.figures), numbers
        )
    finally:
        file.close()
    if not pages:
        raise SheetRefused("sheet_too_slow", f"page {numbers[0]} alone takes longer than a sheet may: read it by eye")
    whole, mixed = find_pictured(pages)
    mixed = [page for page in mixed if chosen is None or page.number in chosen.searched]
    if whole or mixed:
        # Pictures are read with libraries that other pages do not need.
        from torquary_ingest.openers.pdf.scanned import read_pictures

        pages = read_pictures(content, wish, pages, whole, mixed)
    _refuse_without_words(pages)
    read = {page.number for page in pages}
    unread = tuple(sorted(set(numbers) - read))
    passed = chosen.passed_but(read) if chosen is not None else ()
    over = [page for page in passed if page.number not in unread]
    told = tell_pages(chosen.why, sorted(read), over) if chosen is not None else ()
    return Document(
        file=path.name,
        kind="pdf",
        pages=tuple(pages),
        page_count=len(found),
        digest=hashlib.sha256(content).hexdigest(),
        noted=file.noted,
        glimpsed=chosen.headings_but(read) if chosen is not None else (),
        passed=passed,
        unread=unread,
        findings=(*file.findings, *told),
    )


def _order(found: Sequence[PDFPage], chosen: Chosen | None, file: PdfFile) -> list[int]:
    """Return the numbers of the pages to read, first those that are most worth it."""
    every = range(1, len(found) + 1)
    if chosen is None:
        return [*every]
    return [*chosen.why, *(number for number in every if _is_read(found[number - 1], number, chosen.why, file))]


def _is_read(page: PDFPage, number: int, chosen: Collection[int], file: PdfFile) -> bool:
    """Tell whether a page that was not chosen is read all the same."""
    return number not in chosen and (number in file.page_faults or names_mute_font(page.resources))


def _read_in_time(read: Callable[[int], Page], numbers: Sequence[int]) -> list[Page]:
    """Return the pages that there was time for, by their numbers."""
    pages: list[Page] = []
    try:
        with stop_after(_PARSING):
            for number in numbers:
                pages.append(read(number))
    except OutOfTime:
        pass
    return sorted(pages, key=lambda page: page.number)


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
