"""Headings that are not known, with figures under them: each is named."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.document import Table, TaughtHeading
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.columns import name_columns
from torquary_ingest.headings.grid import Grid, lay_out, text_of, without_blank_columns
from torquary_ingest.headings.sections import Section, cut_sections
from torquary_ingest.headings.sense import Sense, make_sense
from torquary_ingest.headings.taught import OF_TERMINALS
from torquary_schema.values import Finding, Place
from torquary_schema.vocabulary import roles_of_markings


def find_unknown(grid: Grid, section: Section, columns: Sequence[Column]) -> tuple[Finding, ...]:
    """Return a finding for each column with a heading that is not known and figures under it."""
    table = grid.table
    return tuple(
        Finding(
            code="heading_unknown",
            scope="table",
            message=f"table {table.number} on page {table.page}: the heading {column.heading!r} is not known and its "
            "column was not used; say what it means in a layout profile (torquary profile writes one)",
            place=Place(page=table.page, table=table.number, column=column.index + 1, text=column.heading),
            printed=column.heading,
        )
        for column in columns
        if column.field == "unknown" and column.heading and _has_figures(grid, section, column)
    )


def find_unknown_in(table: Table, taught: tuple[TaughtHeading, ...]) -> Iterator[Finding]:
    """Yield the unknown headings of a table that gave no reading, if it is about terminals."""
    grid = without_blank_columns(lay_out(table, taught))
    for side in (grid, grid.turned()):
        found: list[Finding] = []
        for section in cut_sections(side):
            if any(_is_about_terminals(side.sense(cell)) for row in section.headings for cell in side.rows[row]):
                found += find_unknown(side, section, name_columns(side, section))
        if side is not grid:
            # A table of terminals and sizes that stands upright is no turned one with headings "L1" and "N".
            found = [finding for finding in found if not roles_of_markings(finding.printed)]
        if found:
            yield from found
            return


def _is_about_terminals(sense: Sense) -> bool:
    return sense.has(*OF_TERMINALS) or bool(sense.unit("area", "gauge"))


def _has_figures(grid: Grid, section: Section, column: Column) -> bool:
    cells = (grid.rows[row][column.index] for row in section.body)
    return any(make_sense(text_of(cell)).figure for cell in cells)
