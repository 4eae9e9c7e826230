"""A column of tolerances beside one of torques: each is part of the figure in its row."""

from __future__ import annotations

import re
from dataclasses import replace

from torquary_ingest.document import Cell, Doubt
from torquary_ingest.headings.grid import Grid, text_of
from torquary_schema.units import find_units

_BARE = re.compile(r"(?:±|\+\s?/\s?[-–−])\s*\d+(?:[.,]\d+)?\s*%?")
_TORQUES = ("torque", "torque_min", "torque_max")


def join_tolerances(grid: Grid) -> Grid:
    """Return the grid with each column of bare tolerances ("± 10 %") joined to the columns of torques before it.

    Where it is not certain which figures a tolerance is of, or in which unit, those figures are in doubt.
    """
    for column in range(1, grid.width):
        torques = _torques_before(grid, column)
        if torques:
            return join_tolerances(_join(grid, torques, column))
    return grid


def _texts(grid: Grid, column: int) -> list[str]:
    return [text_of(cell) for cell in grid.column(column)]


def _first_tolerance(grid: Grid, column: int) -> int:
    """Return the first row of a column that has words, then tolerances alone; 0 for any other column."""
    texts = _texts(grid, column)
    found = [bool(_BARE.fullmatch(text)) for text in texts]
    first = found.index(True) if any(found) else 0
    headed = any(texts[:first]) and not any(grid.sense(row[column]).figure for row in grid.rows[:first])
    return first if headed and all(b or not t for b, t in zip(found[first:], texts[first:], strict=True)) else 0


def _torques_before(grid: Grid, column: int) -> tuple[int, ...]:
    """Return the columns side by side that torques head, the nearest ones before a column of tolerances."""
    above = grid.rows[: _first_tolerance(grid, column)]
    heads = [any(grid.sense(row[before]).has(*_TORQUES) for row in above) for before in range(column)]
    last = column - 1 - heads[::-1].index(True) if any(heads) else -1
    first = next((at + 1 for at in range(last, -1, -1) if not heads[at]), 0)
    return tuple(range(first, last + 1))


def _is_sure(grid: Grid, torques: tuple[int, ...], column: int) -> bool:
    """Tell whether the tolerances are shares, or in the unit of the one column of torques beside them."""
    if column - torques[-1] > 1:
        return False
    own = _units(grid, column)
    return _are_shares(grid, column) or (len(torques) == 1 and (not own or own == _units(grid, torques[0])))


def _are_shares(grid: Grid, column: int) -> bool:
    texts = [text for text in _texts(grid, column) if text]
    return any("%" in text for text in texts if not _BARE.fullmatch(text)) or all("%" in text for text in texts[1:])


def _units(grid: Grid, column: int) -> set[str]:
    return {unit.name for text in _texts(grid, column) for unit in find_units(text) if unit.kind == "torque"}


def _join(grid: Grid, torques: tuple[int, ...], column: int) -> Grid:
    sure, shares = _is_sure(grid, torques, column), _are_shares(grid, column)
    rows = []
    for row in grid.rows:
        tolerance = row[column] if column < len(row) else None
        width = text_of(tolerance)
        joined = list(row)
        for at in torques if tolerance is not None and _BARE.fullmatch(width) else ():
            figure = row[at]
            if figure is not None and tolerance is not None and text_of(figure):
                sign = " %" if shares and "%" not in width else ""
                joined[at] = _grown(figure, tolerance, width + sign) if sure else _doubted(figure, width)
        rows.append(tuple(joined[:column] + joined[column + 1 :]))
    return replace(grid, rows=tuple(rows))


def _grown(figure: Cell, tolerance: Cell, width: str) -> Cell:
    box = figure.box.union(tolerance.box) if figure.box is not None and tolerance.box is not None else figure.box
    return replace(
        figure,
        text=f"{figure.text} {width}",
        box=box,
        marks=(*figure.marks, *tolerance.marks),
        doubts=(*figure.doubts, *tolerance.doubts),
        words=(*figure.words, *tolerance.words),
    )


def _doubted(figure: Cell, width: str) -> Cell:
    message = f"the row gives a tolerance, {width!r}, in a column of its own; say what the limits of the figure are"
    return replace(figure, doubts=(*figure.doubts, Doubt(code="condition_unread", message=message)))
