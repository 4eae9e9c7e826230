"""Headings that are not known, with figures under them: each is named, all of a list in one finding."""

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

_LEAST_LETTERS = 2
"""Letters of a heading at least (own choice)."""

_OTHER_UNITS = frozenset(("Hz", "kHz", "kW", "kVA", "VA", "kV", "mV", "mA", "ms", "min", "rpm", "Гц", "кВт"))
"""Units of quantities that no terminal has, as lists of other values print them above their figures."""


def find_unknown(grid: Grid, section: Section, columns: Sequence[Column]) -> tuple[Finding, ...]:
    """Return one finding for the headings of a section that are not known and have figures under them, if any."""
    table = grid.table
    unknown = [column for column in columns if _is_unknown(column) and _has_figures(grid, section, column)]
    if not unknown:
        return ()
    printed = ", ".join(dict.fromkeys(column.heading for column in unknown))
    said = "heading {!r} is not known and its column was" if len(unknown) == 1 else (
        "headings {!r} are not known and their columns were"
    )
    message = (
        f"table {table.number} on page {table.page}: the {said.format(printed)} not used; "
        "say what it means in a layout profile (torquary profile writes one)"
    )
    place = Place(page=table.page, table=table.number, column=unknown[0].index + 1, text=unknown[0].heading)
    return (Finding(code="heading_unknown", scope="table", message=message, place=place, printed=printed),)


def _is_unknown(column: Column) -> bool:
    """Tell whether a column has a heading in words that are not known; a unit or a letter heads nothing."""
    letters = sum(map(str.isalpha, column.heading))
    unit = column.heading.strip() in _OTHER_UNITS or make_sense(column.heading).units
    return column.field == "unknown" and letters >= _LEAST_LETTERS and not unit


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
            found = [finding for finding in found if not all(map(roles_of_markings, finding.printed.split(", ")))]
        if found:
            yield from found
            return


def _is_about_terminals(sense: Sense) -> bool:
    return sense.has(*OF_TERMINALS) or bool(sense.unit("area", "gauge"))


def _has_figures(grid: Grid, section: Section, column: Column) -> bool:
    cells = (grid.rows[row][column.index] for row in section.body)
    return any(make_sense(text_of(cell)).figure for cell in cells)
