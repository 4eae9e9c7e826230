"""A ledger of torques: whatever print mentions one ends in a setting, another torque, or one finding for its block.

`mentions` says what a mention is, `blocks` which lines stand together, `accounted` what is struck out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.checks.ledger.accounted import Accounted
from torquary_ingest.checks.ledger.blocks import Block, cut_blocks, free_lines
from torquary_ingest.checks.ledger.in_lines import Mention, left_in, mentions_torque
from torquary_ingest.checks.ledger.tables_left import find_in_tables
from torquary_ingest.document import Document, Reading, Table
from torquary_schema.values import Finding, Place, Setting

_SHOWN = 3
"""Figures that a message names one by one."""


def find_left(
    document: Document, tables: Sequence[Table], readings: Sequence[Reading], settings: Sequence[Setting]
) -> Iterator[Finding]:
    """Yield one finding for each table or block of lines that mentions a torque no record accounts for.

    `readings` are those that gave a setting or another torque.
    """
    accounted = Accounted(readings, settings)
    yield from find_in_tables(document, tables, readings, accounted)
    for page in document.pages:
        lines = free_lines(page, [table for table in tables if table.page == page.number])
        if not any(map(mentions_torque, lines)):
            continue
        for block in cut_blocks(lines):
            left = left_in(block, accounted)
            if left:
                yield _of_block(block, left)


def _of_block(block: Block, left: Sequence[Mention]) -> Finding:
    first = left[0].line
    place = Place(page=block.page, box=block.box if first.words else None, text=first.text)
    if all(mention.other for mention in left):
        message = f"page {block.page} says {first.text!r}, a torque that no terminal is set to; not recorded"
        return Finding(code="other_torque", scope="page", message=message, place=place, printed=block.printed)
    figures = list(dict.fromkeys(mention.printed for mention in left))
    more = f" (and {len(figures) - 1} more beside it)" if len(figures) > 1 else ""
    message = f"page {block.page} says {first.text!r}{more}, which was not read; look whether it is for a terminal"
    return Finding(code="figure_not_placed", scope="page", message=message, place=place, printed=block.printed)
