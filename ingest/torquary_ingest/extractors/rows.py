"""Body rows of a laid-out section, each turned into readings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from torquary_ingest.document import Cell, Doubt, Entry, Reading
from torquary_ingest.extractors.banded import band_entries
from torquary_ingest.extractors.blanks import blank_doubts
from torquary_ingest.extractors.groups import GoingOn, find_going_on
from torquary_ingest.extractors.labels import (
    carry_label,
    heading_doubts,
    label_doubts,
    parted_rows,
    rows_under_devices,
    screw_doubts,
)
from torquary_ingest.extractors.layout import BandState, Layout, is_ditto, torque_groups
from torquary_ingest.extractors.plain_entries import is_of_other_screw, of_device, of_part, other_entries
from torquary_ingest.extractors.unit_lines import unit_line_doubts
from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import distinct, text_of
from torquary_ingest.headings.sense import Sense, cut_out, make_sense
from torquary_ingest.headings.tolerances import has_tolerance, stated_tolerance
from torquary_ingest.lexis.threads import is_thread
from torquary_schema.values import Place
from torquary_schema.words import fold, spot


def read_rows(layout: Layout, bands: BandState) -> Iterator[Reading]:
    """Yield the readings of a section's body, row by row, minding the band rows between them."""
    groups = torque_groups(layout.columns)
    parted = parted_rows(layout) | rows_under_devices(layout)
    going_on = find_going_on(layout)
    waiting = list(layout.section.bands)
    last: dict[int, Cell] = {}
    seen: set[tuple[tuple[int, int], ...]] = set()  # rows parted only in columns that are not read
    for row in layout.section.body:
        while waiting and waiting[0].row < row:
            bands.pass_by(waiting.pop(0), layout.section, layout.grid.table.page)
            last.clear()  # "as above" does not reach over a row that may change the unit
        bands.used = True
        cells = _resolve(layout, row, last, going_on)
        for group in groups:
            reading = _read_group(layout, bands, row, cells, group)
            key = tuple((entry.cell.row, entry.cell.column) for entry in reading.entries) if reading else ()
            if reading is not None and key not in seen:
                seen.add(key)
                doubts = (parted[row],) if row in parted else ()
                yield replace(reading, doubts=(*reading.doubts, *doubts))
    for band in waiting:
        bands.pass_by(band, layout.section, layout.grid.table.page)


def _resolve(layout: Layout, row: int, last: dict[int, Cell], going_on: GoingOn) -> dict[int, Cell]:
    """Return the row's cells by column; a ditto mark stands for the cell above, with its own place.

    So does a blank in a row that surely goes on from one above.
    """
    cells: dict[int, Cell] = {}
    for column in layout.columns:
        places = layout.grid.rows[row]
        cell = places[column.index] if column.index < len(places) else None
        above = last.get(column.index)
        if (row, column.index) in going_on:
            cell = layout.grid.rows[going_on[row, column.index]][column.index]
        elif cell is None or not cell.text.strip():
            cell = carry_label(layout, column, cell, above)
        if cell is None:
            continue
        if is_ditto(cell.text) and above is not None:
            marks, doubts = above.marks + cell.marks, above.doubts + cell.doubts
            cell = replace(cell, text=above.text, marks=marks, doubts=doubts, words=above.words + cell.words)
        if cell.text.strip():
            last[column.index] = cell
        cells[column.index] = cell
    return cells


