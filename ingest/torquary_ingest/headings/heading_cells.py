"""The heading cells that speak for a column, those of a lost span among them."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Cell
from torquary_ingest.headings.designations import find_types, is_name_part
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_ingest.lexis.figures import has_figure
from torquary_schema.words import spot


def heading_cells(grid: Grid, section: Section, index: int) -> tuple[Cell, ...]:
    """Return a column's heading cells, top to bottom.

    Where a span is lost (a flattened table, a group name printed at its left end), "Torque" stands over
    "min." alone and the "max." beside it has nothing above: it belongs to the group of its neighbour.
    """
    cells = _own(grid, section, index)
    at = index
    while _needs_group(grid, section, at) and at > 0:
        at -= 1
    if at == index or not cells or not _heads_part(grid, section, at):
        return cells
    return (*(c for c in _own(grid, section, at) if not _is_part(grid, c)), *cells)


def is_prose(grid: Grid, cell: Cell) -> bool:
    """A running line over several columns, taken into the heading because it stands close, names no column.

    Of two such texts side by side each names its group of columns ("with 1 washer", "with 2 washers").
    """
    text = text_of(cell)
    if cell.column_span < 2 or len(text) <= 25:
        return False
    row = next((line for line in grid.rows if cell in line), ())
    beside = any(other.column_span > 1 and text_of(other) for other in distinct(row) if other is not cell)
    return len(text) > 60 or (has_figure(text) and not beside)


def device_under(cell: Cell) -> str:
    """Return the last line of a heading's text when it names a device and no column: a band row taken into it."""
    above, _, line = cell.text.strip().rpartition("\n")
    families = spot("family", line) if above else ()
    # With its type a device is named, although "circuit" of "circuit breaker" heads terminals by itself.
    rest = cut_out(line, [(m.start, m.end) for m in families]) if find_types(line) else line
    return line.strip() if families and not make_sense(rest).fields else ""


def device_line(columns: Sequence[tuple[Cell, ...]]) -> str:
    """Return the name of a device under the first column's heading, with what columns cut off it; "" if none."""
    if not columns or not columns[0] or not (name := device_under(columns[0][-1])):
        return ""
    for cells in columns[1:]:
        above, _, part = cells[-1].text.strip().rpartition("\n") if cells else ("", "", "")
        if not above or not is_name_part(part):
            break
        name = f"{name} {part.strip()}"
    return name


def _own(grid: Grid, section: Section, index: int) -> tuple[Cell, ...]:
    return tuple(c for c in distinct(grid.rows[row][index] for row in section.headings) if not is_prose(grid, c))


def _is_part(grid: Grid, cell: Cell) -> bool:
    """Tell whether a heading cell says no more than a limit or a unit of torque: it needs a group to mean something."""
    sense = grid.sense(cell)
    units = {unit.kind for unit in sense.units}
    said = sense.minimum or sense.maximum or bool(units)
    return said and not sense.rest and not sense.fields and not sense.figure and units <= {"torque"}


def _needs_group(grid: Grid, section: Section, index: int) -> bool:
    """Tell whether a column is headed by parts of a group alone, with nothing over them."""
    cells = _own(grid, section, index)
    top = grid.rows[section.headings[0]][index] if section.headings else None
    return bool(cells) and all(_is_part(grid, cell) for cell in cells) and not text_of(top)


def _heads_part(grid: Grid, section: Section, index: int) -> bool:
    """Tell whether a column has a group's name over a part of it: what stands beside the part may share the name."""
    cells = _own(grid, section, index)
    return len(cells) > 1 and cells[0].column_span == 1 and _is_part(grid, cells[-1]) and not _is_part(grid, cells[0])
