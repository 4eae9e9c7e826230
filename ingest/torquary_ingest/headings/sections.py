"""Cut a grid into sections: heading rows, the band rows that speak for what follows, and body rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.designations import find_types, is_name_part
from torquary_ingest.headings.grid import Grid, distinct, text_of
from torquary_ingest.headings.sense import Sense
from torquary_ingest.headings.units_stated import stated_unit
from torquary_schema.roles import is_terminal, spot_roles
from torquary_schema.vocabulary import roles_of_markings
from torquary_schema.words import spot

_DEEPEST_HEADING = 5
_QUANTITIES = ("torque", "conductor", "strip")
SIZE_NAME = 4
"""Letters that the name of a device's size has at most: "0S", "10", "S00"."""
_LONE_PART = 8
"""Letters of a part of a device's name behind the first column up to which it need be no type: "100-SA"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A row that is one text across the table. It speaks for the body rows that follow it."""

    row: int
    cell: Cell


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Heading rows (perhaps none) and the body rows under them; row numbers are those of the grid, from 0.

    `bands` are in order; those with a row number below the first body row stand above all of the body.
    """

    headings: tuple[int, ...]
    body: tuple[int, ...]
    bands: tuple[Band, ...]


def band_cell(grid: Grid, row: int) -> Cell | None:
    """Return the only text of a row that spans the grid or stands alone in its first column."""
    cells = distinct(grid.rows[row])
    if 1 < len(cells) < grid.width and _is_cut_name(grid, row, cells):
        return replace(cells[0], text=" ".join(text_of(cell) for cell in cells), column_span=grid.width)
    if len(cells) != 1 or grid.width < 2:
        return None
    cell = cells[0]
    covered = sum(1 for other in grid.rows[row] if other is cell)
    alone = grid.rows[row][0] is cell and _runs_over(grid, row) == 1 and not _is_terminal_alone(grid, row)
    alone = alone and not (grid.across and row > 0)  # a type without figures, in a list of properties
    return cell if covered == grid.width or (alone and covered >= 1) else None


def _is_cut_name(grid: Grid, row: int, cells: tuple[Cell, ...]) -> bool:
    """Tell whether a row is the name of a device that the columns cut: its parts from the left on, then blanks."""
    line = grid.rows[row]
    filled = [index for index, cell in enumerate(line) if text_of(cell)]
    if filled != list(range(len(filled))) or len(filled) == grid.width or any(c.row_span > 1 for c in cells):
        return False
    senses = [grid.sense(cell) for cell in cells]
    named = bool(spot("family", cells[0].text)) and not any(s.fields or s.units for s in senses)
    rest = " ".join(text_of(cell) for cell in cells[1:])
    short = len(text_of(cells[1])) <= _LONE_PART or bool(find_types(rest))
    return named and short and is_name_part(rest) and not spot_roles(rest)


def _is_terminal_alone(grid: Grid, row: int) -> bool:
    """Tell whether a terminal without figures is a row of its own: a marking ("L2") with more labels under it.

    So is one between rows without a label, where other rows have theirs: it may be set in the middle of its rows.
    In a file's last row a word for a terminal is one too: a page's last line may speak for rows overleaf.
    """
    text = text_of(grid.rows[row][0])
    below = next((cells[0] for cells in grid.rows[row + 1 :] if distinct(cells)), None)
    if below is None:
        return is_terminal(text) if grid.table.means == "given" else bool(roles_of_markings(text))
    if not roles_of_markings(text):
        return False
    labelled = (cells[0] for cells in grid.rows[row + 1 :] if len(distinct(cells)) > 1)
    labels = [below] if text_of(below) else [label for label in labelled if text_of(label)]
    # "Cross-section", "Tightening torque" are properties of what the marking names: it stands over them.
    return any(
        text_of(label) and not grid.sense(label).figure and not _is_property(grid.sense(label)) for label in labels
    )


def _is_property(sense: Sense) -> bool:
    return sense.has("torque", "torque_min", "torque_max") or bool(sense.has("conductor") and sense.units)


def _parted_band(grid: Grid, row: int, body: Sequence[int]) -> Cell | None:
    """Return as one text a row of words that ends with a unit of torque, under figures or behind all columns.

    "Busbar bolts", and at the other end of the row "torque in lb·ft": the unit is that of the rows that follow.
    """
    cells = distinct(grid.rows[row])
    if not body or not 1 < len(cells) < grid.width or any(grid.sense(cell).figure for cell in cells):
        return None
    stating = [cell for cell in cells if stated_unit(cell.text, "torque")]
    column = next(index for index, cell in enumerate(grid.rows[row]) if cell is cells[-1])
    figures = grid.sense(grid.rows[body[-1]][column]).figure
    # Set at the edge of the page, it may stand in a column of its own.
    if stating != [cells[-1]] or not (figures or len(grid.texts(range(len(grid.rows)), column)) == 1):
        return None
    return replace(cells[0], text=" ".join(text_of(cell) for cell in cells), column_span=grid.width)


def _runs_over(grid: Grid, row: int) -> int:
    """Count the rows that the first cell of this row covers: a label spanning several is no band."""
    first = grid.rows[row][0]
    return sum(1 for other in grid.rows if other[0] is first) if first is not None else 0


def is_heading_row(grid: Grid, row: int) -> bool:
    """Tell whether a row names columns: a known heading or a bare unit, and nothing that is a figure."""
    senses = [grid.sense(cell) for cell in distinct(grid.rows[row])]
    if not senses or any(sense.figure or states_torque(sense.text) for sense in senses):
        return False
    return any(_names_column(sense) for sense in senses)


def _names_column(sense: Sense) -> bool:
    if sense.has("property", "value") or (sense.fields and not _long(sense)):
        return True
    return bool(sense.units or sense.minimum or sense.maximum) and not sense.rest


def _long(sense: Sense) -> bool:
    """A sentence that happens to hold a heading word is no heading."""
    return len(sense.text) > 90


def _heads_figures(grid: Grid, row: int) -> bool:
    """Tell whether a row may go on a heading block: no figures but sizes that head columns of a matrix."""
    senses = [grid.sense(cell) for cell in distinct(grid.rows[row])]
    return bool(senses) and not any(sense.figure and not sense.unit("area", "gauge") for sense in senses)


def cut_sections(grid: Grid) -> tuple[Section, ...]:
    """Return the grid's sections, top to bottom; every row is in exactly one of headings, body, bands."""
    sections: list[Section] = []
    headings: list[int] = []
    body: list[int] = []
    bands: list[Band] = []
    for row in range(len(grid.rows)):
        band = band_cell(grid, row)
        if band is not None and not (headings and not body and _heads_unit(grid, band, headings)):
            bands.append(Band(row=row, cell=band))
            continue
        if not distinct(grid.rows[row]):
            continue
        band = _parted_band(grid, row, body)
        if band is not None:
            bands.append(Band(row=row, cell=band))
        elif _opens_heading(grid, row, headings, body):
            if not headings and (_only_names(grid, body) or _reaches_into(grid, body, row)):
                headings, body = body, []
            if body:
                sections.append(Section(headings=tuple(headings), body=tuple(body), bands=tuple(bands)))
                headings, body, bands = [], [], [b for b in bands if b.row > body[-1]]
            headings.append(row)
        else:
            body.append(row)
    if headings or body or bands:
        sections.append(Section(headings=tuple(headings), body=tuple(body), bands=tuple(bands)))
    return tuple(sections)