def _read_group(
    layout: Layout, bands: BandState, row: int, cells: dict[int, Cell], group: tuple[Column, ...]
) -> Reading | None:
    torques = [_torque_entry(layout, bands, cells, column) for column in group if column.index in cells]
    if is_of_other_screw(group):
        cells = {column.index: cells[column.index] for column in of_device(layout) if column.index in cells}
    others = list(other_entries(layout, cells, group))
    sizes = list(_size_entries(layout, bands, cells, group))
    # A terminal without figures is a row too: what its figures are may stand in a span that is lost.
    labelled = any(entry.field == "terminal" for entry in others)
    if not torques or not (any(entry.cell.text.strip() for entry in torques) or sizes or labelled):
        return None
    named = (*band_entries(layout, bands), *others, *_label_entries(layout, group))
    entries = [*named, *sizes, *torques, *_tolerance_entries(layout, group)]
    said = (
        *label_doubts(layout, entries),
        *heading_doubts(layout, group),
        *screw_doubts(layout, group, entries),
        *blank_doubts(layout, row, find_going_on(layout)),
        *unit_line_doubts(layout, row),
        *_twin_doubts(sizes),
        *_side_by_side_doubts(layout),
        *_taught_doubts(layout, cells),
    )
    return Reading(
        place=_place(layout, row, torques[0].cell),
        entries=tuple(entries),
        scope=(*bands.scope, *layout.scope),
        doubts=(*layout.grid.table.doubts, *layout.doubts, *_band_doubts(bands), *said),
    )


def _torque_entry(layout: Layout, bands: BandState, cells: dict[int, Cell], column: Column) -> Entry:
    unit = bands.torque_unit or column.unit or bands.leading_torque_unit or layout.torque_unit
    beside = _unit_column(layout, column)
    if beside is not None and beside.index in cells:
        own = make_sense(text_of(cells[beside.index]))
        # A unit of something else speaks of another column; one that is not known is no reason to take the heading's.
        unit = own.text if own.unit("torque", "force") or (own.text and not own.units) else unit
    cell = _under(column, cells)
    return Entry(field=column.field, cell=cell, heading=column.heading, unit_printed=unit, taught=column.taught)


def _unit_column(layout: Layout, column: Column) -> Column | None:
    """Return the column that gives the unit of a torque: the next one, or the only one, or none beside its own unit."""
    units = [other for other in layout.columns if other.field == "unit"]
    if column.unit:
        units = [other for other in units if abs(other.index - column.index) == 1]
    return next((other for other in units if other.index > column.index), next(iter(units), None))


def _tolerance_entries(layout: Layout, group: tuple[Column, ...]) -> Iterator[Entry]:
    """Yield the heading cells that state a tolerance of the figures: the picture has to bear them out too."""
    for column in group:
        if stated_tolerance(column.heading):
            cells = distinct(layout.grid.rows[row][column.index] for row in layout.section.headings)
            yield from (Entry(field="unit_tolerance", cell=cell) for cell in cells if has_tolerance(cell.text))


def _under(column: Column, cells: dict[int, Cell]) -> Cell:
    """Return a cell with the note marks and doubts of its heading: what hangs on the heading hangs on each figure."""
    cell = cells[column.index]
    return replace(cell, marks=(*cell.marks, *column.marks), doubts=(*cell.doubts, *column.doubts))


def _size_entries(
    layout: Layout, bands: BandState, cells: dict[int, Cell], group: tuple[Column, ...]
) -> Iterator[Entry]:
    """Yield the conductor cells that go with a group of torques: its own qualifier's, else those of no other group."""
    fallback = bands.leading_size_unit or layout.size_unit
    if group[0].size is not None:
        unit = bands.size_unit or fallback
        yield Entry(field="conductor", cell=group[0].size, heading=group[0].heading, unit_printed=unit)
        return
    for column in of_part(layout, "conductor", group[0].qualifier):
        cell = cells.get(column.index)
        if cell is not None and cell.text.strip():
            unit = bands.size_unit or column.unit or fallback
            cell = _under(column, cells)
            if is_thread(_without_lug(text_of(cell))):  # a bolt has no conductor: its thread stands there
                yield Entry(field="thread", cell=cell, heading=column.qualifier)
                continue
            yield Entry(
                field=column.field, cell=cell, heading=column.heading, unit_printed=unit, taught=column.taught
            )


def _without_lug(text: str) -> str:
    """Return what stands beside the word for what is bolted there: "M10" of "lug, M10"."""
    lugs = [(match.start, match.end) for match in (*spot("clamp", text), *spot("tightened", text))]
    return cut_out(text, lugs).strip(" ,;:") if lugs else text


