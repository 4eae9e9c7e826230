"""From pages' words and rules to tables. Knows nothing of torque."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from torquary_ingest.document import Page, Table
from torquary_ingest.tables.finder import find_tables
from torquary_ingest.tables.overleaf import add_rows_overleaf

__all__ = ["find_all_tables", "find_tables"]


def find_all_tables(pages: Iterable[Page]) -> tuple[Table, ...]:
    """Return the tables of all pages in page order, each numbered from 1 on its page in reading order."""
    tables: list[Table] = []
    before: Page | None = None
    above: tuple[Table, ...] = ()
    for page in pages:
        found = find_tables(page)
        if page.tables is None and before is not None and before.number == page.number - 1:
            found = add_rows_overleaf(page, found, before, above)
        found = tuple(replace(table, page=page.number, number=n) for n, table in enumerate(found, start=1))
        tables += found
        before, above = page, found
    return tuple(tables)
