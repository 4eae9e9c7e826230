"""The torques that the cells of a table mention, and what of them is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from torquary_ingest.checks.ledger.accounted import Accounted
from torquary_ingest.checks.ledger.mentions import (
    figures_beside_words,
    heads_by_unit,
    is_bare_figure,
    is_of_another_kind,
    names_torque,
    speaks_of_screws,
    stated_torques,
)
from torquary_ingest.document import Cell, Table
from torquary_ingest.headings.grid import Grid, lay_out, text_of
from torquary_ingest.headings.sense import make_sense


@dataclass(frozen=True, slots=True, kw_only=True)
class CellMention:
    """A torque's figure as printed in a cell; `other` tells that what mentions it is a torque no screw is set to."""

    cell: Cell
    printed: str
    other: bool = False


def mentions_in(table: Table, *, of_machines: bool = False) -> tuple[CellMention, ...]:
    """Return the torques that a table's cells mention: stated, beside a word, or under or behind a heading.

    `of_machines` tells that what was read there are torques no screw is set to: what does not speak of screws is one.
    """
    grid = lay_out(table)
    found: list[CellMention] = []
    for r, row in enumerate(grid.rows):
        for c, cell in enumerate(row):
            if cell is None:
                continue
            printed = [*_stated(text_of(cell))]
            if not printed and is_bare_figure(text_of(cell)) and _is_headed(grid, r, c):
                printed = [text_of(cell)]
            if printed:
                about = " ".join((text_of(cell), *_headings_of(grid, r, c)))
                other = is_of_another_kind(about) or (of_machines and not speaks_of_screws(about))
                found += (CellMention(cell=cell, printed=one, other=other) for one in printed)
    return tuple(dict.fromkeys(found))


def left_of(table: Table, mentions: Iterable[CellMention], accounted: Accounted) -> tuple[CellMention, ...]:
    """Return the mentions that no reading of their cells accounts for."""
    return tuple(each for each in mentions if not accounted.holds_cell(table, each.cell, each.printed))


def _stated(text: str) -> Iterator[str]:
    yield from (torque.printed for torque in stated_torques(text))
    yield from figures_beside_words(text)


def _is_headed(grid: Grid, r: int, c: int) -> bool:
    """Tell whether what heads a bare figure, above it or else left of it, makes it a torque."""
    column, row = _around(grid, r, c)
    own = [cell for cell in column if cell is None or cell.column_span == 1]  # a band over all speaks for few of them
    return _heads_torque(_first_that_speaks(own) or _first_that_speaks(column) or _first_that_speaks(row))


def _headings_of(grid: Grid, r: int, c: int) -> Iterator[str]:
    """Yield the texts above and left of a cell that are no figures."""
    for cells in _around(grid, r, c):
        texts = dict.fromkeys(map(text_of, cells))
        yield from (text for text in texts if text and not make_sense(text).figure)


def _around(grid: Grid, r: int, c: int) -> tuple[list[Cell | None], list[Cell | None]]:
    """Return the cells above a place and those left of it, nearest first."""
    return [grid.rows[up][c] for up in range(r - 1, -1, -1)], [grid.rows[r][to] for to in range(c - 1, -1, -1)]


def _first_that_speaks(cells: Iterable[Cell | None]) -> str:
    """Return the nearest text that says as a heading what its figures are: a quantity or a unit."""
    for text in map(text_of, cells):
        sense = make_sense(text)
        if text and not sense.figure and (sense.fields or sense.units):
            return text
    return ""


def _heads_torque(text: str) -> bool:
    sense = make_sense(text)
    other = [unit for unit in sense.units if unit.kind not in ("torque", "force")]
    return bool(text) and (heads_by_unit(text) or (names_torque(text) and not other)) and not stated_torques(text)
