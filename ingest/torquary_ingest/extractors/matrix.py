"""Tables whose every figure is a torque: sizes or terminals across and down, the torque named above."""

from __future__ import annotations

from dataclasses import replace

from torquary_ingest.extractors.layout import Layout, make_layouts
from torquary_ingest.headings.columns import Column
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.headings.sections import Section, band_cell
from torquary_ingest.headings.sense import make_sense
from torquary_schema.words import spot


def matrix_layouts(grid: Grid, context: tuple[str, ...]) -> tuple[Layout, ...]:
    """Return the layout of a matrix of torques, or nothing when no line above names a torque.

    The first row names what stands across (terminals, sizes, blade or thread columns), the first column
    what stands down.
    """
    bands = [text_of(cell) for row in range(len(grid.rows)) if (cell := band_cell(grid, row)) is not None]
    lines = (*context, *bands)
    if not any(_names_torque(line) for line in lines) or grid.width < 2:
        return ()
    rows = [row for row in range(len(grid.rows)) if band_cell(grid, row) is None]
    heading = _heading_rows(grid, rows)
    body = tuple(rows[len(heading) :])
    if not heading or not body:
        return ()
    section = Section(headings=tuple(heading), body=body, bands=())
    layouts = make_layouts(grid, section, lines)
    return tuple(
        replace(layout, columns=tuple(_as_torque(grid, body, c) for c in layout.columns)) for layout in layouts
    )


def _names_torque(line: str) -> bool:
    return make_sense(line).has("torque", "torque_min", "torque_max") and not spot("false_friend", line)


def _heading_rows(grid: Grid, rows: list[int]) -> list[int]:
    """Return the rows above the first one whose cells right of the first column are plain figures."""
    for count, row in enumerate(rows):
        cells = [grid.sense(cell) for cell in grid.rows[row][1:] if text_of(cell)]
        if cells and all(sense.figure and not sense.unit("area", "gauge") for sense in cells):
            return rows[:count]
    return []


def _as_torque(grid: Grid, body: tuple[int, ...], column: Column) -> Column:
    """Take a column for torques when its cells are figures and its heading names no other quantity."""
    texts = [
        text for row in body if column.index < len(grid.rows[row]) and (text := text_of(grid.rows[row][column.index]))
    ]
    plain = bool(texts) and all(make_sense(text).figure for text in texts)
    if column.index > 0 and plain and column.field in ("unknown", "blank", "terminal", "name", "conductor", "thread"):
        return replace(column, field="torque", unit="")
    return column
