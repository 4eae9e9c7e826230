"""Opens a PDF file's structure: empty, encrypted, damaged and page-less files are told apart here."""

from __future__ import annotations

import contextlib
import io
import logging
import re
import struct
import zlib
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pdfplumber
from pdfminer.pdfdocument import PDFDocument, PDFEncryptionError, PDFPasswordIncorrect, PDFTextExtractionNotAllowed
from pdfminer.pdfexceptions import PDFException
from pdfminer.pdfpage import PDFPage
from pdfminer.pdftypes import resolve1
from pdfminer.psexceptions import PSException
from pdfminer.utils import decode_text
from pdfplumber.pdf import PDF
from pdfplumber.utils.exceptions import MalformedPDFException, PdfminerException

from torquary_ingest.document import Noted
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.pdf.filters import find_page_faults
from torquary_ingest.openers.pdf.fonts import FontShelf
from torquary_ingest.openers.pdf.layers import Layers
from torquary_ingest.openers.pdf.limits import check_contents
from torquary_ingest.openers.pdf.structure import find_broken_objects, find_lost_pages
from torquary_schema.values import Finding

if TYPE_CHECKING:
    from torquary_ingest.openers.pdf.shapes import ShapeCheck
    from torquary_ingest.openers.pdf.visible_ink import InkCheck

PARSER_FAULTS = (
    PDFException,
    PSException,
    MalformedPDFException,
    RecursionError,
    AssertionError,
    AttributeError,
    LookupError,
    OverflowError,
    TypeError,
    ValueError,
    ZeroDivisionError,
    EOFError,
    struct.error,
    zlib.error,
)
"""What the parser library raises on a damaged file: a fault of the data, told as a finding or a refusal."""

# The library warns of every oddity of a font; what matters of it becomes a finding or a doubt of ours.
logging.getLogger("pdfminer").setLevel(logging.ERROR)

_LOCKED = (PDFPasswordIncorrect, PDFEncryptionError, PDFTextExtractionNotAllowed)


class PdfFile:
    """An opened file: its document, its layers and what is to be said about it."""

    def __init__(self, plumbed: PDF, content: bytes, password: str, *, searched: bool = False) -> None:
        self.plumbed = plumbed
        self.document = document = plumbed.doc
        self.layers = Layers(document.catalog)
        self.shelf = plumbed.rsrcmgr = FontShelf()
        self._shapes: ShapeCheck | None = None
        self._ink: InkCheck | None = None
        self._content, self._password = content, password
        self.findings: list[Finding] = list(_file_findings(document, content, searched))
        self.page_faults: dict[int, list[str]] = {}

    def read_pages(self) -> list[PDFPage]:
        """Return the pages in order, their content checked for size; `SheetRefused` when their tree is damaged.

        `page_faults` then says what of a page's content (by its number from 1) is damaged, before it is run.
        """
        try:
            root = resolve1(self.document.catalog.get("Pages"))
            if isinstance(root, dict) and not resolve1(root.get("Kids")):
                return []
            pages = list(PDFPage.create_pages(self.document))
            check_contents(pages)
            told = ((number, find_page_faults(page, self.shelf.streams)) for number, page in enumerate(pages, start=1))
            self.page_faults = {number: faults for number, faults in told if faults}
            self.findings += find_lost_pages(root, len(pages))
        except PARSER_FAULTS as error:
            raise SheetRefused(
                "sheet_damaged", f"the pages cannot be found ({error!r}): ask for a sound copy"
            ) from error
        return pages

    @property
    def shapes(self) -> ShapeCheck:
        """The check of how digits are drawn; it renders, and is made when it is first asked."""
        if self._shapes is None:
            from torquary_ingest.openers.pdf.shapes import ShapeCheck

            self._shapes = ShapeCheck(self._content, self._password)
        return self._shapes

    @property
    def ink(self) -> InkCheck:
        """The check of which texts show; it renders, and is made when it is first asked."""
        if self._ink is None:
            from torquary_ingest.openers.pdf.visible_ink import InkCheck

            self._ink = InkCheck(self._content, self._password)
        return self._ink

    def close(self) -> None:
        """Let go of what was rendered."""
        for check in (self._shapes, self._ink):
            if check is not None:
                check.close()

    @property
    def noted(self) -> Noted:
        """What the file notes about itself."""
        return Noted(**{name.lower(): self._read_note(name) for name in ("Title", "Subject", "Author", "Company")})

    def _read_note(self, name: str) -> str:
        with contextlib.suppress(*PARSER_FAULTS):
            for entries in self.document.info:
                note = resolve1(entries.get(name))
                if isinstance(note, bytes):
                    return " ".join(decode_text(note).split())
        return ""


