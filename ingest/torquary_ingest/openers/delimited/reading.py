"""Delimited text file to `Document`."""

from __future__ import annotations

import hashlib
from pathlib import Path

from torquary_ingest.document import Document, Page, Table
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.delimited.blocks import find_blocks, split_side_by_side
from torquary_ingest.openers.delimited.cells import build_table
from torquary_ingest.openers.delimited.cut import mark_damage
from torquary_ingest.openers.delimited.dialect import find_dialect
from torquary_ingest.openers.delimited.encoding import decode
from torquary_ingest.openers.delimited.nested import unfold
from torquary_ingest.openers.delimited.records import UNBALANCED, Record, split_records
from torquary_schema.values import Finding, Place

#: A text file beyond this is no datasheet; reading it whole would cost too much memory.
LARGEST_BYTES = 16 * 1024 * 1024
MOST_CELLS = 400_000
_BEHIND = "\x1a\x00\r\n "


def read_delimited(path: Path) -> Document:
    """Return a document of one page with its tables given.

    Raises `SheetRefused`: sheet_empty, sheet_too_large, sheet_unknown_encoding, sheet_not_a_table.
    """
    raw = _read_bytes(path)
    decoded = decode(raw)
    text = decoded.text.rstrip(_BEHIND)
    if not text.strip("\ufeff \t\r\n"):
        raise SheetRefused("sheet_empty", "The file has no text; ask the maker for the sheet again.")
    tables, findings = _read_tables(text.lstrip("\ufeff"), decoded.text[len(text) :])
    if not tables:
        raise SheetRefused(
            "sheet_not_a_table", "The file has no rows and columns; see whether it is the right one."
        )
    return Document(
        file=path.name,
        kind="csv",
        pages=(Page(number=1, tables=tables, findings=findings),),
        page_count=1,
        digest=hashlib.sha256(raw).hexdigest(),
        findings=decoded.findings,
    )


def _read_bytes(path: Path) -> bytes:
    with path.open("rb") as stream:
        raw = stream.read(LARGEST_BYTES + 1)
    if not raw:
        raise SheetRefused("sheet_empty", "The file has no bytes; copy it again from its source.")
    if len(raw) > LARGEST_BYTES:
        raise SheetRefused(
            "sheet_too_large",
            f"The file is larger than {LARGEST_BYTES // 1024**2} MB; split off the rows with torques.",
        )
    return raw


def _read_tables(text: str, end: str) -> tuple[tuple[Table, ...], tuple[Finding, ...]]:
    """Return the tables in the text, and what is to be said; `end` is what follows the last row."""
    dialect = find_dialect(text)
    if dialect is None:
        return (), ()
    records: list[Record] = []
    cells = 0
    for record in split_records(list(dialect.lines), dialect.delimiter, dialect.width):
        records.append(record)
        cells += len(record.fields)
        if cells > MOST_CELLS:
            raise SheetRefused(
                "sheet_too_large",
                f"The file has more than {MOST_CELLS} cells; split off the rows with torques.",
            )
    records, damage = mark_damage(records, end)
    rows = unfold(records)
    width = dialect.width if rows == records else max(len(row.fields) for row in rows)
    found = find_blocks(rows, width)
    blocks = [part for block in found for part in split_side_by_side(block) if part.records]
    tables = tuple(build_table(block, number) for number, block in enumerate(blocks, start=1))
    return tables, (*_quote_findings(records), *damage)


def _quote_findings(records: list[Record]) -> tuple[Finding, ...]:
    doubtful = [record for record in records if UNBALANCED in record.doubts]
    if not doubtful:
        return ()
    first = doubtful[0]
    return (
        Finding(
            code=UNBALANCED.code,
            scope="table",
            message=f"From line {first.line} on, quotes do not pair up; rows are split by lines and held.",
            place=Place(page=1, text=first.raw[:200]),
            printed=first.raw[:200],
        ),
    )
