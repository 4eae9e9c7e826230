"""What the head of a sheet says of the whole: the lines that name its device, and its edition."""

from __future__ import annotations

import re

from torquary_ingest.document import Document
from torquary_ingest.document.lines import set_lines
from torquary_schema.words import spot

_HEAD_LINES = 8
_EDITION_LENGTH = 40
_PART = re.compile(r"\s{2,}|[|·•;]|,\s(?=[^\W\d]{4,})|\.\s")


def read_headlines(document: Document) -> tuple[str, ...]:
    """Return the first lines of the first page that was read closely, top to bottom."""
    if not document.pages:
        return ()
    return tuple(line.text for line in set_lines(document.pages[0])[:_HEAD_LINES])


def read_edition(document: Document) -> str:
    """Return the edition as printed ("edition 4, 2024-05"); "" if no line of the sheet names one."""
    for page in document.pages:
        for line in set_lines(page):
            for match in spot("document_word", line.text):
                if match.concept == "edition":
                    told = _PART.split(line.text[match.start :])[0].strip(" .,:")
                    if re.search(r"\d|\b[A-Z]\b", told[len(match.printed) :]) and len(told) <= _EDITION_LENGTH:
                        return told
    return ""
