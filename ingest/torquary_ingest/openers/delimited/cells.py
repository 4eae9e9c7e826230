"""A block to a `Table`: cells verbatim, note marks apart, shifted rows and broken characters doubted."""

from __future__ import annotations

import re

from torquary_ingest.document import Cell, Doubt, Mark, Table
from torquary_ingest.lexis.note_marks import split_tail
from torquary_ingest.openers.delimited.block import Block
from torquary_ingest.openers.delimited.moved import move_rows_back
from torquary_ingest.openers.delimited.records import Record
from torquary_ingest.openers.delimited.rows import is_figure

_NUL = Doubt(
    code="nul_byte",
    message="A NUL byte stands inside the cell; look the figure up in the original.",
)
_UNREADABLE = Doubt(
    code="character_unreadable",
    message="A character of the cell could not be read; look the figure up in the original.",
)
_SHOWN = re.compile(r'="([^"]*)"')
_CONTROL = re.compile(r"[\x01-\x08\x0b\x0e-\x1f\x7f\ufffd]")


def build_table(block: Block, number: int) -> Table:
    """Return the table of a block. Columns that are blank throughout are left out; rows keep their order."""
    width = _heading_width(block)
    records = move_rows_back(block, width)
    extent = max(record.extent for record in records)
    used = [column for column in range(extent) if any(_field(r, column) for r in records)]
    numeric = _numeric_columns(records[block.heading_rows :], width)
    cells: list[Cell] = []
    for row, record in enumerate(records, start=1):
        doubts = record.doubts
        if row > block.heading_rows:
            doubts += _shift_doubts(record, width, numeric)
        for column, source in enumerate(used, start=1):
            cells.append(_cell(row, column, _field(record, source), doubts))
    return Table(
        page=1,
        number=number,
        rows=len(records),
        columns=len(used),
        cells=tuple(cells),
        caption=tuple(block.caption),
        below=tuple(block.below),
        means="given",
    )


def _field(record: Record, column: int) -> str:
    return record.fields[column] if column < len(record.fields) else ""


def _heading_width(block: Block) -> int:
    heads = block.records[: max(1, block.heading_rows)]
    return max(record.extent for record in heads)


def _numeric_columns(rows: list[Record], width: int) -> dict[int, bool]:
    """Return for each column whether its figures are numbers, seen over the rows that are full."""
    kinds: dict[int, bool] = {}
    full = [r for r in rows if len(r.fields) >= width and len(r.filled) > 1]
    for column in range(width):
        texts = [text for r in full if (text := _field(r, column))]
        if texts:
            kinds[column] = 2 * sum(map(is_figure, texts)) > len(texts)
    return kinds


def _shift_doubts(record: Record, width: int, numeric: dict[int, bool]) -> tuple[Doubt, ...]:
    """Doubt a row that has more or fewer cells than the heading, unless nothing can have moved."""
    count = record.extent
    if len(record.filled) < 2:
        return ()
    if count > width:
        return (_shifted(count, width),)
    if len(record.fields) >= width:
        return ()
    kept = all(is_figure(record.fields[c]) == numeric.get(c, True) for c in record.filled)
    missing = all(numeric.get(c) is False for c in range(count, width))
    return () if kept and missing else (_shifted(count, width),)


def _shifted(count: int, width: int) -> Doubt:
    return Doubt(
        code="table_shifted",
        message=f"The row has {count} cells and the heading {width}: see which column each belongs to.",
    )


def _cell(row: int, column: int, text: str, doubts: tuple[Doubt, ...]) -> Cell:
    if "\x00" in text:
        text = text.replace("\x00", "\\0")
        doubts += (_NUL,)
    if _CONTROL.search(text):
        doubts += (_UNREADABLE,)
    text, marks = split_tail(_unwrap(text))
    return Cell(
        row=row,
        column=column,
        text=text.rstrip(),
        marks=tuple(Mark(text=mark) for mark in marks),
        doubts=doubts,
    )


def _unwrap(text: str) -> str:
    """Return the text that a spreadsheet's formula ="01" shows: exports write it to keep noughts and dates off."""
    found = _SHOWN.fullmatch(text.strip())
    return found[1] if found else text
