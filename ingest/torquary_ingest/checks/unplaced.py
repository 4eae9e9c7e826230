"""Nothing is lost without a word: every printed torque that no reading took is named."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from torquary_ingest.document import Cell, Document, Page, Reading, Table
from torquary_ingest.document.lines import Line, is_note_line, set_lines
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.grid import lay_out, text_of
from torquary_ingest.headings.sections import cut_sections
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.headings.unknown import find_unknown_in
from torquary_schema.units import find_units
from torquary_schema.values import Finding, Place

_LAST_FIGURE = re.compile(r"\d[\d.,]*\W{0,2}\Z")
_BLOCK_LINES = 200
"""Parts of lines of a block at most that are set down in one finding."""

_BLOCK_GAP = 2.5
"""Type sizes of white above a line that end a block of lines."""


def find_unplaced(document: Document, tables: Sequence[Table], readings: Sequence[Reading]) -> Iterator[Finding]:
    """Yield a finding for each table that is not understood and each printed torque no reading took."""
    taken = {
        (reading.place.page, reading.place.table, entry.cell.row, entry.cell.column)
        for reading in readings
        for entry in reading.entries
        if entry.field.startswith("torque") or not states_torque(text_of(entry.cell))
    }
    cells = [
        (reading.place.page, entry.cell)
        for reading in readings
        for entry in reading.entries
        if entry.field.startswith("torque")
    ]
    spoken = {line for reading in readings for line in reading.context}
    marked = any(entry.cell.marks for reading in readings for entry in reading.entries)
    read_tables = {(reading.place.page, reading.place.table) for reading in readings}
    read_on = None  # page of the table read last: one without headings behind it may be its end
    for table in tables:
        if (table.page, table.number) not in read_tables:
            yield from list(_unread_table(table, read_on)) or find_unknown_in(table, document.taught)
        else:
            read_on = table.page
            yield from _unread_cells(table, taken, spoken)
            yield from _unread_rows(table, readings)
            yield from _overprinted_rows(table, readings)
    for page in document.pages:
        yield from _unseen_table(page, tables, spoken)
        for line in set_lines(page, [table for table in tables if table.page == page.number]):
            if is_note_line(line) and marked:
                continue  # the notes hang on the settings whose cells carry their marks
            read = line.text in spoken or _covered(line, cells) or _is_spoken(line, readings)
            if states_torque(line.text) and not read:
                said = f"says {line.text!r}, which was not read; look whether it is for a terminal"
                yield _not_placed(line, said, line.text)


def _unseen_table(page: Page, tables: Sequence[Table], spoken: set[str]) -> Iterator[Finding]:
    """Lines that head torques with figures under them, outside every table, are a table that was not seen.

    One finding for each block of lines that stand close together, with all that is printed in it.
    """
    lines = set_lines(page, [table for table in tables if table.page == page.number])
    end = 0
    for at, line in enumerate(lines):
        sense = make_sense(line.text)
        heads = bool(sense.unit("torque")) and not sense.false_friend and not states_torque(line.text)
        if at < end or not heads or line.text in spoken:
            continue
        end = _end_of_block(lines, at)
        if any(make_sense(other.text).figure for other in lines[at + 1 : end]):
            said = f"heads figures with {line.text!r} and no table was seen there; "
            said += "look whether they are torques of terminals"
            yield _not_placed(line, said, " | ".join(other.text for other in lines[at:end]))


def _end_of_block(lines: Sequence[Line], start: int) -> int:
    """Return the index behind the last line of the block that begins at a line: a wide gap ends it."""
    end = start + 1
    while end < len(lines) and end < start + _BLOCK_LINES:
        gap = lines[end].box.top - max(line.box.bottom for line in lines[start:end])
        if gap > _BLOCK_GAP * lines[start].size:
            break
        end += 1
    return end


def _not_placed(line: Line, said: str, printed: str) -> Finding:
    return Finding(
        code="figure_not_placed",
        scope="page",
        message=f"page {line.page} {said}",
        place=Place(page=line.page, box=line.box, text=line.text),
        printed=printed,
    )


def _covered(line: Line, cells: Sequence[tuple[int | None, Cell]]) -> bool:
    """Tell whether a cell that was read stands in the line: its text, at its height where that is known."""
    return any(
        cell.text and cell.text in line.text and states_torque(cell.text)
        for page, cell in cells
        if page == line.page
        and (cell.box is None or (cell.box.top < line.box.bottom and line.box.top < cell.box.bottom))
    )


def _is_spoken(line: Line, readings: Sequence[Reading]) -> bool:
    """Tell whether every torque of a line stands in sentences that were read where the line is."""
    said = [
        reading.place.text
        for reading in readings
        if reading.place.page == line.page and reading.place.box and reading.place.box.holds(line.box.middle)
    ]
    printed = []
    for unit in find_units(line.text):
        figure = _LAST_FIGURE.search(line.text[: unit.start])
        if unit.kind == "torque" and figure is not None:
            printed.append(figure[0] + unit.printed)
    return bool(printed) and all(any(part in text for text in said) for part in printed)


def _unread_table(table: Table, read_on: int | None) -> Iterator[Finding]:
    """A table that names or holds torques and gave no reading is not understood."""
    senses = [make_sense(text_of(cell)) for cell in table.cells]
    named = any(s.has("torque", "torque_min", "torque_max") or s.unit("torque") for s in senses if not s.false_friend)
    overleaf = read_on is not None and table.page > read_on and not _has_headings(table)
    expected = read_on is not None or any(_heads_torques(line) for line in table.caption)
    headless = overleaf or (expected and not any(sense.fields for sense in senses))
    if (named or headless) and any(sense.figure or states_torque(sense.text) for sense in senses):
        yield Finding(
            code="table_no_headings",
            scope="table",
            message=f"table {table.number} on page {table.page} may hold torques and was not understood; "
            "read it by eye or describe its headings in a layout profile",
            place=Place(page=table.page, table=table.number, box=table.box),
            printed=" | ".join(text_of(cell) for cell in table.cells if cell.row == 1),
        )


def _heads_torques(line: str) -> bool:
    sense = make_sense(line)
    return sense.has("torque") and bool(sense.unit("torque")) and not sense.false_friend and not states_torque(line)


def _has_headings(table: Table) -> bool:
    """Tell whether a row names what stands in the table."""
    return any(section.headings for section in cut_sections(lay_out(table)))


def _unread_rows(table: Table, readings: Sequence[Reading]) -> Iterator[Finding]:
    """The first bare figure under a column of torques of each row without a reading, below the first row with one."""
    mine = [reading for reading in readings if (reading.place.page, reading.place.table) == (table.page, table.number)]
    torques = [e.cell for r in mine for e in r.entries if e.field.startswith("torque") and e.cell.column_span == 1]
    columns, rows = {cell.column for cell in torques}, {e.cell.row for r in mine for e in r.entries}
    below = [c for c in table.cells if c.column in columns and c.row > min(rows) and c.row not in rows]
    named: set[int] = set()
    for cell in below:
        covered = cell.row in named or any(_covers(other, cell) for other in torques)
        if make_sense(text_of(cell)).figure and not covered:
            named.add(cell.row)
            yield Finding(
                code="figure_not_placed",
                scope="table",
                message=f"table {table.number} on page {table.page}: row {cell.row} prints {text_of(cell)!r} under a "
                "column of torques and was not read; look whether it is for a terminal",
                place=Place(page=table.page, table=table.number, row=cell.row, column=cell.column, box=cell.box),
                printed=" | ".join(text_of(other) for other in table.cells if other.row == cell.row),
            )


def _overprinted_rows(table: Table, readings: Sequence[Reading]) -> Iterator[Finding]:
    """Rows without a reading in which text stands over a figure: nothing tells any more which column it is of."""
    mine = [reading for reading in readings if (reading.place.page, reading.place.table) == (table.page, table.number)]
    rows = {entry.cell.row for reading in mine for entry in reading.entries}
    named: set[int] = set()
    for cell in table.cells:
        over = [word for word in cell.words if any(doubt.code == "text_overprinted" for doubt in word.doubts)]
        if cell.row in rows | named or not any(letter.isdigit() for word in over for letter in word.text):
            continue
        named.add(cell.row)
        yield Finding(
            code="figure_not_placed",
            scope="table",
            message=f"table {table.number} on page {table.page}: in row {cell.row} text stands over a figure "
            f"({text_of(cell)!r}) and the row was not read; look whether it prints a torque",
            place=Place(page=table.page, table=table.number, row=cell.row, column=cell.column, box=cell.box),
            printed=" | ".join(text_of(other) for other in table.cells if other.row == cell.row),
        )


def _covers(torque: Cell, cell: Cell) -> bool:
    """Tell whether a torque that spans down reaches the cell's row."""
    return torque.row <= cell.row < torque.row + torque.row_span


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
