"""The first half of a sheet's way: from the file to the tables on its pages.

It imports nothing of what reads figures: who asks for the tables alone need not wait for that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from torquary_ingest.document import Document, Table
from torquary_ingest.limits import SECONDS_AGAIN, given_seconds
from torquary_ingest.plugins import OpenWish
from torquary_ingest.refusal import take_digest, write_name
from torquary_ingest.registry import choose_opener
from torquary_ingest.tables import find_all_tables
from torquary_schema.places import write_pages
from torquary_schema.values import Finding, Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A document with the tables on its pages and what there was to say on the way."""

    document: Document
    tables: tuple[Table, ...]
    findings: tuple[Finding, ...]


def open_sheet(path: Path, wish: OpenWish) -> Opened:
    """Return the document and its tables; raise `SheetRefused` when it cannot be read at all."""
    return find_tables(open_document(path, wish))


def open_document(path: Path, wish: OpenWish) -> Document:
    """Return the document, with what there was to say of its openers; raises as `open_sheet` does."""
    opener, remarks = choose_opener(path)
    document = replace(opener.open(path, wish), file=write_name(path))
    digest = document.digest or take_digest(path)
    return replace(document, digest=digest, findings=(*remarks, *document.findings))


def find_tables(document: Document) -> Opened:
    """Return the document with its tables and all that was to be said so far."""
    tables = find_all_tables(document.pages)
    of_pages = (finding for page in document.pages for finding in page.findings)
    return Opened(document=document, tables=tables, findings=(*document.findings, *tell_unread(document), *of_pages))


def tell_unread(document: Document) -> Iterator[Finding]:
    """Yield what is said of pages for which there was no time, in one finding."""
    if not document.unread:
        return
    given = given_seconds()
    over = "the time for one sheet" if math.isinf(given) else f"the time for one sheet ({given:g} s)"
    ways = f"load it again, for which it has {SECONDS_AGAIN:g} s, or " if given < SECONDS_AGAIN else ""
    message = (
        f"{write_pages(document.unread)}: not read, for {over} was over; what was read is held until all is read: "
        f"{ways}split the file into smaller ones"
    )
    yield Finding(code="pages_not_read", scope="sheet", message=message, place=Place(page=document.unread[0]))
