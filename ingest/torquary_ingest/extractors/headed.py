"""Tables with headings, in either orientation, on one page or several: the extractor that needs no layout."""

from __future__ import annotations

from collections.abc import Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.clauses.tables_of_text import is_text
from torquary_ingest.document import Document, Doubt, Reading, Table, TaughtHeading
from torquary_ingest.document.lines import set_lines
from torquary_ingest.extractors.layout import BandState, Layout
from torquary_ingest.extractors.long_tables import Part, part_long_table
from torquary_ingest.extractors.matrix import matrix_layouts
from torquary_ingest.extractors.orientation import choose_layouts, over_table
from torquary_ingest.extractors.properties import read_properties
from torquary_ingest.extractors.rows import carries_torque, read_rows
from torquary_ingest.extractors.side_by_side import part_side_by_side
from torquary_ingest.extractors.sub_properties import find_sub_property_lists, read_sub_properties
from torquary_ingest.extractors.unit_statements import find_statements, with_statements
from torquary_ingest.headings.cut_heads import find_cut_head
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import Grid, lay_out, without_blank_columns
from torquary_ingest.headings.paired_columns import part_pairs
from torquary_ingest.headings.sections import Section, cut_sections
from torquary_ingest.headings.tolerance_column import join_tolerances
from torquary_ingest.headings.units_stated import nearest_unit, unit_beneath
from torquary_ingest.headings.unknown import find_unknown
from torquary_ingest.scope.over import texts_of
from torquary_schema.values import ScopeText
from torquary_schema.words import fold, spot

# How much of the narrower column must lie over the other for a table overleaf to have the same columns.
_SHARED_WIDTH = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """The last layout with torques and the state of its bands, for a table that goes on without heading."""

    layout: Layout
    bands: BandState
    lines: frozenset[str] = frozenset()  # of its page, folded


class HeadedTables:
    """Reads every table whose headings name a torque, terminals down or across."""

    name = "headed"
    specific = False

    def recognises(self, document: Document) -> bool:
        """Return True for every document that may hold tables."""
        return bool(document.pages)

    def readings(self, document: Document, tables: tuple[Table, ...]) -> Iterable[Reading]:
        """Yield the readings of all tables in page order, lists of sub-properties first."""
        lists = find_sub_property_lists(tables)
        for run in lists.runs:
            yield from read_sub_properties(run)
        stated = find_statements(document, tables)
        rest = (table for table in tables if not (is_text(table) or table in lists.tables))
        yield from _read_in_order(document, [with_statements(one, stated.get(one.page, ())) for one in rest])


def _read_in_order(document: Document, tables: Sequence[Table]) -> Iterator[Reading]:
    """Yield the readings of tables, each of which may go on from the one before or stand under its device."""
    carried: Carried | None = None
    above: tuple[ScopeText, ...] = ()
    lines = {page.number: set_lines(page) for page in document.pages}
    cards = (card for one in tables for card in part_side_by_side(one, lines.get(one.page, ())))
    for part in (part for card in cards for part in _parts_of(card, document.taught)):
        table = part.table
        readings, carried = _keep(read_table(table, carried, above, document.taught))
        yield from map(part.of_article, readings)
        yield from map(part.of_article, read_properties(table, _torques_in(readings), over_table(table) or above))
        carried = replace(carried, lines=_lines_of(document, table.page)) if carried is not None else None
        above = over_table(table) or above


def _parts_of(card: Part, taught: tuple[TaughtHeading, ...]) -> tuple[Part, ...]:
    """Return a list with the name of its device, or the lists of properties that a long table holds."""
    return (card,) if card.device else part_long_table(card.table, taught)


def _lines_of(document: Document, number: int) -> frozenset[str]:
    """Return the lines of a page, folded."""
    lines = (line for page in document.pages if page.number == number for line in set_lines(page))
    return frozenset(fold(line.text) for line in lines)


def _keep(reading: Generator[Reading, None, Carried | None]) -> tuple[list[Reading], Carried | None]:
    """Return the readings of a table, and what the next may go on from."""
    found: list[Reading] = []
    while True:
        try:
            found.append(next(reading))
        except StopIteration as end:
            return found, end.value


def _torques_in(readings: Iterable[Reading]) -> set[tuple[int, int]]:
    """Return the rows and columns of the cells that readings take for torques."""
    entries = (entry for reading in readings for entry in reading.entries)
    return {(entry.cell.row, entry.cell.column) for entry in entries if entry.field.startswith("torque")}


def read_table(
    table: Table,
    carried: Carried | None = None,
    above: tuple[ScopeText, ...] = (),
    taught: tuple[TaughtHeading, ...] = (),
) -> Generator[Reading, None, Carried | None]:
    """Yield a table's readings; return what the next table may go on from.

    `above` are the texts over the tables before: they name the device of a table without lines of its
    own, and never its units.
    """
    grid = part_pairs(join_tolerances(without_blank_columns(lay_out(table, taught))))
    over = over_table(table)
    layouts = choose_layouts(grid)
    if not any(carries_torque(layout) for layout in layouts) and carried and _goes_on(grid, carried):
        layouts = tuple(_continue(grid, carried, section) for section in cut_sections(grid))
    if not any(carries_torque(layout) for layout in layouts):
        layouts = matrix_layouts(grid, over)
    layouts = _with_units(layouts, over)
    if not over:
        layouts = tuple(replace(layout, scope=(*layout.scope, *above)) for layout in layouts)
    return (yield from _read_layouts(layouts, carried, _bands_before(layouts, carried))) if layouts else None


