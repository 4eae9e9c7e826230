"""A table element to a `Table`: rows and columns as a browser lays them out (HTML Living Standard, 4.9.12).

A list of names and values (4.4.9) is a table of two columns.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from lxml import etree

from torquary_ingest.document import Cell, Doubt, Table
from torquary_ingest.document.runs import Spoken
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.delimited.rows import is_footnote
from torquary_ingest.openers.web_page.content import Grid, Reader
from torquary_ingest.openers.web_page.laid_rows import Box

MOST_CELLS = 200_000
_WIDEST = 1000
_SECTIONS = {"thead": 0, "tbody": 1, "tr": 1, "tfoot": 2}
_SHIFTED = Doubt(
    code="table_shifted",
    message="cells of this row overlap on the page: see which column each belongs to",
)


@dataclass(slots=True, kw_only=True)
class _Laid:
    """A table while it is laid out: the places taken, by (row, column) from 1."""

    taken: set[tuple[int, int]] = field(default_factory=set)
    cells: list[Cell] = field(default_factory=list)
    inner: list[etree._Element] = field(default_factory=list)


def read_table(
    reader: Reader, grid: Grid, caption: Sequence[str], number: int
) -> tuple[Table | None, list[etree._Element]]:
    """Return the table, None when it has no text of its own, and the tables inside its cells."""
    laid = _Laid()
    element = grid.element
    if grid.rows:
        _lay_boxes(reader, laid, grid.rows)
    elif element.tag == "dl":
        _lay_list(reader, laid, element)
    else:
        for at, (row, last) in enumerate(list(_visible_rows(reader, element)), start=1):
            _lay_row(reader, laid, row, at, last)
    own = () if grid.rows else _own_lines(reader, element)
    lines = tuple(line for line in (*caption, *own) if line)
    notes = _take_notes(laid)
    if not any(cell.text for cell in laid.cells):
        return None, laid.inner
    table = Table(
        page=1,
        number=number,
        rows=max(cell.row + cell.row_span - 1 for cell in laid.cells),
        columns=max(column for _, column in laid.taken),
        cells=tuple(sorted(laid.cells, key=lambda cell: (cell.row, cell.column))),
        caption=lines,
        below=notes,
        means="given",
    )
    return table, laid.inner


def _lay_boxes(reader: Reader, laid: _Laid, rows: Sequence[Sequence[Box]]) -> None:
    """Lay out rows of boxes; one that does not show keeps its place."""
    for at, row in enumerate(rows, start=1):
        column = 1
        for element, across in row:
            if reader.looks.hides(element):
                reader.note_hidden_row(element)
                spoken = Spoken(text="")
            else:
                spoken, inner = reader.cell(element, alone=len(row) == 1)
                laid.inner += inner
            laid.taken |= {(at, place) for place in range(column, column + across)}
            told = Cell(row=at, column=column, text=spoken.text, column_span=across)
            laid.cells.append(replace(told, marks=spoken.marks, doubts=spoken.doubts))
            column += across


def _lay_list(reader: Reader, laid: _Laid, element: etree._Element) -> None:
    """Lay out each name and the values that follow it, which are lines of one cell, as a row."""
    for part in element.iter("dt", "dd"):
        if reader.looks.hides(part):
            reader.note_hidden_row(part)
            continue
        spoken, inner = reader.cell(part)
        laid.inner += inner
        column = 1 if part.tag == "dt" else 2
        last = laid.cells[-1] if laid.cells else None
        if last is not None and (last.column, column) == (2, 2):
            laid.cells[-1] = replace(
                last,
                text=f"{last.text}\n{spoken.text}",
                marks=(*last.marks, *spoken.marks),
                doubts=(*last.doubts, *spoken.doubts),
            )
            continue
        row = max((cell.row for cell in laid.cells), default=0) + (column == 1 or last is None)
        laid.taken |= {(row, 1), (row, 2)}
        laid.cells.append(Cell(row=row, column=column, text=spoken.text, marks=spoken.marks, doubts=spoken.doubts))


def _take_notes(laid: _Laid) -> tuple[str, ...]:
    """Take the rows at the end that are one note each (a mark and its text) off the table; return their lines."""
    notes: list[str] = []
    while laid.cells:
        last = max(cell.row for cell in laid.cells)
        told = [cell for cell in laid.cells if cell.row + cell.row_span > last and cell.text]
        if len(told) != 1 or told[0].row_span != 1 or not is_footnote(told[0].text):
            break
        notes[:0] = told[0].text.split("\n")
        laid.cells = [cell for cell in laid.cells if cell.row != last]
    return tuple(notes)


def _visible_rows(reader: Reader, table: etree._Element) -> Iterator[tuple[etree._Element, int]]:
    """Yield each row that has a place, and the number (from 1) of the last row of its section; the foot goes last."""
    sections = [one for one in table if isinstance(one.tag, str) and one.tag in _SECTIONS]
    start = 0
    run: list[etree._Element] = []
    for section in [*sorted(sections, key=lambda one: _SECTIONS[str(one.tag)]), None]:
        if section is not None and section.tag == "tr":
            run.append(section)
            continue
        yield from _section_rows(reader, run, start)
        start += sum(reader.looks.of(row).placed for row in run)
        run = []
        if section is None:
            return
        rows = [row for row in section if row.tag == "tr"]
        if reader.looks.hides(section) and not reader.looks.of(section).placed:
            reader.note_hidden_row(section)
            continue
        yield from _section_rows(reader, rows, start)
        start += sum(reader.looks.of(row).placed for row in rows)


def _section_rows(reader: Reader, rows: list[etree._Element], start: int) -> Iterator[tuple[etree._Element, int]]:
    placed = [row for row in rows if reader.looks.of(row).placed]
    for row in rows:
        if not reader.looks.of(row).placed:
            reader.note_hidden_row(row)
    for row in placed:
        yield row, start + len(placed)


def _lay_row(reader: Reader, laid: _Laid, row: etree._Element, at: int, last: int) -> None:
    column = 1
    for element in row:
        if element.tag not in ("td", "th"):
            continue
        sight = reader.looks.of(element)
        if sight.gone:
            reader.note_hidden_row(element)
            if not sight.placed:
                continue
        while (at, column) in laid.taken:
            column += 1
        across = min(_span(element, "colspan"), _WIDEST)
        down = _span(element, "rowspan", none=last)
        down = min(down, last - at + 1)
        spoken, inner = (Spoken(text=""), []) if sight.gone else reader.cell(element, alone=len(row) == 1)
        laid.inner += inner
        places = {(r, c) for r in range(at, at + down) for c in range(column, column + across)}
        clash = not places.isdisjoint(laid.taken)
        if clash:
            across, down = 1, 1
            places = {(at, column)}
        laid.taken |= places
        if len(laid.taken) > MOST_CELLS:
            raise SheetRefused("sheet_too_large", f"a table has more than {MOST_CELLS} cells: save a part of it")
        laid.cells.append(
            Cell(
                row=at,
                column=column,
                text=spoken.text,
                row_span=down,
                column_span=across,
                marks=spoken.marks,
                doubts=(*spoken.doubts, _SHIFTED) if clash else spoken.doubts,
            )
        )
        column += across


def _span(element: etree._Element, name: str, *, none: int = 1) -> int:
    """Return a span; 0 rows mean to the end of the section, anything that is no number means 1."""
    text = (element.get(name) or "").strip()
    if not text.isdecimal() or len(text) > 6:
        return 1
    return int(text) or none


def _own_lines(reader: Reader, table: etree._Element) -> Iterator[str]:
    """Yield the caption, and text that stands in the table outside its cells."""
    for part in table:
        if part.tag == "caption" and not reader.looks.hides(part):
            yield from reader.cell(part)[0].text.split("\n")
    loose = [table.text, *(part.tail for part in table), *(row.text for row in table.iter("tr"))]
    yield from (" ".join(text.split()) for text in loose if text and text.strip())
