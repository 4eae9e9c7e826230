"""A table as a grid in which a spanning cell answers for every place it covers."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from torquary_ingest.document import Cell, Table, TaughtHeading
from torquary_ingest.headings.sense import Sense, make_sense
from torquary_ingest.headings.trailing_marks import part_marks
from torquary_ingest.lexis.prices import is_price
from torquary_schema.words import spot

LONGEST_UNIT = 10
"""Characters of what may stand in a column of units: "módulos" of a width, "mm²"."""
_FIRST_WORD = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Cells by place. `rows[r][c]` is the cell that covers row r, column c (from 0), or None.

    `first_row` is the table row (from 1) that `rows[0]` stands for; `across` is True when the grid was
    turned, so that the table's columns are this grid's rows.
    """

    table: Table
    rows: tuple[tuple[Cell | None, ...], ...]
    across: bool = False
    taught: tuple[TaughtHeading, ...] = ()

    def sense(self, cell: Cell | None) -> Sense:
        """Return what a cell says as a heading."""
        return make_sense(text_of(cell), self.taught)

    @property
    def width(self) -> int:
        """Number of columns."""
        return max((len(row) for row in self.rows), default=0)

    def column(self, index: int) -> tuple[Cell | None, ...]:
        """Return the cells of one column, top to bottom."""
        return tuple(row[index] if index < len(row) else None for row in self.rows)

    def texts(self, rows: Iterable[int], index: int) -> list[str]:
        """Return the texts of one column in the given rows, blank ones left out."""
        return [text for row in rows if (text := text_of(self.rows[row][index]))]

    def turned(self) -> Grid:
        """Return the grid with rows and columns exchanged."""
        turned = tuple(self.column(c) for c in range(self.width))
        return replace(self, rows=turned, across=not self.across)

    def part(self, start: int, end: int) -> Grid:
        """Return the rows from `start` up to, not including, `end`."""
        return replace(self, rows=self.rows[start:end])


def lay_out(table: Table, taught: tuple[TaughtHeading, ...] = ()) -> Grid:
    """Return the table's grid; a place covered by no cell is None."""
    places: list[list[Cell | None]] = [[None] * table.columns for _ in range(table.rows)]
    for cell in map(part_marks, table.cells):
        for r in range(cell.row - 1, min(cell.row - 1 + cell.row_span, table.rows)):
            for c in range(cell.column - 1, min(cell.column - 1 + cell.column_span, table.columns)):
                places[r][c] = cell
    return Grid(table=table, rows=tuple(tuple(row) for row in places), taught=taught)


def text_of(cell: Cell | None) -> str:
    """Return the cell's text on one line, hyphenated line ends joined; empty for None. A price under a name is left
    out."""
    if cell is None:
        return ""
    lines = cell.text.split("\n")
    return join_lines([lines[0], *(line for line in lines[1:] if not is_price(line))])


def join_lines(lines: Iterable[str]) -> str:
    """Join lines with blanks; a word hyphenated, or broken in a narrow cell, is put together again."""
    out = ""
    for line in (part.strip() for part in lines):
        if not line:
            continue
        if len(out) > 1 and out.endswith("-") and out[-2].isalpha() and line[0].islower():
            out = out[:-1] + line
        elif out and _is_broken_word(out, line):
            out += line
        else:
            out = f"{out} {line}" if out else line
    return out


@lru_cache(maxsize=5_000)
def _is_broken_word(above: str, line: str) -> bool:
    """Tell whether the last word of a line and the first of the next are one word of a heading: "Aanhaalmome", "nt"."""
    if not (above[-1].isalpha() and line[0].islower()):
        return False
    head, tail = above.split()[-1], _FIRST_WORD.match(line)
    if tail is None or _is_heading_word(head) or _is_heading_word(tail[0]):
        return False
    return _is_heading_word(head + tail[0])


def _is_heading_word(word: str) -> bool:
    return any(match.end - match.start == len(word) for match in spot("heading", word))


def distinct(cells: Iterable[Cell | None]) -> tuple[Cell, ...]:
    """Return the cells once each, in order, leaving out None and blank ones."""
    # By identity: two cells with the same print are two cells.
    return tuple({id(cell): cell for cell in cells if cell is not None and cell.text.strip()}.values())


def without_blank_columns(grid: Grid) -> Grid:
    """Drop columns in which no row has text: spacers say nothing and shift what is read by place."""
    keep = [c for c in range(grid.width) if any(text_of(cell) for cell in grid.column(c))]
    rows = tuple(tuple(row[c] if c < len(row) else None for c in keep) for row in grid.rows)
    return replace(grid, rows=rows)


def units_first(grid: Grid) -> Grid:
    """Return a turned grid with its row of units right under the properties: "Value" may stand before "Unit"."""
    for at, row in enumerate(grid.rows[1:], start=1):
        units = [grid.sense(cell) for cell in row]
        stated = (c for c, unit in enumerate(units) if unit.unit("torque"))
        if _is_row_of_units(units) and any(_states_unit(grid, at, c) for c in stated):
            # The word "Unit" heads this row, not the names under it.
            bare = tuple(None if unit.has("unit") else cell for unit, cell in zip(units, row, strict=True))
            rows = (grid.rows[0], bare, *grid.rows[1:at], *grid.rows[at + 1 :])
            return replace(grid, rows=rows)
    return grid


def _states_unit(grid: Grid, row: int, column: int) -> bool:
    """Tell whether a property above a unit names a torque."""
    above = (grid.sense(line[column]) for line in grid.rows[:row] if column < len(line))
    return any(sense.has("torque", "torque_min", "torque_max") for sense in above)


def _is_row_of_units(senses: list[Sense]) -> bool:
    """Tell whether a row is units, one of torque among them, under "Unit" or nothing."""
    units = [sense for sense in senses if not sense.has("unit")]
    if any(sense.figure or sense.fields or len(sense.text) > LONGEST_UNIT for sense in units):
        return False
    return any(sense.unit("torque") and not sense.rest for sense in units)
