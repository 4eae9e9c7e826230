"""A worksheet to tables: where tables begin and end is found as in delimited text, places stay the sheet's own."""

from __future__ import annotations

import re
from collections import Counter

from torquary_ingest.document import Cell, Table
from torquary_ingest.openers.delimited.block import Block
from torquary_ingest.openers.delimited.blocks import find_blocks, split_side_by_side
from torquary_ingest.openers.delimited.records import Record
from torquary_ingest.openers.delimited.rows import is_figure, is_line
from torquary_ingest.openers.workbook.sheet import Sheet, Shown
from torquary_ingest.skeleton.names import find_name

_Places = dict[tuple[int, int], Shown]

#: Names that a program gives to a new sheet; they say nothing of what is on it.
_GIVEN_NAME = re.compile(
    r"(?:sheet|tabelle|feuille?|hoja|foglio|planilha|folha|blad|ark|arkusz|list|munka|лист|аркуш|taul(?:ukko)?"
    r"|sayfa|シート|시트|工作表|worksheet)?[ _]?\d*",
    re.IGNORECASE,
)


def find_tables_in(sheet: Sheet) -> tuple[Table, ...]:
    """Return the tables of a worksheet. Their rows and columns are those of the worksheet, from 1.

    The lines above a table are its caption; the sheet's name goes first where none of them can be a name, unless
    a program gave it.
    """
    places = {(cell.row, cell.column): cell for cell in sheet.cells if cell.text or cell.marks}
    if not places:
        return ()
    records = _make_records(places)
    widths = Counter(record.extent for record in records if len(record.filled) > 1)
    width = max(widths, key=lambda one: (widths[one], one), default=1)
    named = () if _GIVEN_NAME.fullmatch(sheet.name.strip()) else (sheet.name.strip(),)
    blocks = [part for block in find_blocks(records, width) for part in split_side_by_side(block) if part.records]
    return tuple(_make_table(block, places, sheet.number, at, named) for at, block in enumerate(blocks, start=1))


def _make_records(places: _Places) -> list[Record]:
    """Return one record for each row up to the last; a blank one for several blank rows."""
    by_row: dict[int, dict[int, str]] = {}
    for (row, column), cell in places.items():
        by_row.setdefault(row, {})[column] = _flat(cell.text) or cell.marks[0].text
    own = {row: any(is_figure(text) for text in texts.values()) for row, texts in by_row.items()}
    for (row, column), cell in places.items():
        for below in range(row + 1, row + cell.row_span):
            # A label merged over several rows stands beside each row's figures, but heads no second heading row.
            if own.get(below):
                by_row[below].setdefault(column, _flat(cell.text))
    records: list[Record] = []
    before = 0
    for row in sorted(by_row):
        if row > before + 1:
            records.append(Record(line=row - 1, raw="", fields=()))
        texts = by_row[row]
        fields = tuple(texts.get(column, "") for column in range(1, max(texts) + 1))
        records.append(Record(line=row, raw=" ".join(fields).strip(), fields=fields, celled=True))
        before = row
    return records


def _flat(text: str) -> str:
    return " ".join(text.split())


def _make_table(block: Block, places: _Places, page: int, number: int, named: tuple[str, ...]) -> Table:
    """Return the table of a block: its cells keep the places and spans that they have on the worksheet."""
    rows = {record.line for record in block.records}
    columns = _columns_of(block)
    cells: list[Cell] = []
    for (row, column), shown in sorted(places.items()):
        inside = columns is None or column in columns or shown.column_span > 1
        if row in rows and inside:
            cells.append(
                Cell(
                    row=row,
                    column=column,
                    text=shown.text,
                    row_span=shown.row_span,
                    column_span=shown.column_span,
                    marks=shown.marks,
                    doubts=shown.doubts,
                )
            )
    return Table(
        page=page,
        number=number,
        rows=max(cell.row + cell.row_span - 1 for cell in cells),
        columns=max(cell.column + cell.column_span - 1 for cell in cells),
        cells=tuple(cells),
        caption=(*(() if any(map(find_name, block.caption)) else named), *block.caption),
        below=tuple(block.below),
        means="given",
    )


def _columns_of(block: Block) -> range | None:
    """Return the columns of a table that stands beside another; None for one that has its rows alone."""
    parts = {(record.offset, len(record.fields)) for record in block.records if not is_line(record)}
    if not any(record.cut for record in block.records):
        return None
    start = min(offset for offset, _ in parts)
    return range(start + 1, max(offset + width for offset, width in parts) + 1)
