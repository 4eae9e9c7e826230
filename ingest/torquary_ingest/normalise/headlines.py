"""What the head of a sheet says of the whole: the lines that name its device, and its edition."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from itertools import takewhile

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.headings.sense import make_sense
from torquary_schema.words import spot

_HEAD_LINES = 8
_EDITION_LENGTH = 40
_HEAD_LENGTH = 80
"""Letters of a line that may be a title at most."""
_PART = re.compile(r"\s{2,}|[|·•;]|,\s(?=[^\W\d]{4,})|\.\s")


def read_headlines(document: Document, tables: Sequence[Table]) -> tuple[str, ...]:
    """Return the first lines of the first page that was read closely, top to bottom, down to its first table.

    A line of torques over one table ("Torques of contactors") speaks for that table alone where another table has
    a line of its own.
    """
    if not document.pages:
        return ()
    page = document.pages[0]
    end = min((_first_row(table) for table in tables if table.page == page.number), default=math.inf)
    lines = [line for line in set_lines(page)[:_HEAD_LINES] if line.box.top < end]
    kept = takewhile(lambda line: not _opens_table(line, lines), lines)
    over = {table.caption[-1] for table in tables if table.caption}
    own = {line for line in over - {document.title} if len(over) > 1 and make_sense(line).has("torque")}
    return tuple(line.text for line in kept if line.text not in own)


def whole_line(title: str, lines: Sequence[str]) -> str:
    """Return the line of a sheet's head that holds its title ("Time relay TR 2" for "TR 2"), else the title.

    The title that a file notes of itself is often a part of the printed one.
    """
    if not title:
        return ""
    return next((line for line in lines if f" {title} " in f" {line} " and len(line) <= _HEAD_LENGTH), title)


def _first_row(table: Table) -> float:
    """Return the height below which lines are a table's own: its frame, or without one the heading of its torques.

    A table without a frame may have taken the title in; what stands under the word for torque is none.
    """
    if table.means == "ruled":
        return table.box.top if table.box is not None else math.inf
    heads = (cell.box.bottom for cell in table.cells if cell.box is not None and make_sense(cell.text).has("torque"))
    return min(heads, default=math.inf) if table.means == "aligned" else math.inf


def _opens_table(line: Line, lines: Sequence[Line]) -> bool:
    """Tell whether a line is the heading of a table or the first pair of a list: what follows names no device."""
    sense = make_sense(line.text)
    if len(set(sense.fields)) > 1 and sense.unit("torque", "area", "gauge"):
        return True
    if not (sense.fields or sense.figure) or spot("family", line.text):
        return False
    beside = [o for o in lines if o is not line and o.box.top < line.box.middle[1] < o.box.bottom]
    return any(make_sense(other.text).fields or other.text[:1].isdigit() for other in beside)


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