def _bands_before(layouts: Sequence[Layout], carried: Carried | None) -> BandState:
    """Return the device that a band of the table before named, when nothing new stands over this one.

    A list that goes on overleaf under the same headings goes on under the same band.

    It may be the same list under headings printed again, or another list of the sheet's device: doubted until a
    band of its own names one.
    """
    table = layouts[0].grid.table
    before = carried.layout.grid.table if carried else None
    if carried is None or before is None or before is table or (table.caption and table.caption != before.caption):
        return BandState()
    if _goes_on_overleaf(layouts[0], carried.layout):
        return replace(carried.bands, goes_on=True)
    devices = [one for one in carried.bands.scope if spot("family", one.text)]
    return BandState(scope=devices, inherited=bool(devices))


def _goes_on_overleaf(layout: Layout, before: Layout) -> bool:
    """Tell whether a list stands on the next page, with no line over it, under the very headings of the one before."""
    table = layout.grid.table
    same = [column.heading for column in layout.columns] == [column.heading for column in before.columns]
    overleaf = table.page == before.grid.table.page + 1 and not table.caption
    return overleaf and same and any(column.heading for column in layout.columns)


def _read_layouts(
    layouts: tuple[Layout, ...], carried: Carried | None, bands: BandState
) -> Generator[Reading, None, Carried | None]:
    for layout in layouts:
        headless = not layout.section.headings and layout.section.body
        if headless and not carries_torque(layout) and carried and _goes_on(layout.grid, carried):
            layout = _continue(layout.grid, carried, layout.section)
        if layout.section.headings and not bands.goes_on:
            # Headings printed again end what a band says of units; the device it names stays the last one named.
            devices = [one for one in bands.scope if spot("family", one.text)]
            bands = BandState(scope=devices, inherited=bands.inherited and bool(devices))
        elif carried and layout.columns == carried.layout.columns:
            bands = carried.bands
        if not carries_torque(layout):
            for band in layout.section.bands:
                bands.pass_by(band, layout.section, layout.grid.table.page)
            # What stands between is another list: what follows it cannot go on from before.
            carried = carried if not layout.section.body else None
            continue
        unknown = find_unknown(layout.grid, layout.section, layout.columns)
        cut = find_cut_head(layout.grid, layout.section)
        for reading in read_rows(layout, bands):
            yield replace(reading, findings=unknown, doubts=(*reading.doubts, *([cut] if cut else ())))
            unknown = ()
        bands.goes_on = False
        carried = Carried(layout=layout, bands=bands)
    return carried


def _with_units(layouts: tuple[Layout, ...], over: tuple[ScopeText, ...]) -> tuple[Layout, ...]:
    """Give each layout the units its lines state, for columns whose own heading is silent."""
    return tuple(
        replace(
            layout,
            torque_unit=layout.torque_unit
            or nearest_unit(texts_of(layout.scope or over), "torque", "force")
            or unit_beneath(layout.grid.table.below),
            size_unit=layout.size_unit or nearest_unit(texts_of(layout.scope or over), "area", "gauge"),
        )
        for layout in layouts
    )


def _goes_on(grid: Grid, carried: Carried) -> bool:
    """Tell whether rows without headings have the columns of those before: in one table, or overleaf."""
    before = carried.layout.grid
    if grid.table is before.table:
        return not before.across
    overleaf = grid.table.page == before.table.page + 1
    headless = not any(section.headings for section in cut_sections(grid))
    if before.across or grid.width != before.width or not overleaf or not headless:
        return False
    return all(map(_stand_alike, _extents(grid), _extents(before)))


def _stand_alike(one: tuple[float, float] | None, other: tuple[float, float] | None) -> bool:
    """Tell whether two columns share most of their width; a file without geometry has none to compare."""
    if one is None or other is None:
        return True
    shared = min(one[1], other[1]) - max(one[0], other[0])
    return shared >= _SHARED_WIDTH * min(one[1] - one[0], other[1] - other[0])


def _extents(grid: Grid) -> list[tuple[float, float] | None]:
    """Return where the texts of each column stand, from left to right in points; centred figures vary in width."""
    found: list[tuple[float, float] | None] = []
    for index in range(grid.width):
        boxes = [cell.box for cell in grid.column(index) if cell is not None and cell.box and cell.column_span == 1]
        found.append((min(box.x0 for box in boxes), max(box.x1 for box in boxes)) if boxes else None)
    return found


def _continue(grid: Grid, carried: Carried, section: Section) -> Layout:
    """Return the layout of rows that go on with the headings of those before.

    A line over them that neither says so nor stands on the page before may open another list: they are doubted.
    """
    table = grid.table
    if table is not carried.layout.grid.table and table.caption and not _says_continued(table.caption, carried):
        message = f"the table under {table.caption[-1]!r} has no headings and was read with those of the page before"
        doubt = Doubt(code="table_shifted", message=f"{message}; look whether they hold for it")
        grid = replace(grid, table=replace(table, doubts=(*table.doubts, doubt)))
    return replace(carried.layout, grid=grid, section=section, scope=(*over_table(table), *carried.layout.scope))


def _says_continued(lines: tuple[str, ...], carried: Carried) -> bool:
    """Tell whether a line over a table says that it goes on, or repeats a line or a name of the page before."""
    types = {name for one in carried.layout.scope for name in find_types(one.text)}
    return all(
        fold(line) in carried.lines
        or any(match.concept == "continued" for match in spot("document_word", line))
        or types & find_types(line)
        for line in lines
    )
