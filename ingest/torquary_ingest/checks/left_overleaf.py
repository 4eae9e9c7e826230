"""A line of figures at the head of a page, outside every table, behind a page whose table was read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from torquary_ingest.document import Document, Table
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.tables.lines import Line
from torquary_ingest.tables.overleaf import HEAD_LINES, lines_of_own
from torquary_schema.values import Finding, Place, Setting

_LEAST_TEXTS = 2
_NUMBERED = re.compile(r"\d+(?:\.\d+)*\.?\Z")
_AS_LARGE = 1.15
"""Share of the largest type in the tables of the page before: a line set larger is a heading."""


def find_rows_left(document: Document, tables: Sequence[Table], settings: Sequence[Setting]) -> Iterator[Finding]:
    """Yield a finding for the first line of each page that may be a row of the table read on the page before."""
    read = {(setting.place.page, setting.place.table) for setting in settings if setting.place.table is not None}
    pages_read = {page for page, _ in read}
    pages = {page.number: page for page in document.pages}
    for page in document.pages:
        before = pages.get(page.number - 1)
        if before is None or before.number not in pages_read or page.tables is not None:
            continue
        here, above = ([table for table in tables if table.page == number] for number in (page.number, before.number))
        lines = lines_of_own(page, here, before, above)[:HEAD_LINES]
        own = [table for table in above if (table.page, table.number) in read]
        line = next((one for one in lines if _is_row(one) and not _is_heading(one, own)), None)
        if line is not None:
            text = " ".join(chunk.text for chunk in line.chunks)
            yield Finding(
                code="figure_not_placed",
                scope="page",
                message=f"page {page.number} begins with {text!r}, which may go on the table of the page before and "
                "was not read; look whether it is for a terminal",
                place=Place(page=page.number, box=line.box, text=text),
                printed=text,
            )


def _is_heading(line: Line, above: Sequence[Table]) -> bool:
    """Tell whether a line is set larger than the tables above, or numbered where no row of theirs begins so."""
    opens = [text_of(cell) for table in above for cell in table.cells if cell.column == 1]
    numbered = bool(_NUMBERED.match(line.chunks[0].text)) and not any(map(_NUMBERED.match, opens))
    size = _type_size(above)
    return numbered or (size > 0 and line.size > _AS_LARGE * size)


def _type_size(tables: Iterable[Table]) -> float:
    """Return the size of the largest type in the tables, in points; 0.0 if none has words."""
    return max((word.size for table in tables for cell in table.cells for word in cell.words), default=0.0)


def _is_row(line: Line) -> bool:
    """Tell whether a line is texts well apart, a name and a figure among them."""
    senses = [make_sense(chunk.text) for chunk in line.chunks]
    return len(senses) >= _LEAST_TEXTS and any(s.figure for s in senses) and not all(s.figure for s in senses)
