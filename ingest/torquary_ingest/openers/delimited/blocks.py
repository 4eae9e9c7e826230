"""Records to tables: where a table begins and ends, and which lines speak for it."""

from __future__ import annotations

import re
from dataclasses import replace

from torquary_ingest.openers.delimited.block import Block
from torquary_ingest.openers.delimited.property_blocks import find_lists, is_list
from torquary_ingest.openers.delimited.records import Record
from torquary_ingest.openers.delimited.rows import (
    has_figures,
    has_measures,
    heads_groups,
    is_blank,
    is_comment,
    is_footnote,
    is_line,
    is_of_record,
    is_sentence,
    is_terminal_alone,
    is_units_row,
    known_headings,
    leans_on_row_above,
    line_text,
    may_head,
    same_heading,
)
from torquary_schema.words import spot

_WITH_DIGITS = re.compile(r"\w*\d\w*")

#: Heading rows looked for on top of each other, and lines passed on the way to the first figure.
_HEADING_ROWS = 3
_LOOK_AHEAD = 8


def find_blocks(records: list[Record], width: int) -> list[Block]:
    """Return the tables of a file in order. Every record with text goes into exactly one of them."""
    if groups := find_lists(records):
        return _blocks_of_lists(groups)
    starts = _find_starts(records, width)
    if not starts:
        return _blocks_without_heading(records, width)
    blocks = _leading_blocks(records[: starts[0][0]], width)
    carried = [] if blocks else [line_text(r) for r in records[: starts[0][0]] if not is_blank(r)]
    for number, (start, rows) in enumerate(starts):
        end = starts[number + 1][0] if number + 1 < len(starts) else len(records)
        block = Block(caption=carried, heading_rows=rows)
        last = _last_row(records, start, end, width)
        block.records = [r for r in records[start : last + 1] if not is_blank(r)]
        tail = records[last + 1 : end]
        block.below, carried = _share_tail(tail, last_table=number + 1 == len(starts))
        if _heads_the_next(block.caption, carried):
            carried = [block.caption[0], *carried]
        blocks.append(block)
    return blocks


def _blocks_of_lists(groups: list[list[Record]]) -> list[Block]:
    """Return a table for each list of properties; other lines are the caption of all that follow, or notes."""
    blocks: list[Block] = []
    above: list[str] = []
    for group in groups:
        lines = [line_text(record) for record in group]
        if is_list(group):
            blocks.append(Block(records=group, caption=list(above)))
        elif blocks:
            blocks[-1].below += lines
        else:
            above += lines
    return blocks


def _heads_the_next(caption: list[str], own: list[str]) -> bool:
    """Tell whether the first line over a table is a title for the next one too, which has lines of its own.

    A single line is the table's own name unless it names a kind of device; a line that differs from one of the
    next table's only in words with digits ("QX 16 torques", "QX 63 torques") is never a title.
    """
    if not caption:
        return False
    if not own:
        return True
    form = _WITH_DIGITS.sub("#", caption[0])
    if any(_WITH_DIGITS.sub("#", line) == form for line in own):
        return False
    return len(caption) > 1 or bool(spot("family", caption[0]))


def _find_starts(records: list[Record], width: int) -> list[tuple[int, int]]:
    """Return (index, number of heading rows) of every heading that has figures under it."""
    starts: list[tuple[int, int]] = []
    at = 0
    while at < len(records):
        rows = _heading_rows(records, at, width)
        if rows and (_begins_table(records, at, starts) if starts else not _is_preamble(records, at, width)):
            grouped = at > 0 and heads_groups(records[at - 1], records[at])
            starts.append((at - grouped, rows + grouped))
            at += rows
        else:
            at += 1
    return starts


def _heading_rows(records: list[Record], at: int, width: int) -> int:
    """Return how many heading rows begin here (0: none): they lean on each other, figures follow."""
    if not may_head(records[at]) or is_comment(records[at], width) or is_units_row(records[at]):
        return 0
    rows = 1
    while (
        rows < _HEADING_ROWS
        and at + rows < len(records)
        and may_head(records[at + rows])
        and leans_on_row_above(records[at + rows], records[at + rows - 1])
    ):
        rows += 1
    heads = {i for record in records[at : at + rows] for i in record.filled}
    for record in records[at + rows : at + rows + _LOOK_AHEAD]:
        if has_figures(record):
            return rows if 2 * len(heads & set(record.filled)) >= len(record.filled) else 0
        if may_head(record) and known_headings(record) > 1 and not is_comment(record, width):
            return 0
    return 0


