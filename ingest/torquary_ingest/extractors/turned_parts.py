"""A turned table in parts: the bands between its rows name what follows, the row over them heads every part."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from torquary_ingest.document import Cell
from torquary_ingest.extractors.property_groups import Group, join_groups
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.sections import band_cell
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.scope.over import speak_over
from torquary_schema.values import ScopeText
from torquary_schema.words import spot

_QUANTITIES = ("torque", "conductor", "thread", "strip", "value", "unit")
_SIZE_LETTER = re.compile(r"[A-Z]")
_DEVICES = ("model", "series", "device", "rated_current")


def fill_groups(grid: Grid) -> Grid:
    """Return a grid in which a name printed once before several properties stands before each of them.

    "Line side | Cross-section", and beneath it "| Tightening torque": each row but the first has a property in the
    second column, and few have a name in the first.
    """
    body = [row for row in grid.rows[1:] if any(cell is not None and text_of(cell) for cell in row)]
    named = [row for row in body if text_of(row[0])]
    listed = grid.width > 2 and all(text_of(row[1]) and not grid.sense(row[1]).figure for row in body)
    if not listed or not 1 < len(named) <= len(body) / 2 or not text_of(body[0][0]):
        return grid
    rows: list[tuple[Cell | None, ...]] = [grid.rows[0]]
    for row in grid.rows[1:]:
        rows.append(row if text_of(row[0]) else (rows[-1][0], *row[1:]))
    return replace(grid, rows=tuple(rows))


def parts_between_bands(grid: Grid) -> Iterator[tuple[Grid, tuple[ScopeText, ...]]]:
    """Yield the rows between band rows, each part with the texts over it: a turned table has sections too."""
    yield from ((group.whole, group.lines) for group in join_groups(list(_groups(grid))))


def _groups(grid: Grid) -> Iterator[Group]:
    """Yield the rows between band rows.

    Rows above the first band that name types and hold no figure head every part. A blank row ends a part; a device's
    name in two cells that opens one ("MS 160 | Moulded-case breaker 160 A") stands over all parts up to the next.
    """
    lines: tuple[ScopeText, ...] = ()
    title: tuple[ScopeText, ...] = ()
    over: Cell | None = None
    start = 0
    head = _types_above_bands(grid)
    page = grid.table.page
    for row in range(len(grid.rows) + 1):
        cells = distinct(grid.rows[row]) if row < len(grid.rows) else ()
        band = band_cell(grid, row) if cells else None
        named = _name_of_record(cells) if row == start else ""
        if not cells or band is not None or named:
            if row > start:
                above = head if start else ()
                yield Group(head=above, grid=grid.part(start, row), band=over, lines=(*lines, *title))
                lines = ()
            start, over = row + 1, band
            lines = (*speak_over(band.text.split("\n") if band is not None else (), "section_row", page), *lines)
        if named:
            title = speak_over((named,), "heading", page)


def _name_of_record(cells: tuple[Cell, ...]) -> str:
    """Return the device that two cells name, a type and a kind; "" for a property and its value.

    Both may stand in the first, beside an article number: "Main switch HS-63 | Article 88 1063".
    """
    if len(cells) != 2:
        return ""
    first, second = map(text_of, cells)
    sense = make_sense(second)
    if make_sense(first).fields or sense.figure or sense.unit("torque", "area", "gauge"):
        return ""
    if find_types(first) and spot("family", first):
        return first
    return f"{first} {second}" if find_types(first) and spot("family", second) else ""


def _types_above_bands(grid: Grid) -> tuple[tuple[Cell | None, ...], ...]:
    """Return the first rows over bands where they head columns with types or sizes: "Size | A | B", "Type | OT 9".

    Behind the first row only one that names devices does, as the article numbers under their types.
    """
    rows = range(len(grid.rows))
    band = next((row for row in rows if band_cell(grid, row) is not None), 0)
    return grid.rows[: next((row for row in rows[:band] if not _heads_types(grid, row)), band)]


def _heads_types(grid: Grid, row: int) -> bool:
    first, others = grid.sense(grid.rows[row][0]), distinct(grid.rows[row][1:])
    if not others or first.units or any(field.split("_")[0] in _QUANTITIES for field in first.fields):
        return False
    lettered = all(_SIZE_LETTER.fullmatch(text_of(cell)) for cell in others)  # "A" may be a unit elsewhere
    plain = lettered or not any(grid.sense(c).figure or grid.sense(c).units for c in others)
    typed = row == 0 or lettered or all(find_types(text_of(cell)) for cell in others)
    return (plain and typed) or first.has(*_DEVICES)
