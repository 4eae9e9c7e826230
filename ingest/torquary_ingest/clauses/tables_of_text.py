"""Tables that alignment shows where lists of properties stand side by side, their values running over lines of text.

Their rows are lines of text and no records: what stands in their columns is read as paragraphs.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from torquary_ingest.clauses.markers import is_bullet
from torquary_ingest.document import Cell, Table
from torquary_ingest.document.lines import Line, lines_of
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.grid import distinct, lay_out, text_of
from torquary_ingest.headings.sense import make_sense
from torquary_schema.torque_kinds import tightening_words

_BAND_LINES = 2
"""Lines at most of a text between the rows of a table."""

_BULLETS = 2
"""Bullets of a list at least: one alone may be a dash for nothing."""

GOES_ON = (",", ";", "；", "、")
"""What a line of a longer text ends with."""


def is_text(table: Table) -> bool:
    """Tell whether a table without a drawn grid cuts clauses in lines, or heads columns with them."""
    if table.means != "aligned":
        return False
    clauses = [cell for cell in table.cells if _is_clause(cell)]
    stacked = any(cell.column == 1 and tightening_words(text_of(cell)) for cell in clauses)
    listed = any(_is_bulleted(cell.text.split("\n")) for cell in clauses)
    return stacked or listed or any(_is_cut(table, cell) or _heads(table, cell) for cell in clauses)


def _is_clause(cell: Cell) -> bool:
    """Tell whether a cell gives a torque among other words."""
    text = text_of(cell)
    return states_torque(text) and (not make_sense(text).figure or bool(tightening_words(text)))


def _is_bulleted(lines: Iterable[str]) -> bool:
    """Tell whether lines open with bullets: a list that stands beside a drawing."""
    first = [line.split()[0] for line in lines if line.split()]
    return sum(map(is_bullet, first)) >= _BULLETS


def _is_cut(table: Table, cell: Cell) -> bool:
    """Tell whether a clause goes on in the cell beneath, or goes on with the one above: a comma stands between."""
    above = (one for one in table.cells if one.column == cell.column and one.row + one.row_span == cell.row)
    return any(text_of(one).endswith(GOES_ON) for one in (cell, *above))


def _heads(table: Table, cell: Cell) -> bool:
    """Tell whether a clause stands among lines over all columns: more than a line between rows has."""
    row = distinct(lay_out(table).rows[cell.row - 1])
    return len(row) == 1 and len(cell.text.split("\n")) > _BAND_LINES


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """The lines of one column of text, top to bottom, and those of the names left of it, if it is one of values."""

    lines: tuple[Line, ...]
    names: tuple[Line, ...] = ()


def cut_strips(table: Table) -> tuple[Strip, ...]:
    """Return the columns of a table of text, from left to right, each with the names on its left.

    A list of bullets stands first: it goes on with the lines over the table, the labels of a drawing do not.
    """
    columns = [_lines_in(table, number) for number in range(1, table.columns + 1)]
    found: list[Strip] = []
    for left, lines in zip([(), *columns], columns, strict=False):
        named = left and not _holds_values(left) and not _is_bulleted(line.text for line in lines)
        if _holds_values(lines) and named:
            found[-1] = Strip(lines=lines, names=left)
        else:
            found.append(Strip(lines=lines))
    found.sort(key=lambda strip: not _is_bulleted(line.text for line in strip.lines))
    return tuple(strip for strip in found if strip.lines)


def _lines_in(table: Table, number: int) -> tuple[Line, ...]:
    return lines_of(table.page, (word for cell in table.cells if cell.column == number for word in cell.words))


def _holds_values(lines: Sequence[Line]) -> bool:
    """Tell whether lines give torques: a column of names gives none."""
    return any(states_torque(line.text) for line in lines)