def _is_preamble(records: list[Record], at: int, width: int) -> bool:
    """Tell "name; value" lines above the first table from its heading: a fuller heading follows soon."""
    here = records[at]
    for record in records[at + 1 : at + 12]:
        if has_measures(record) and len(record.filled) > 1 and not may_head(record):
            return False
        if not may_head(record) or leans_on_row_above(record, here):
            continue
        wider = len(record.filled) > len(here.filled)
        better = known_headings(record) == len(record.filled) and known_headings(here) < len(here.filled)
        if (wider or better) and _heading_rows(records, records.index(record), width):
            return True
    return False


def _begins_table(records: list[Record], at: int, starts: list[tuple[int, int]]) -> bool:
    """Tell a further heading from a row without figures: it repeats one, or has known words."""
    here, before = records[at], records[at - 1]
    if is_of_record(here, records[at + 1 : at + 1 + _LOOK_AHEAD]):
        return False
    if known_headings(here) > 1 or any(same_heading(here, records[start]) for start, _ in starts):
        return True
    return is_blank(before) and known_headings(here) > 0


def _last_row(records: list[Record], start: int, end: int, width: int) -> int:
    """Return the index of the table's last row; lines and prose behind it are not rows."""
    last = end - 1
    while last > start:
        record = records[last]
        gap = is_blank(records[last - 1])
        ends = last + 1 == len(records) or is_blank(records[last + 1])
        line = is_line(record) and not (ends and not gap and is_terminal_alone(record))
        apart = is_blank(record) or line or is_comment(record, width)
        if not apart and not is_sentence(record, width, after_gap=gap):
            break
        last -= 1
    return last


def _share_tail(tail: list[Record], *, last_table: bool) -> tuple[list[str], list[str]]:
    """Share the lines behind a table between it (notes) and the next one (its caption)."""
    below: list[str] = []
    caption: list[str] = []
    gap = False
    for record in tail:
        if is_blank(record):
            gap = bool(below) or gap
            continue
        text = line_text(record)
        if last_table or is_footnote(text) or (_is_prose(text) and not gap):
            below.append(text)
        else:
            caption.append(text)
    return below, caption


def _is_prose(text: str) -> bool:
    return len(text.split()) > 6 or text.rstrip().endswith(".")


def _leading_blocks(records: list[Record], width: int) -> list[Block]:
    """Return tables among the records above the first heading: only where they state measures."""
    if any(has_figures(r) and has_measures(r) and not is_comment(r, width) for r in records):
        return _blocks_without_heading(records, width)
    return []


def _blocks_without_heading(records: list[Record], width: int) -> list[Block]:
    """Return a table for each run of rows of at least two cells, with the lines above and below it."""
    blocks: list[Block] = []
    pending: list[str] = []
    run: list[Record] = []
    for record in [*records, None]:
        if record is not None and len(record.filled) > 1 and not is_comment(record, width):
            run.append(record)
            continue
        if record is not None and is_line(record) and run and not is_comment(record, width):
            run.append(record)
            continue
        if run:
            block, pending = _close(run, pending)
            blocks.extend(block)
            run = []
        if record is not None and not is_blank(record):
            pending.append(line_text(record))
    if pending and blocks:
        blocks[-1].below.extend(pending)
    return blocks


def _close(run: list[Record], pending: list[str]) -> tuple[list[Block], list[str]]:
    """Close a run of rows: lines at its end are notes."""
    last = len(run)
    while last and is_line(run[last - 1]):
        last -= 1
    notes = [line_text(record) for record in run[last:]]
    return [Block(records=run[:last], caption=pending, below=notes)], []


def split_side_by_side(block: Block) -> list[Block]:
    """Part tables that stand side by side: a blank column between them, and the first heading comes again."""
    heads = block.records[: block.heading_rows]
    extent = max((record.extent for record in block.records), default=0)
    filled = {i for record in block.records for i in record.filled}
    starts = [min(filled, default=0)]
    for column in sorted(filled):
        new_part = column - 1 not in filled and column > starts[0]
        if new_part and any(_text(h, column) and _text(h, column) == _text(h, starts[0]) for h in heads):
            starts.append(column)
    if len(starts) == 1:
        return [block]
    ends = [*starts[1:], extent]
    return [_part(block, start, end) for start, end in zip(starts, ends, strict=True)]


def _part(block: Block, start: int, end: int) -> Block:
    records = []
    for record in block.records:
        whole = is_line(record)
        fields = record.fields if whole else record.fields[start:end]
        if any(fields):
            records.append(record if whole else replace(record, fields=fields, offset=start, cut=True))
    return replace(block, records=records, caption=[*block.caption], below=[*block.below])


def _text(record: Record, column: int) -> str:
    return record.fields[column] if column < len(record.fields) else ""
