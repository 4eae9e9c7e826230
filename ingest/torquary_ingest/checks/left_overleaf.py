"""A line of figures at the head of a page, outside every table, behind a page whose table was read."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Document, Page, Reading, Table
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.tables.lines import Line, make_lines
from torquary_schema.values import Finding, Place

_HEAD_LINES = 4
"""Lines of a page, from the top, among which the end of a table is looked for."""

_LEAST_TEXTS = 3
_NUMBER = re.compile(r"\d+")


def find_rows_left(document: Document, tables: Sequence[Table], readings: Sequence[Reading]) -> Iterator[Finding]:
    """Yield a finding for the first line of each page that may be a row of the table read on the page before."""
    read = {reading.place.page for reading in readings if reading.place.table is not None}
    pages = {page.number: page for page in document.pages}
    for page in document.pages:
        before = pages.get(page.number - 1)
        if before is None or before.number not in read or page.tables is not None:
            continue
        heads = {_pattern(line) for line in make_lines(before.words)}
        line = next((one for one in _free_lines(page, tables) if _is_row(one) and _pattern(one) not in heads), None)
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


def _free_lines(page: Page, tables: Sequence[Table]) -> list[Line]:
    """Return the first lines of the page that stand in no table."""
    boxes = [table.box for table in tables if table.page == page.number and table.box is not None]
    free = [word for word in page.words if not any(box.holds(word.box.middle) for box in boxes)]
    return make_lines(free)[:_HEAD_LINES]


def _is_row(line: Line) -> bool:
    """Tell whether a line is texts well apart, a name and a figure among them."""
    senses = [make_sense(chunk.text) for chunk in line.chunks]
    return len(senses) >= _LEAST_TEXTS and any(s.figure for s in senses) and not all(s.figure for s in senses)


def _pattern(line: Line) -> str:
    """Return a line's text, numbers alike: a running head counts its pages."""
    return _NUMBER.sub("0", " ".join(chunk.text for chunk in line.chunks))
