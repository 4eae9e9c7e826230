"""Text files that are damaged: a last row that breaks off, and rows with characters that no text has.

A file may end without a line end (RFC 4180, 2.2); it breaks off only where its last row looks shorter than the others.
All rows are held then: statements for all of them ("copper conductors only") stand below the rows as a rule, and are
lost with the end. Near a character that no text has is its row, for it may stand where a cell ended.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.document import Doubt
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.openers.delimited.records import Record
from torquary_ingest.openers.delimited.rows import is_comment, is_footnote
from torquary_schema.values import Finding, Place

CODE = "sheet_damaged"
_FOREIGN = re.compile(r"[\x00-\x08\x0b\x0e-\x1f\x7f\x80-\x84\x86-\x9f]")
_DECIMALS = re.compile(r"[.,](\d*)\Z")
_SENTENCE = 3
"""Words from which a line is one of text, and no row of which only the first cell is left."""


def mark_damage(records: Sequence[Record], end: str) -> tuple[list[Record], tuple[Finding, ...]]:
    """Return the records, those near damage doubted, and what is to be said; `end` is what follows the last one."""
    found: list[Finding] = []
    marked = list(records)
    strange = [at for at, record in enumerate(marked) if _FOREIGN.search(record.raw)]
    for at in strange:
        marked[at] = _doubt(marked[at], "control characters or NUL bytes stand in this row")
    if strange:
        what = f"control characters or NUL bytes stand in {len(strange)} of its rows, first on line"
        found.append(_finding(marked[strange[0]], f"{what} {marked[strange[0]].line}"))
    if "\0" in end and marked:
        found.append(_finding(marked[-1], "NUL bytes follow its last row"))
    if ("\0" in end or not end.strip(" \x1a")) and _breaks_off(marked):
        found.append(_finding(marked[-1], f"it breaks off in line {marked[-1].line}"))
        lost = f"the file breaks off in line {marked[-1].line}, and notes that stood below may limit this row"
        marked = [_doubt(record, lost) for record in marked]
    return marked, tuple(found)


def _breaks_off(records: Sequence[Record]) -> bool:
    """Tell whether the last record has fewer or shorter cells than the rows right above it."""
    if _is_padded(records[:-1]) and len(records[-1].fields) < len(records[0].fields):
        return True
    above = _rows_above(records)
    if not above:
        return False
    last = records[-1]
    if len(last.fields) > 1:
        return len(last.fields) < min(len(row.fields) for row in above) or _is_short(last, above)
    text = last.fields[0] if last.fields else ""
    note = is_footnote(text) or is_comment(last, 2) or read_conductor_words(text).known  # "Cu only"
    return not note and len(text.split()) < _SENTENCE


def _is_padded(records: Sequence[Record]) -> bool:
    """Tell whether all lines have as many fields as the first (RFC 4180, 2.4), blank ones and those of text too."""
    even = len({len(record.fields) for record in records}) == 1
    return even and any(not any(map(str.strip, record.fields[1:])) for record in records)


def _rows_above(records: Sequence[Record]) -> list[Record]:
    """Return the rows of several cells that stand above the last record without a gap; at least two, or none."""
    above: list[Record] = []
    for record in reversed(records[:-1]):
        if len(record.fields) < 2 or not record.filled:
            break
        above.append(record)
    return above if len(above) > 1 else []


def _is_short(last: Record, above: Sequence[Record]) -> bool:
    """Tell whether the last cell is blank, half a range, the beginning of another, or has too few decimals."""
    at = len(last.fields) - 1
    text = last.fields[at]
    others = [row.fields[at] for row in above if len(row.fields) > at]
    if text in others:
        return False
    if not text or text[-1] in "-\u2013\u2014" or any(other.startswith(text) for other in others):
        return True
    figures = [other for other in others if other[-1:].isdigit()]
    least = min(map(_decimals, figures), default=0)
    return _decimals(text) < least and (text[-1:].isdigit() or text[-1:] in ".,")


def _decimals(text: str) -> int:
    found = _DECIMALS.search(text)
    return len(found[1]) if found else 0


def _doubt(record: Record, what: str) -> Record:
    doubt = Doubt(code=CODE, message=f"{what}; ask for a sound copy of the sheet")
    return replace(record, doubts=(*record.doubts, doubt))


def _finding(record: Record, what: str) -> Finding:
    return Finding(
        code=CODE,
        scope="table",
        message=f"The file is damaged: {what}; what stands there is held: ask for a sound copy.",
        place=Place(page=1, text=record.raw[:200]),
        printed=record.raw[:200],
    )
