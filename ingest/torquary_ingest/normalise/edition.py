"""The edition of a sheet, as printed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import set_lines
from torquary_schema.words import spot

_EDITION_LENGTH = 40
_PART = re.compile(r"\s{2,}|[|·•;]|,\s(?=[^\W\d]{4,})|\.\s")


def read_edition(document: Document, tables: Sequence[Table]) -> str:
    """Return the edition as printed ("edition 4, 2024-05"); "" if no line of the sheet or about a table names one."""
    for text in _lines_of_text(document, tables):
        for match in spot("document_word", text):
            if match.concept == "edition":
                told = _PART.split(text[match.start :])[0].strip(" .,:")
                if re.search(r"\d|\b[A-Z]\b", told[len(match.printed) :]) and len(told) <= _EDITION_LENGTH:
                    return told
    return ""


def _lines_of_text(document: Document, tables: Sequence[Table]) -> Iterator[str]:
    """Yield the lines on pages, and those that stand over and under tables where there are no pages to set."""
    for page in document.pages:
        yield from (line.text for line in set_lines(page))
    for table in tables:
        yield from (*table.caption, *table.below)
