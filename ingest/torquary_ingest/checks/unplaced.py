"""Nothing is lost without a word: every printed torque that no reading took is named."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.document import Document, Reading, Table
from torquary_ingest.document.lines import is_note_line, set_lines
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.headings.unknown import find_unknown_in
from torquary_schema.values import Finding, Place


def find_unplaced(document: Document, tables: Sequence[Table], readings: Sequence[Reading]) -> Iterator[Finding]:
    """Yield a finding for each table that is not understood and each printed torque no reading took."""
    taken = {
        (reading.place.page, reading.place.table, entry.cell.row, entry.cell.column)
        for reading in readings
        for entry in reading.entries
    }
    texts = {entry.cell.text for reading in readings for entry in reading.entries}
    spoken = {line for reading in readings for line in reading.context}
    marked = any(entry.cell.marks for reading in readings for entry in reading.entries)
    read_tables = {(reading.place.page, reading.place.table) for reading in readings}
    follows = False  # a table without headings behind one that was read may be its end
    for table in tables:
        if (table.page, table.number) not in read_tables:
            yield from list(_unread_table(table, follows=follows)) or find_unknown_in(table, document.taught)
        else:
            follows = True
            yield from _unread_cells(table, taken, spoken)
    for page in document.pages:
        for line in set_lines(page, [table for table in tables if table.page == page.number]):
            if is_note_line(line) and marked:
                continue  # the notes hang on the settings whose cells carry their marks
            if states_torque(line.text) and line.text not in spoken and not _covered(line.text, texts):
                yield Finding(
                    code="figure_not_placed",
                    scope="page",
                    message=f"page {page.number} says {line.text!r}, which was not read; "
                    "look whether it is for a terminal",
                    place=Place(page=page.number, box=line.box, text=line.text),
                    printed=line.text,
                )


def _covered(line: str, texts: set[str]) -> bool:
    return any(text and text in line for text in texts if states_torque(text))


def _unread_table(table: Table, *, follows: bool) -> Iterator[Finding]:
    """A table that names or holds torques and gave no reading is not understood."""
    senses = [make_sense(text_of(cell)) for cell in table.cells]
    named = any(s.has("torque", "torque_min", "torque_max") or s.unit("torque") for s in senses if not s.false_friend)
    headless = follows and not any(sense.fields for sense in senses)
    if (named or headless) and any(sense.figure for sense in senses):
        yield Finding(
            code="table_no_headings",
            scope="table",
            message=f"table {table.number} on page {table.page} may hold torques and was not understood; "
            "read it by eye or describe its headings in a layout profile",
            place=Place(page=table.page, table=table.number, box=table.box),
            printed=" | ".join(text_of(cell) for cell in table.cells if cell.row == 1),
        )


def _unread_cells(
    table: Table, taken: set[tuple[int | None, int | None, int, int]], spoken: set[str]
) -> Iterator[Finding]:
    for cell in table.cells:
        text = text_of(cell)
        lines = {line.strip() for line in cell.text.split("\n")}
        read = (table.page, table.number, cell.row, cell.column) in taken
        if read or text in spoken or lines <= spoken or not states_torque(text):
            continue
        yield Finding(
            code="figure_not_placed",
            scope="table",
            message=f"table {table.number} on page {table.page} says {text!r}, which was not read; "
            "look whether it is for a terminal",
            place=Place(page=table.page, table=table.number, row=cell.row, column=cell.column, box=cell.box, text=text),
            printed=text,
        )
