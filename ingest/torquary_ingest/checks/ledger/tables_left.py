"""Tables that were not understood, and what is left of those that were: one finding for each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.checks.ledger.accounted import Accounted
from torquary_ingest.checks.ledger.in_tables import CellMention, left_of, mentions_in
from torquary_ingest.checks.ledger.mentions import stated_torques
from torquary_ingest.document import Cell, Document, Reading, Table
from torquary_ingest.headings.grid import lay_out, text_of
from torquary_ingest.headings.sections import cut_sections
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.headings.unknown import find_unknown_in
from torquary_schema.values import Finding, Place


def find_in_tables(
    document: Document, tables: Sequence[Table], readings: Sequence[Reading], accounted: Accounted
) -> Iterator[Finding]:
    """Yield a finding for each table that was not understood, or that mentions a torque no reading took."""
    read_on = None  # page of the last table with settings: one without headings behind it may be its end
    for table in tables:
        place = (table.page, table.number)
        if place in accounted.tables:
            read_on = table.page if place in accounted.with_settings else None
            yield from _left_in_read(table, readings, accounted)
            continue
        found = list(_not_understood(table, read_on, accounted))
        if not found and table.page != read_on:
            read_on = None
        elif read_on is not None and table.number == 1:
            read_on = table.page
        yield from found or find_unknown_in(table, document.taught)


def _not_understood(table: Table, read_on: int | None, accounted: Accounted) -> Iterator[Finding]:
    """A table that names or holds torques and gave no reading is not understood."""
    mentions = mentions_in(table, of_machines=accounted.only_other(table.page))
    if mentions and all(mention.other for mention in mentions):
        yield _other(table, mentions)
    elif mentions or _may_hold_torques(table, read_on):
        yield Finding(
            code="table_no_headings",
            scope="table",
            message=f"table {table.number} on page {table.page} may hold torques and was not understood; "
            "read it by eye or describe its headings in a layout profile",
            place=Place(page=table.page, table=table.number, box=table.box),
            printed=_printed_rows(table, range(1, table.rows + 1)),
        )


def _may_hold_torques(table: Table, read_on: int | None) -> bool:
    """Tell whether figures stand in a table that names torques, or that has no headings where torques are expected."""
    senses = [make_sense(text_of(cell)) for cell in table.cells]
    if not any(sense.figure for sense in senses):
        return False
    named = any(s.has("torque", "torque_min", "torque_max") or s.unit("torque") for s in senses if not s.false_friend)
    overleaf = read_on is not None and table.page == read_on + 1 and not _has_headings(table)
    expected = read_on == table.page or any(_heads_torques(line) for line in table.caption)
    return named or overleaf or (expected and not any(sense.fields for sense in senses))


def _heads_torques(line: str) -> bool:
    sense = make_sense(line)
    return sense.has("torque") and bool(sense.unit("torque")) and not sense.false_friend and not stated_torques(line)


def _has_headings(table: Table) -> bool:
    """Tell whether a row names what stands in the table."""
    return any(section.headings for section in cut_sections(lay_out(table)))


def _left_in_read(table: Table, readings: Sequence[Reading], accounted: Accounted) -> Iterator[Finding]:
    mine = [reading for reading in readings if (reading.place.page, reading.place.table) == (table.page, table.number)]
    rows = {row for reading in mine for entry in reading.entries for row in _rows_of(entry.cell)}
    other = accounted.only_other(table.page, table.number)
    left = list(left_of(table, mentions_in(table, of_machines=other), accounted))
    left += [CellMention(cell=cell, printed=text_of(cell)) for cell in _overprinted(table, rows)]
    if not left:
        return
    if all(mention.other for mention in left):
        yield _other(table, left)
        return
    cell = left[0].cell
    more = f" and {len(left) - 1} more" if len(left) > 1 else ""
    yield Finding(
        code="figure_not_placed",
        scope="table",
        message=f"table {table.number} on page {table.page}: row {cell.row} prints {left[0].printed!r}{more}, which "
        "may be torques and was not read; look whether it is for a terminal",
        place=Place(page=table.page, table=table.number, row=cell.row, column=cell.column, box=cell.box),
        printed=_printed_rows(table, sorted({row for mention in left for row in _rows_beside(table, mention.cell)})),
    )


def _rows_beside(table: Table, cell: Cell) -> range:
    """Return the row of a cell; where it stands alone in it, half-way between two, they too."""
    alone = not any(text_of(other) for other in table.cells if other.row == cell.row and other is not cell)
    return range(cell.row - alone, cell.row + alone + 1)


def _rows_of(cell: Cell) -> range:
    return range(cell.row, cell.row + cell.row_span)


def _overprinted(table: Table, rows: set[int]) -> Iterator[Cell]:
    """Yield the cells, outside the rows read, in which text stands over a figure: it may be of any column."""
    for cell in table.cells:
        over = [word for word in cell.words if any(doubt.code == "text_overprinted" for doubt in word.doubts)]
        if cell.row not in rows and any(letter.isdigit() for word in over for letter in word.text):
            yield cell


def _other(table: Table, mentions: Sequence[CellMention]) -> Finding:
    first = mentions[0]
    return Finding(
        code="other_torque",
        scope="table",
        message=f"table {table.number} on page {table.page} gives {first.printed!r}, a torque that no terminal is set "
        "to; not recorded",
        place=Place(page=table.page, table=table.number, box=table.box),
        printed=_printed_rows(table, sorted({mention.cell.row for mention in mentions})),
    )


def _printed_rows(table: Table, rows: Sequence[int]) -> str:
    """Return what is printed in rows of a table, a line for each row."""
    texts = (" | ".join(text_of(cell) for cell in table.cells if cell.row == row) for row in rows)
    return "\n".join(text for text in texts if text.strip(" |"))