def _twin_doubts(sizes: list[Entry]) -> Iterator[Doubt]:
    """Yield a doubt where two columns under one heading give sizes: lists side by side that were not told apart."""
    heads = [(entry.field, fold(entry.heading)) for entry in sizes if entry.heading and entry.field == "conductor"]
    columns = {entry.cell.column for entry in sizes}
    if len(columns) > 1 and len(set(heads)) < len(heads):
        message = f"two columns are headed {sizes[0].heading!r}; look which of them the torque is for"
        yield Doubt(code="table_shifted", message=message)


def _side_by_side_doubts(layout: Layout) -> Iterator[Doubt]:
    """Yield a doubt where torques stand between two columns of terminals: two lists that were not told apart."""
    for left, right in pairwise(column for column in layout.columns if column.field == "terminal"):
        if any(left.index < column.index < right.index for column in layout.torque_columns):
            message = f"terminals stand under {left.heading!r} and {right.heading!r}; look which the torque is for"
            yield Doubt(code="table_shifted", message=message)


def _label_entries(layout: Layout, group: tuple[Column, ...]) -> Iterator[Entry]:
    """Yield what the headings say beyond known words; a heading that says nothing else is given as printed.

    A kind of conductor ("Torque | solid | flexible", "Cu") is no part of a name: it tells which the torque is for.
    """
    for cell in group[0].qualifier_cells:
        sense = layout.grid.sense(cell)
        whole = not (sense.fields or sense.units or sense.minimum or sense.maximum)
        heading = sense.text if whole and sense.rest else sense.rest
        said = read_conductor_words(heading)
        if said.known and not said.rest:
            yield Entry(field="stranding", cell=replace(cell, text=heading))
            continue
        yield Entry(field="qualifier", cell=cell, heading=_name_of_screw(sense) or heading)


def _name_of_screw(sense: Sense) -> str:
    """Return the whole name of a screw whose words are headings elsewhere: "Cable screw", not "screw"; or ""."""
    if set(sense.fields) != {"conductor", "terminal"} or sense.minimum or sense.maximum:
        return ""
    return cut_out(sense.text, [(unit.start, unit.end) for unit in sense.units]).strip(" ()[],;")


def _band_doubts(bands: BandState) -> Iterator[Doubt]:
    if bands.inherited:
        yield Doubt(
            code="readings_differ",
            message=f"the list before was for {bands.scope[0].text!r} and this one names no device of its own; "
            "look which it is for",
        )
    if bands.unsure:
        yield Doubt(
            code="unit_doubtful",
            message="an earlier row of this table changed the unit and a later one is silent about it; "
            "say which unit holds here",
        )


def _taught_doubts(layout: Layout, cells: dict[int, Cell]) -> Iterator[Doubt]:
    """Yield what a person explained of the row's columns, and where the print speaks against it."""
    told: dict[str, list[str]] = {}
    for column in layout.columns:
        yield from column.contradictions
        taught, cell = column.taught, cells.get(column.index)
        if taught and not column.contradictions and column.field != "other" and cell is not None and cell.text.strip():
            told.setdefault(taught.profile, []).append(f"{taught.printed!r} is {column.field}")
    for name, headings in told.items():
        message = f"layout profile {name} says what headings mean: {', '.join(headings)}"
        yield Doubt(code="heading_taught", message=message)


def _place(layout: Layout, row: int, cell: Cell) -> Place:
    table = layout.grid.table
    printed = " | ".join(text for c in _row_cells(layout, row) if (text := text_of(c)))
    return Place(page=table.page, table=table.number, row=cell.row, column=cell.column, box=cell.box, text=printed)


def _row_cells(layout: Layout, row: int) -> list[Cell | None]:
    return [cell for i, cell in enumerate(layout.grid.rows[row]) if cell not in layout.grid.rows[row][:i]]


def carries_torque(layout: Layout) -> bool:
    """Tell whether any column of the layout holds torques: a figure stands in one, or its heading states their unit.

    A list of faults has "Torque limit" beside "Fan blocked", and no torques.
    """
    return layout.figures() > 0 or any(column.unit for column in layout.torque_columns)
