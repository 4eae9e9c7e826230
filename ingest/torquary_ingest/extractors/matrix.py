"""Tables whose every figure is a torque: sizes or terminals across and down, the torque named above."""

from __future__ import annotations

from dataclasses import replace

from torquary_ingest.extractors.layout import Layout, make_layouts
from torquary_ingest.figures.kinds import says_none
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.columns import is_size, side_of
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.sections import Section, band_cell
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.scope.over import speak_over, texts_of
from torquary_schema.values import ScopeText

# Headings that name no quantity of their own: a size, a name, or nothing that is known.
_HEADS_TORQUES = ("unknown", "blank", "name")


def matrix_layouts(grid: Grid, over: tuple[ScopeText, ...]) -> tuple[Layout, ...]:
    """Return the layout of a matrix of torques, or nothing when no line above names a torque.

    The first row names what stands across (terminals, sizes, blade or thread columns), the first column
    what stands down.
    """
    bands = [text_of(cell) for row in range(len(grid.rows)) if (cell := band_cell(grid, row)) is not None]
    corner = [text_of(row[0]) for row in grid.rows[:1] if text_of(row[0])]
    page = grid.table.page
    named = speak_over([text for text in corner if _names_torque(text)], "heading", page)
    scope = (*named, *speak_over(bands, "section_row", page), *over)
    if not any(map(_names_torque, texts_of(scope))) or grid.width < 2:
        return ()
    rows = [row for row in range(len(grid.rows)) if band_cell(grid, row) is None]
    heading = _heading_rows(grid, rows)
    body = tuple(rows[len(heading) :])
    if not heading or not body:
        return ()
    section = Section(headings=tuple(heading), body=body, bands=())
    layouts = make_layouts(grid, section, scope)
    if not all(_is_matrix(grid, body, column) for layout in layouts for column in layout.columns):
        return ()
    return tuple(
        replace(layout, columns=tuple(_as_torque(grid, section, c) for c in layout.columns)) for layout in layouts
    )


def _names_torque(line: str) -> bool:
    sense = make_sense(line)
    return sense.has("torque", "torque_min", "torque_max") and not sense.false_friend


def _heading_rows(grid: Grid, rows: list[int]) -> list[int]:
    """Return the rows above the first one whose cells right of the first column are plain figures.

    Names across may be numbers in part ("11", "A1"): in the first row alone, and beside no size. Elsewhere, a name
    beside figures stands in a row of another kind of table.
    """
    for count, row in enumerate(rows):
        cells = [grid.sense(c) for c in grid.rows[row][1:] if text_of(c) and not says_none(text_of(c))]
        plain = [sense.figure and not sense.unit("area", "gauge") for sense in cells]
        if cells and all(plain):
            return rows[:count]
        if any(plain) and (count or grid.sense(grid.rows[row][0]).figure):
            break
    return []


def _is_matrix(grid: Grid, body: tuple[int, ...], column: Column) -> bool:
    """Tell whether a column may be part of a matrix: one column of another quantity, and it is none.

    A column of names with a few numbers among them ("13", "utgang") holds terminals, no torques.
    """
    if column.index == 0 or not _has_figures(grid, body, column):
        return True
    return column.field in _HEADS_TORQUES and not _has_names(grid, body, column)


def _has_figures(grid: Grid, body: tuple[int, ...], column: Column) -> bool:
    return any(grid.sense(grid.rows[row][column.index]).figure for row in body)


def _has_names(grid: Grid, body: tuple[int, ...], column: Column) -> bool:
    cells = [grid.rows[row][column.index] for row in body]
    return any(not grid.sense(cell).figure and any(c.isalpha() for c in text_of(cell)) for cell in cells)


def _as_torque(grid: Grid, section: Section, column: Column) -> Column:
    """Take a column of figures for torques; a size that heads it goes with each of them."""
    if column.index == 0 or column.field not in _HEADS_TORQUES or not _has_figures(grid, section.body, column):
        return column
    heads = distinct(grid.rows[row][column.index] for row in section.headings)
    size = next((cell for cell in heads if is_size(grid.sense(cell))), None)
    senses = [grid.sense(cell) for cell in heads]
    kept = tuple(cell for cell in column.qualifier_cells if cell is not size)
    qualifier = column.qualifier if kept else ""
    field = f"torque{side_of(senses)}"
    return replace(column, field=field, unit="", size=size, qualifier_cells=kept, qualifier=qualifier)
