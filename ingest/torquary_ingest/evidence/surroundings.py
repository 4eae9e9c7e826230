"""The texts that stand beside a figure in its table or list, whatever columns or lines they are in."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Document, Reading, Table
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.headings.grid import text_of

_NEAR = 120.0
"""Points above and below a line or list within which lines count as standing beside it: some ten lines of text."""


class Surroundings:
    """The tables and lines of a document, by page."""

    def __init__(self, document: Document, tables: Sequence[Table]) -> None:
        self._tables = {(table.page, table.number): table for table in tables}
        self._pages = {page.number: page for page in document.pages}
        self._lines: dict[int, tuple[Line, ...]] = {}

    def of(self, reading: Reading) -> tuple[str, ...]:
        """Return the texts of the reading's table, or the lines near a list or sentence."""
        place = reading.place
        if place.page is None:
            return ()
        table = self._tables.get((place.page, place.table)) if place.table else None
        if table is not None:
            return (*table.caption, *(text_of(cell) for cell in table.cells))
        if place.box is None:
            return ()
        top, bottom = place.box.top - _NEAR, place.box.bottom + _NEAR
        return tuple(line.text for line in self._lines_of(place.page) if top < line.box.top < bottom)

    def _lines_of(self, number: int) -> tuple[Line, ...]:
        if number not in self._lines:
            page = self._pages.get(number)
            self._lines[number] = set_lines(page) if page is not None else ()
        return self._lines[number]
