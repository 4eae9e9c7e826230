"""Tables that a line across parts: "Control terminals" between rules, under which the columns go on.

So are headings in a frame of their own, and the rows under them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from statistics import median

from torquary_ingest.document import Cell, Table, Word
from torquary_ingest.tables.filling import make_cell
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line, make_lines
from torquary_ingest.tables.spread import spread_centred
from torquary_schema.values import Box

_EDGE = 3.0
"""Points by which the columns of the two parts may differ in their middles and ends (own choice)."""

_GAP = 5.0
"""Sizes of type between the two parts at most: one line and the blanks about it (own choice)."""

_HEADS = 4
"""Rows of headings in a frame of their own at most (own choice)."""


def join_parted(tables: Sequence[Table], words: Sequence[Word]) -> list[Table]:
    """Return the tables of a page, those of one set of columns with one line between them as one.

    The line is a row across all columns.
    """
    joined: list[Table] = []
    for table in sorted(tables, key=lambda one: _printed(one).top):
        for at, above in enumerate(joined):
            line = _line_between(above, table, words)
            if line is not None or _goes_on(above, table):
                joined[at] = spread_centred(_join(above, line, table))
                break
        else:
            joined.append(table)
    return joined


def _line_between(above: Table, table: Table, words: Sequence[Word]) -> Line | None:
    """Return the only line between two parts of one table, None if they are none."""
    upper, lower = _printed(above), _printed(table)
    if above.means != table.means or not _are_of_one(above, table):
        return None
    between = [w for w in words if upper.bottom - 1 < w.box.middle[1] < lower.top + 1]
    lines = make_lines([w for w in between if upper.x0 - _EDGE < w.box.middle[0] < upper.x1 + _EDGE])
    if len(lines) != 1 or len(lines[0].chunks) != 1 or lines[0].box.x0 > upper.x0 + 2 * lines[0].size:
        return None
    return lines[0] if 0 <= lower.top - upper.bottom <= _GAP * lines[0].size else None


def _goes_on(above: Table, table: Table) -> bool:
    """Tell whether a part begins right under another, with a line across of its own."""
    upper, lower = _printed(above), _printed(table)
    first = [cell for cell in table.cells if cell.row == 1 and cell.words]
    if len(first) != 1 or first[0].column > 1 or above.means != table.means:
        return False
    return 0 <= lower.top - upper.bottom <= _GAP * first[0].words[0].size and _are_of_one(above, table)


def _printed(table: Table) -> Box:
    """Return the rectangle of a table's words: rules may reach further."""
    return Box.around([word.box for cell in table.cells for word in cell.words])


def _are_of_one(above: Table, table: Table) -> bool:
    """Tell whether the columns of two parts stand one under the other, or headings alone over rows of figures."""
    if above.columns == table.columns and _are_headings(above):
        return _stand_over(above, table)
    middles = _middles(above), _middles(table)
    shared = middles[0].keys() & middles[1].keys()
    alike = all(abs(middles[0][column] - middles[1][column]) <= _EDGE for column in shared)
    return above.columns == table.columns and len(shared) > 1 and len(shared) >= table.columns - 2 and alike


def _are_headings(table: Table) -> bool:
    return table.rows <= _HEADS and not any(is_figure(cell.text) for cell in table.cells if cell.text.strip())


def _stand_over(heads: Table, rows: Table) -> bool:
    """Tell whether each column has headings that stand over its texts and over no other's."""
    reaches = {column: _reach(rows, column) for column in range(1, rows.columns + 1)}
    told = [cell for cell in heads.cells if cell.words]
    over = [{at for at, (left, right) in reaches.items() if _meets(cell, left, right)} for cell in told]
    headed = {cell.column for cell in told}
    return headed == reaches.keys() and all(found == {one.column} for one, found in zip(told, over, strict=True))


def _reach(table: Table, column: int) -> tuple[float, float]:
    boxes = [w.box for cell in table.cells if (cell.column, cell.column_span) == (column, 1) for w in cell.words]
    return min((box.x0 for box in boxes), default=0.0), max((box.x1 for box in boxes), default=0.0)


def _meets(cell: Cell, left: float, right: float) -> bool:
    return cell.words[0].box.x0 < right and left < cell.words[-1].box.x1


def _middles(table: Table) -> dict[int, float]:
    found: dict[int, list[float]] = {}
    for cell in table.cells:
        if cell.words and cell.column > 1 and cell.column_span == 1:
            middle = (cell.words[0].box.x0 + cell.words[-1].box.x1) / 2
            found.setdefault(cell.column, []).append(middle)
    return {column: median(middles) for column, middles in found.items()}


def _join(above: Table, line: Line | None, table: Table) -> Table:
    """Return one table of both parts, the line between them as a row across all columns."""
    box = Box.around([one for one in (above.box, table.box) if one is not None])
    if line is None:
        return replace(above, rows=above.rows + table.rows, cells=(*above.cells, *_moved(table, above.rows)), box=box)
    row = above.rows + 1
    across = make_cell(line.words, row=row, column=1, row_span=1, column_span=above.columns, box=line.box)
    return replace(above, rows=row + table.rows, cells=(*above.cells, across, *_moved(table, row)), box=box)


def _moved(table: Table, rows: int) -> Iterator[Cell]:
    yield from (replace(cell, row=cell.row + rows) for cell in table.cells)