def _only_names(grid: Grid, rows: list[int]) -> bool:
    """One or two rows of words above the first known heading row name groups of columns."""
    senses = [grid.sense(cell) for row in rows for cell in distinct(grid.rows[row])]
    return 0 < len(rows) <= 2 and not any(sense.figure for sense in senses)


def _reaches_into(grid: Grid, rows: list[int], heading: int) -> bool:
    """Tell whether one row stands above a heading row, and a cell of it reaches down into that one.

    What stands beside that cell names groups of columns, markings too ("95-96, 97-98"), but no size and no torque.
    """
    if len(rows) != 1 or rows[0] + 1 != heading:
        return False
    above, below = grid.rows[rows[0]], grid.rows[heading]
    reaching = [cell for cell, other in zip(above, below, strict=False) if cell is not None and cell is other]
    senses = [grid.sense(cell) for cell in distinct(above)]
    return any(map(text_of, reaching)) and not any(sense.figure and sense.units for sense in senses)


def _heads_unit(grid: Grid, cell: Cell, headings: list[int]) -> bool:
    """Tell whether a unit alone in its row belongs to the heading of the first column, which names its quantity.

    Across the table, or under a heading of names, it speaks for the rows that follow.
    """
    sense = grid.sense(cell)
    if not sense.units or sense.rest or sense.figure or cell.column_span >= grid.width:
        return False
    above = [grid.sense(grid.rows[row][0]) for row in headings]
    return any(s.has("torque", "torque_min", "torque_max", "conductor") or s.units for s in above)


