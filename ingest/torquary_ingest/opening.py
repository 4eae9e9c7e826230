"""The first half of a sheet's way: from the file to the tables on its pages.

It imports nothing of what reads figures: who asks for the tables alone need not wait for that.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from torquary_ingest.document import Document, Table
from torquary_ingest.plugins import OpenWish
from torquary_ingest.refusal import take_digest, write_name
from torquary_ingest.registry import choose_opener
from torquary_ingest.tables import find_all_tables
from torquary_schema.values import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A document with the tables on its pages and what there was to say on the way."""

    document: Document
    tables: tuple[Table, ...]
    findings: tuple[Finding, ...]


def open_sheet(path: Path, wish: OpenWish) -> Opened:
    """Return the document and its tables; raise `SheetRefused` when it cannot be read at all."""
    opener, remarks = choose_opener(path)
    document = replace(opener.open(path, wish), file=write_name(path))
    document = replace(document, digest=document.digest or take_digest(path))
    tables = find_all_tables(document.pages)
    of_pages = tuple(finding for page in document.pages for finding in page.findings)
    return Opened(document=document, tables=tables, findings=(*remarks, *document.findings, *of_pages))