def open_file(content: bytes, password: str) -> PdfFile:
    """Return the opened file; raise `SheetRefused` when it is empty, locked or beyond repair."""
    if not content:
        raise SheetRefused("sheet_empty", "the file has no bytes: fetch it again")
    try:
        return _open_document(content, password)
    except PdfminerException as error:
        cause = error.args[0] if error.args else error
        if isinstance(cause, _LOCKED) and password:
            # A password given for a whole folder must not shut the files that need none.
            return open_file(content, "")
        if isinstance(cause, _LOCKED):
            raise SheetRefused(
                "sheet_encrypted", "the file needs a password: give it, or ask for an open copy"
            ) from error
        raise SheetRefused("sheet_damaged", f"the file cannot be read ({cause!r}): ask for a sound copy") from error
    except PARSER_FAULTS as error:
        raise SheetRefused("sheet_damaged", f"the file cannot be read ({error!r}): ask for a sound copy") from error


def _open_document(content: bytes, password: str) -> PdfFile:
    """Return the file by its table of objects, or by a search for them where that table leads to no pages."""
    plumbed = pdfplumber.open(io.BytesIO(content), password=password)
    if not _has_pages(plumbed.doc):
        lost = re.sub(rb"startxref\s+\d+", b"startxref\n0", content)
        searched = pdfplumber.open(io.BytesIO(lost), password=password)
        if _has_pages(searched.doc):
            return PdfFile(searched, content, password, searched=True)
    return PdfFile(plumbed, content, password)


def _has_pages(document: PDFDocument) -> bool:
    root = resolve1(document.catalog.get("Pages"))
    return isinstance(root, dict) and bool(resolve1(root.get("Kids")))


def _file_findings(document: PDFDocument, content: bytes, searched: bool) -> Iterator[Finding]:
    if searched or not _starts_right(content):
        yield Finding(
            code="sheet_repaired",
            scope="sheet",
            message="the file's table of objects was missing or in the wrong place and was rebuilt by a search",
        )
    if not document.encryption:
        yield from find_broken_objects(content)
    if not document.is_extractable:
        yield Finding(
            code="sheet_permissions",
            scope="sheet",
            message="the file forbids extraction by a permission bit; it opens without a password and was read",
        )
    if active := sorted(_active_content(document.catalog)):
        yield Finding(
            code="sheet_active_content",
            scope="sheet",
            message=f"the file carries {' and '.join(active)}; nothing was run and nothing read from it",
        )


def _starts_right(content: bytes) -> bool:
    """Tell whether the last startxref points at a table of objects."""
    found = re.findall(rb"startxref\s+(\d+)", content[-4096:])
    if not found:
        return False
    shift = max(0, content[:1024].find(b"%PDF-"))
    for offset in (int(found[-1]), int(found[-1]) + shift):
        there = content[offset : offset + 40].lstrip()
        if there.startswith(b"xref") or re.match(rb"\d+\s+\d+\s+obj", there):
            return True
    return False


def _active_content(catalog: dict[str, Any]) -> set[str]:
    found: set[str] = set()
    names = resolve1(catalog.get("Names"))
    if isinstance(names, dict):
        if names.get("JavaScript"):
            found.add("a script")
        if names.get("EmbeddedFiles"):
            found.add("attachments")
    action = resolve1(catalog.get("OpenAction"))
    if isinstance(action, dict) and str(getattr(action.get("S"), "name", "")) in ("JavaScript", "Launch"):
        found.add("a script")
    if catalog.get("AF"):
        found.add("attachments")
    if catalog.get("AA"):
        found.add("a script")
    return found
