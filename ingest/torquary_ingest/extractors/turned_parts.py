"""A turned table in parts: the bands between its rows name what follows, the row over them heads every part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from torquary_ingest.document import Cell
from torquary_ingest.headings.grid import Grid, distinct
from torquary_ingest.headings.sections import band_cell
from torquary_ingest.scope.over import speak_over
from torquary_schema.values import ScopeText

_QUANTITIES = ("torque", "conductor", "thread", "strip", "value", "unit")
_DEVICES = ("model", "series", "device", "rated_current")


def parts_between_bands(grid: Grid) -> Iterator[tuple[Grid, tuple[ScopeText, ...]]]:
    """Yield the rows between band rows, each part with its band's text: a turned table has sections too.

    Rows above the first band that name types and hold no figure head every part.
    """
    lines: tuple[ScopeText, ...] = ()
    start = 0
    head = _types_above_bands(grid)
    for row in range(len(grid.rows) + 1):
        band = band_cell(grid, row) if row < len(grid.rows) else None
        if row == len(grid.rows) or band is not None:
            if row > start:
                part = grid.part(start, row)
                yield replace(part, rows=(*(head if start else ()), *part.rows)), lines
                lines = ()
            start = row + 1
            said = band.text.split("\n") if band is not None else ()
            lines = (*speak_over(said, "section_row", grid.table.page), *lines)


def _types_above_bands(grid: Grid) -> tuple[tuple[Cell | None, ...], ...]:
    """Return the first row over bands when it heads columns with types or sizes: "Type | OT 9 | OT 18", "Frame | 1"."""
    if len(grid.rows) < 2 or grid.width < 2 or band_cell(grid, 0) is not None:
        return ()
    if not any(band_cell(grid, row) is not None for row in range(1, len(grid.rows))):
        return ()
    first, others = grid.sense(grid.rows[0][0]), distinct(grid.rows[0][1:])
    if not others or first.units or any(field.split("_")[0] in _QUANTITIES for field in first.fields):
        return ()
    named = first.has(*_DEVICES)
    plain = not any(grid.sense(c).figure or grid.sense(c).units for c in others)
    return (grid.rows[0],) if named or plain else ()
