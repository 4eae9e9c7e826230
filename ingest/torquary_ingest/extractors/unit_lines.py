"""A unit alone on the last line of a cell that no frame bounds: of this figure, or of those beneath."""

from __future__ import annotations

from collections.abc import Iterator

from torquary_ingest.document import Doubt
from torquary_ingest.extractors.layout import Layout
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.sense import make_sense


def unit_line_doubts(layout: Layout, row: int) -> Iterator[Doubt]:
    """Yield a doubt for each column of torques in which, up to this row, such a unit is another than the heading's."""
    if layout.grid.table.means != "aligned":
        return
    for column in layout.torque_columns:
        for upper in layout.section.body:
            unit = _unit_line(layout, upper, column) if upper <= row else ""
            if unit and _names(column.unit) and not _names(unit) & _names(column.unit):
                message = f"{unit!r} stands on a line of its own beneath a figure in {column.unit}, "
                yield Doubt(
                    code="unit_doubtful", message=message + "and may be the unit of the rows beneath; look at the sheet"
                )
                break


def _names(unit: str) -> set[str]:
    return {match.name for match in make_sense(unit).units}


def _unit_line(layout: Layout, row: int, column: Column) -> str:
    """Return the unit that is all of a torque cell's last line under a figure; "" without one."""
    places = layout.grid.rows[row]
    cell = places[column.index] if column.index < len(places) else None
    lines = cell.text.strip().splitlines() if cell is not None else []
    if len(lines) < 2 or not any(c.isdigit() for c in lines[0]):
        return ""
    sense = make_sense(lines[-1])
    return lines[-1].strip() if sense.unit("torque") and not sense.rest and not sense.figure else ""
