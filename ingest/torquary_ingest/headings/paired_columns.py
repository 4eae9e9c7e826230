"""A column that gives two quantities in each cell, as its heading does: "mm² / N·m" over "0.5–2.5 / 0.5"."""

from __future__ import annotations

import re
from dataclasses import replace

from torquary_ingest.document import Cell
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.lexis.dashes import is_dash
from torquary_schema.units import UnitMatch, find_units

_PAIR = re.compile(r"([^/]*\d[^/]*?)\s+/\s+(\d[^/]*)")
_BETWEEN = re.compile(r"\s*/\s*")
_SIZES = ("area", "gauge")


def part_pairs(grid: Grid) -> Grid:
    """Return the grid with each such column as two, one for each quantity; a blank or dash stands for neither."""
    for column in range(grid.width):
        heading = next((at for at, row in enumerate(grid.rows) if _units(row[column])), None)
        if heading is not None and _all_pairs(grid, column, heading):
            return part_pairs(_parted(grid, column, heading))
    return grid


def _units(cell: Cell | None) -> tuple[UnitMatch, UnitMatch] | None:
    """Return the units of a size and a torque that stand in a heading with a stroke between, in their order."""
    text = text_of(cell)
    found = [unit for unit in find_units(text) if unit.kind in (*_SIZES, "torque")]
    if len(found) != 2 or (found[0].kind == "torque") == (found[1].kind == "torque"):
        return None
    return (found[0], found[1]) if _BETWEEN.fullmatch(text, found[0].end, found[1].start) else None


def _all_pairs(grid: Grid, column: int, heading: int) -> bool:
    texts = grid.texts(range(heading + 1, len(grid.rows)), column)
    filled = [text for text in texts if text and not is_dash(text)]
    return bool(filled) and all(map(_PAIR.fullmatch, filled))


def _parted(grid: Grid, column: int, heading: int) -> Grid:
    rows = []
    for at, row in enumerate(grid.rows):
        cell = row[column]
        parts = (cell, cell) if at < heading else _halves(cell, heading=at == heading)
        rows.append((*row[:column], *parts, *row[column + 1 :]))
    return replace(grid, rows=tuple(rows))


def _halves(cell: Cell | None, *, heading: bool) -> tuple[Cell | None, Cell | None]:
    """Return what a cell says of each quantity; marks and doubts are of both."""
    units = _units(cell) if heading else None
    if cell is None:
        return None, None
    text = text_of(cell)
    if units is not None:
        rest = f"{text[: units[0].start]} {text[units[1].end :]}".strip()
        return replace(cell, text=f"{rest} {units[0].printed}"), replace(cell, text=f"{rest} {units[1].printed}")
    pair = _PAIR.fullmatch(text)
    return (cell, cell) if pair is None else (replace(cell, text=pair[1]), replace(cell, text=pair[2]))