def _opens_heading(grid: Grid, row: int, headings: list[int], body: list[int]) -> bool:
    if headings and not body and len(headings) < _DEEPEST_HEADING and _shares_cell(grid, row, headings[-1]):
        return True
    if not is_heading_row(grid, row):
        return bool(headings) and not body and _names_group(grid, row, headings)
    if not body:
        return len(headings) < _DEEPEST_HEADING
    if headings and _begins_alike(grid, row, headings):
        return True
    cells = distinct(grid.rows[row])
    senses = [grid.sense(cell) for cell in cells]
    filled = sum(cell is not None and bool(text_of(cell)) for cell in grid.rows[row])
    quantity = any(s.units or any(f.split("_")[0] in _QUANTITIES for f in s.fields) for s in senses)
    # Below the body a single known word ("Type") may be a label; two make a new heading, unless they are labels of
    # two lists side by side with nothing but blanks between.
    return sum(map(_names_column, senses)) >= 2 and (quantity or 2 * filled > grid.width)


def _begins_alike(grid: Grid, row: int, headings: list[int]) -> bool:
    """Tell whether a row begins with the heading that the rows above stand under: another list of the kind follows."""
    first = text_of(grid.rows[row][0])
    return bool(first) and any(first == text_of(grid.rows[heading][0]) for heading in headings)


def _shares_cell(grid: Grid, row: int, above: int) -> bool:
    """A heading cell that spans down makes the next row part of the heading, unless it holds figures.

    Sizes of devices are none: "0S", "3", "4" under "Sizes" over all of them.
    """
    beside = list(zip(grid.rows[row], grid.rows[above], strict=False))
    shared = any(cell is not None and cell is other and text_of(cell) for cell, other in beside)
    return shared and (_heads_figures(grid, row) or _counts_sizes(grid, beside))


def _counts_sizes(grid: Grid, beside: Sequence[tuple[Cell | None, Cell | None]]) -> bool:
    """Tell whether the texts that are new in a row are short names, all different, under one heading of no quantity."""
    new = [(cell, other) for cell, other in beside if cell is not other and text_of(cell)]
    over = {id(other): other for _, other in new}
    head = next(iter(over.values())) if len(over) == 1 else None
    if head is None or head.column_span < 2 or not text_of(head):
        return False
    sense = grid.sense(head)
    limits = sense.minimum or sense.maximum
    quantity = sense.units or limits or any(f.split("_")[0] in _QUANTITIES for f in sense.fields)
    names = [text_of(cell) for cell, _ in new]
    short = all(len(name) <= SIZE_NAME and name.isalnum() for name in names)
    return not quantity and short and len(set(names)) == len(names) > 1


def _names_group(grid: Grid, row: int, headings: list[int]) -> bool:
    """A row without known words under a heading that does not yet name a torque may name its groups."""
    words = [grid.sense(cell) for cell in distinct(grid.rows[row])]
    known = [grid.sense(cell) for above in headings for cell in distinct(grid.rows[above])]
    spanning = any(
        cell is not None and cell is other
        for above in headings
        for cell, other in zip(grid.rows[above], grid.rows[above][1:], strict=False)
    )
    return spanning and any(s.has("torque") for s in known) and not any(s.figure for s in words) and len(words) > 1
