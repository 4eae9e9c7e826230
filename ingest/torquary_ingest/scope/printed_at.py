"""Where on its page the texts stand that speak for a figure: what its picture shows beside its own row."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import Line, lines_of
from torquary_ingest.headings.grid import Grid, lay_out, text_of
from torquary_schema.values import Box, Place, Setting
from torquary_schema.words import fold

_OVER = ("section_row", "caption", "list_heading", "introduction", "section")
_DEEPEST = 3
"""Rows at the head of a table that are shown, at most (own choice)."""
_LEAST = 3
"""Letters of a line that is told by its text."""


class PrintedAt:
    """The lines and tables of a document, to find the texts over and under its figures."""

    def __init__(self, document: Document, tables: Sequence[Table]) -> None:
        self._lines = {page.number: lines_of(page.number, page.words) for page in document.pages}
        self._grids = {(table.page, table.number): lay_out(table) for table in tables if table.box is not None}

    def around(self, setting: Setting) -> tuple[Box, ...]:
        """Return the boxes of the headings, section rows, lines over it and notes of a figure, on its own page."""
        place = setting.place
        grid = self._grids.get((place.page, place.table)) if place.page and place.table else None
        boxes = [*(_head(grid, place) if grid is not None else ())]
        lines = self._lines.get(place.page or 0, ())
        for said in setting.scope:
            if said.page in (None, place.page) and said.kind in (*_OVER, "note"):
                boxes += _find(lines, said.text, place, note=said.kind == "note")
        return tuple(dict.fromkeys(boxes))


def _head(grid: Grid, place: Place) -> Iterator[Box]:
    """Yield the cells at the head of a table, over the row of the place: as many rows as tell its columns apart."""
    for depth in range(1, min(_DEEPEST, (place.row or 1) - 1) + 1):
        yield from (cell.box for cell in grid.rows[depth - 1] if cell is not None and cell.box is not None)
        columns = zip(*grid.rows[:depth], strict=True)
        names = [tuple(map(text_of, column)) for column in columns]
        if len(set(names)) == len(names):
            return


def _find(lines: Iterable[Line], text: str, place: Place, *, note: bool) -> list[Box]:
    """Return the lines that a text is printed in: of a note anywhere on the page, else the nearest over the place."""
    wanted = fold(text)
    found = [line for line in lines if len(said := fold(line.text)) >= _LEAST and (said in wanted or wanted in said)]
    if note or place.box is None:
        return [line.box for line in found if note]
    top = place.box.top
    over = [line.box for line in found if line.box.bottom <= top]
    nearest = max((box.bottom for box in over), default=0.0)
    return [box for box in over if nearest - box.bottom < _NEAR]


_NEAR = 40.0
"""Points within which lines belong to one text: some three lines."""
