"""Rows that begin with a cell which the heading has not: blank, or the number of the row."""

from __future__ import annotations

from dataclasses import replace

from torquary_ingest.document import Doubt
from torquary_ingest.openers.delimited.block import Block
from torquary_ingest.openers.delimited.records import Record
from torquary_ingest.openers.delimited.rows import is_figure

_FEWEST = 2
"""Rows that must show it: of a single one nobody can say where its cell too many stands."""

_MOVED = Doubt(
    code="table_shifted",
    message="Each row begins with a cell that the heading has not; it was read as moved by one: compare the columns.",
)


def move_rows_back(block: Block, width: int) -> list[Record]:
    """Return the records of a block, with the cell before the first column taken off where all rows have one.

    The rows stay doubted: the heading may as well lack its last name, but then their first column would be blank,
    or count the rows beside a column of names that is headed as something else.
    """
    head, body = block.records[: block.heading_rows], block.records[block.heading_rows :]
    rows = [record for record in body if len(record.filled) > 1]
    if len(rows) < _FEWEST or not head or not (_blank_before(rows, head, width) or _counted(rows, width)):
        return block.records
    return head + [_moved(record) if record in rows else record for record in body]


def _blank_before(rows: list[Record], head: list[Record], width: int) -> bool:
    """Tell rows that all have a delimiter more than the heading, and nothing before their first one."""
    headed = max(len(record.fields) for record in head)
    longer = all(len(record.fields) > headed or record.extent > width for record in rows)
    return longer and not any(record.fields[0] or record.extent > width + 1 for record in rows)


def _counted(rows: list[Record], width: int) -> bool:
    """Tell rows that are numbered one by one before a column of names."""
    if any(record.extent != width + 1 for record in rows):
        return False
    first = [record.fields[0] for record in rows]
    numbered = any(first == [str(n + start) for n in range(len(rows))] for start in (0, 1))
    return numbered and not any(not record.fields[1] or is_figure(record.fields[1]) for record in rows)


def _moved(record: Record) -> Record:
    return replace(record, fields=record.fields[1:], doubts=(*record.doubts, _MOVED))
