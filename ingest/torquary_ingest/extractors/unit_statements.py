"""Lines that state a unit for all torques of their page, wherever they stand."""

from __future__ import annotations

from dataclasses import replace

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import set_lines
from torquary_ingest.headings.units_stated import speaks_for_all


def find_statements(document: Document, tables: tuple[Table, ...]) -> dict[int, tuple[str, ...]]:
    """Return by page the lines that state a unit for all its torques, wherever they stand."""
    lines = ((line.page, line.text) for page in document.pages for line in set_lines(page, tables))
    found: dict[int, tuple[str, ...]] = {}
    for page, text in lines:
        if speaks_for_all(text):
            found[page] = (*found.get(page, ()), text)
    return found


def with_statements(table: Table, stated: tuple[str, ...]) -> Table:
    """Return the table with those lines of its page that state a unit for all torques, its caption's left out."""
    lines = [line for line in stated if line not in table.caption]
    return replace(table, below=tuple(dict.fromkeys((*table.below, *lines)))) if table.box and lines else table
