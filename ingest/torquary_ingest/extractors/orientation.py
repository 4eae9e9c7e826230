"""Which way a table runs: the orientation, terminals down or across, that explains its torque figures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from torquary_ingest.document import Doubt, Table
from torquary_ingest.extractors.layout import Layout, make_layouts
from torquary_ingest.extractors.properties import without_clauses
from torquary_ingest.extractors.turned_parts import fill_groups, parts_between_bands
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import Grid, distinct, text_of, units_first
from torquary_ingest.headings.sections import Section, cut_sections
from torquary_ingest.headings.tolerance_column import join_tolerances
from torquary_ingest.scope.over import speak_over, texts_of
from torquary_schema.values import ScopeText
from torquary_schema.words import spot


def over_table(table: Table) -> tuple[ScopeText, ...]:
    """Return what the lines over a table, or over a list set as lines, are to its figures."""
    return speak_over(table.caption, "list_heading" if table.means == "list" else "caption", table.page)


def choose_layouts(grid: Grid) -> tuple[Layout, ...]:
    """Return the layouts of the orientation that explains more torque figures; upright when equal.

    Figures under the word for a torque count before those under a unit alone, which may be a row of units.
    """
    over = over_table(grid.table)
    upright = _layouts_of(grid, over)
    turned = tuple(
        layout
        for part, lines in parts_between_bands(fill_groups(grid))
        for layout in _layouts_of(units_first(join_tolerances(without_clauses(part).turned())), (*lines, *over))
    )
    if grid.table.means == "list":
        return turned
    return turned if _explained(turned) > _explained(upright) else upright


def _explained(layouts: tuple[Layout, ...]) -> tuple[int, int]:
    """Return how many torque figures layouts explain: under a heading that says so in words, and in all."""
    return sum(layout.figures(worded=True) for layout in layouts), sum(layout.figures() for layout in layouts)


def _layouts_of(grid: Grid, over: tuple[ScopeText, ...]) -> tuple[Layout, ...]:
    sections = cut_sections(grid)
    above = _devices_above(grid, sections[0]) if len(sections) > 1 and not sections[0].headings else ()
    layouts = (layout for section in sections for layout in make_layouts(grid, section, (*above, *over)))
    doubts = tuple(_devices_doubts(texts_of(above or over)[::-1]))
    # A band names the device of its rows, whatever stands above.
    return tuple(
        layout if layout.section.bands else replace(layout, doubts=(*layout.doubts, *doubts)) for layout in layouts
    )


def _devices_doubts(lines: tuple[str, ...]) -> Iterator[Doubt]:
    """Yield a doubt where two lines over a list name two devices, one type each: nothing says which it is for."""
    named = [(line, find_types(line)) for line in lines if spot("family", line)]
    single = [(line, types) for line, types in named if len(types) == 1]
    if len({name for _, types in single for name in types}) > 1:
        message = f"{' and '.join(repr(line) for line, _ in single)} stand over the list; look which of them it is for"
        yield Doubt(code="readings_differ", message=message)


def _devices_above(grid: Grid, section: Section) -> tuple[ScopeText, ...]:
    """Return the devices that rows above the first heading name: titles taken into the table."""
    cells = distinct(cell for row in section.body for cell in grid.rows[row])
    named = [text for cell in cells if spot("family", text := text_of(cell))]
    return speak_over(named, "section_row", grid.table.page)
