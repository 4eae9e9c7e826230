"""Tables with a row for each property of an article: parted into the lists of properties that they hold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from torquary_ingest.document import Table, TaughtHeading
from torquary_ingest.headings.grid import Grid, distinct, lay_out, text_of

_READ = ("property", "value", "unit")
_KEYS = ("model", "device", "series")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Columns:
    """Where a long table prints what: `keys` name the article, `read` the property, its value and its unit."""

    keys: tuple[int, ...]
    read: tuple[int, ...]


def part_long_table(table: Table, taught: tuple[TaughtHeading, ...] = ()) -> tuple[Table, ...]:
    """Return a list of properties for each article of a long table, its names as caption; any other table as it is.

    Cells keep their places; the lists are of the table's number.
    """
    grid = lay_out(table, taught)
    head = next((row for row, cells in enumerate(grid.rows) if distinct(cells)), None)
    columns = _columns_of(grid, head) if head is not None else None
    if head is None or columns is None:
        return (table,)
    rows = [row for row in range(head + 1, len(grid.rows)) if distinct(grid.rows[row])]
    parts = tuple(_list_of(grid, columns, run) for run in _runs(grid, columns, rows))
    return parts if len(parts) < len(rows) else (table,)


def _columns_of(grid: Grid, head: int) -> _Columns | None:
    """Return the columns of a long table: behind those of the article one is headed as property, the next as value."""
    senses = [grid.sense(cell) for cell in grid.rows[head]]
    named = [next((field for field in (*_READ, *_KEYS) if sense.has(field)), "") for sense in senses]
    keys = tuple(at for at, field in enumerate(named) if field in _KEYS)
    read = tuple(named.index(field) for field in _READ if named.count(field) == 1)
    in_order = len(read) >= 2 and read == tuple(range(read[0], read[-1] + 1))
    return _Columns(keys=keys, read=read) if keys and in_order and max(keys) < read[0] else None


def _runs(grid: Grid, columns: _Columns, rows: Sequence[int]) -> Iterator[list[int]]:
    """Yield the rows of each article, which follow one another."""
    for _, run in groupby(rows, lambda row: tuple(text_of(grid.rows[row][at]) for at in columns.keys)):
        yield list(run)


def _list_of(grid: Grid, columns: _Columns, rows: Sequence[int]) -> Table:
    names = dict.fromkeys(text_of(grid.rows[rows[0]][at]) for at in columns.keys)
    cells = [cell for row in rows for at in columns.read if (cell := grid.rows[row][at]) is not None]
    table = grid.table
    return replace(
        table,
        rows=max(cell.row for cell in cells),
        cells=tuple(cells),
        caption=(*table.caption, *_in_one(names)),
        means="list",
    )


def _in_one(names: dict[str, None]) -> Iterator[str]:
    """Yield the name of an article in one line, its number behind its name."""
    said = " ".join(name for name in reversed(names) if name)
    if said:
        yield said
