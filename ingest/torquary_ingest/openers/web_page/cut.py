"""Web pages that break off: inside a tag, inside a table, or before the end of the page.

Only `</table>` cannot be left out; `</html>` may be (HTML Living Standard, 13.1.2.4), but who saves a page writes it.
Near is the row in which the page breaks off: rows above it are whole.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.document import Doubt, Table
from torquary_ingest.openers.web_page.content import Line
from torquary_schema.values import Finding, Place

_CODE = "sheet_damaged"
PARTS = re.compile(
    r"<!--.*?(?:-->|\Z)|<(?P<raw>script|style|textarea|title)\b.*?(?:</(?P=raw)\s*>|\Z)"
    r"""|<(?P<name>/?[a-z][a-z0-9:-]*)(?:"[^"]*"|'[^']*'|[^'">])*(?P<end>>|\Z)|<(?P<cut>[/!]?[a-z]*\Z)""",
    re.IGNORECASE | re.DOTALL,
)


def find_break(text: str) -> tuple[str, int]:
    """Return how the page breaks off, in words ("" when it does not), and how many tables at its end it breaks."""
    last = ""
    depth = begun = pages = 0
    for part in PARTS.finditer(text):
        last = part[0]
        name = (part["name"] or "").lower() if part["end"] == ">" else ""
        depth = max(0, depth + {"table": 1, "/table": -1}.get(name, 0))
        begun = begun + (name == "table") if depth else 0
        pages += {"html": 1, "/html": -1}.get(name, 0)
    if last and text.endswith(last) and not last.endswith(">"):
        return "inside a tag", begun
    if begun:
        return "inside a table", begun
    return ("before the end of the page" if pages > 0 else "", 0)


def doubt_last_rows(tables: Sequence[Table]) -> list[Table]:
    """Return the tables, each with the cells of its last row doubted."""
    doubt = Doubt(code=_CODE, message="the page breaks off in this row; save it again, or ask for a sound copy")
    return [_doubt_cells(table, doubt, table.rows) for table in tables]


def doubt_all_rows(tables: Sequence[Table]) -> list[Table]:
    """Return the tables, each with all its cells doubted: which of them the damage has reached cannot be told."""
    doubt = Doubt(code=_CODE, message="the page is damaged; save it again, or ask for a sound copy")
    return [_doubt_cells(table, doubt, 1) for table in tables]


def _doubt_cells(table: Table, doubt: Doubt, first: int) -> Table:
    """Return the table, the cells that reach the row `first` or one below it doubted."""
    cells = (
        replace(cell, doubts=(*cell.doubts, doubt)) if cell.row + cell.row_span > first else cell
        for cell in table.cells
    )
    return replace(table, cells=tuple(cells))


def describe_break(how: str, tables: Sequence[Table], lines: Sequence[Line]) -> Finding:
    """Return what is to be said of a break, with the row or else the line that stands last."""
    cells = [cell.text for cell in tables[-1].cells if cell.row == tables[-1].rows] if tables else []
    printed = " | ".join(cells) if cells else (lines[-1].spoken.text if lines else "")
    return _finding(f"the page breaks off {how}; a row there is held", printed)


def describe_broken_tag(what: str) -> Finding:
    """Return what is to be said of a damaged tag in a table."""
    return _finding(f"a table of the page is damaged: {what}; it and what stands behind it are held", "")


def describe_control_characters() -> Finding:
    """Return what is to be said of a page in which characters stand that no sound page has."""
    return _finding("control characters or NUL bytes stand in the page; its tables are held", "")


def _finding(message: str, printed: str) -> Finding:
    return Finding(
        code=_CODE,
        scope="page",
        message=f"{message}: save it again, or ask for a sound copy",
        place=Place(page=1, text=printed[:200]),
        printed=printed[:200],
    )
