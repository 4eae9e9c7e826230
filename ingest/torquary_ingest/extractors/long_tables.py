"""Tables with a row for each property of an article: parted into the lists of properties that they hold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from torquary_ingest.document import Cell, Entry, Reading, Table, TaughtHeading
from torquary_ingest.headings.grid import LONGEST_UNIT, Grid, distinct, lay_out, text_of
from torquary_schema.units import find_units

_READ = ("property", "value", "unit")
_KEYS = ("model", "device", "series")
"""Characters of what may stand in a column of units: "módulos" of a width, "mm²"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Columns:
    """Where a long table prints what.

    `article` name the article, `parts` the part of it that a property is of ("Upper terminals"), `read` the
    property, its value and its unit.
    """

    article: tuple[int, ...]
    parts: tuple[int, ...]
    read: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A table as it is, or the list of properties of an article, and the entry that names it."""

    table: Table
    device: Entry | None = None

    def of_article(self, reading: Reading) -> Reading:
        """Return a reading of the list with the article that it is of."""
        return replace(reading, entries=(*reading.entries, self.device)) if self.device else reading


def part_long_table(table: Table, taught: tuple[TaughtHeading, ...] = ()) -> tuple[Part, ...]:
    """Return a list of properties for each article of a long table, or each of its parts; any other table as it is.

    Cells keep their places; the lists are of the table's number. The caption of a list names the part.
    """
    grid = lay_out(table, taught)
    head = next((row for row, cells in enumerate(grid.rows) if distinct(cells)), None)
    columns = _columns_of(grid, head) if head is not None else None
    if head is None or columns is None:
        return (Part(table=table),)
    rows = [row for row in range(head + 1, len(grid.rows)) if any(text_of(grid.rows[row][at]) for at in columns.read)]
    parts = tuple(_list_of(grid, columns, run) for run in _runs(grid, columns, rows))
    return parts if len(parts) < len(rows) else (Part(table=table),)


def _columns_of(grid: Grid, head: int) -> _Columns | None:
    """Return the columns of a long table: behind those of the article one is of properties, beside it their values."""
    fields = [_field_of(grid, head, at) for at in range(grid.width)]
    read = _find_read(grid, head, fields)
    keys = [at for at in range(min(read, default=0)) if grid.texts(range(head + 1, len(grid.rows)), at)]
    known = len(read) == len(_READ) or any(fields[at] in _KEYS for at in keys)
    if not (keys and known and _ends_even(grid, head, read)):
        return None
    named = [at for at in keys[1:] if fields[at] not in _KEYS]
    parts = tuple(at for at in named if _varies(grid, head, keys[0], at))
    return _Columns(article=tuple(at for at in keys if at not in parts), parts=parts, read=read)


def _field_of(grid: Grid, head: int, at: int) -> str:
    """Return what a column of a long table is by its heading, or as one of units by what it holds."""
    sense = grid.sense(grid.rows[head][at])
    headed = next((field for field in (*_READ, *_KEYS) if sense.has(field)), "")
    return headed or ("unit" if _holds_units(grid, head, at) else "")


def _holds_units(grid: Grid, head: int, at: int) -> bool:
    """Tell whether a column prints short words alone, and units of torque and of something else among them."""
    texts = set(grid.texts(range(head + 1, len(grid.rows)), at))
    kinds = {unit.kind for text in texts for unit in find_units(text)}
    return all(len(text) <= LONGEST_UNIT for text in texts) and "torque" in kinds and len(kinds) > 1


def _find_read(grid: Grid, head: int, fields: Sequence[str]) -> tuple[int, ...]:
    """Return the columns of property, value and unit, side by side; what no heading tells, their order does."""
    found = {field: fields.index(field) for field in _READ if fields.count(field) == 1}
    if "unit" in found and "value" not in found:
        found["value"] = found["unit"] - 1
    if "value" in found and "property" not in found:
        found["property"] = min(found["value"], found.get("unit", found["value"])) - 1
    read = tuple(found[field] for field in _READ if field in found)
    side_by_side = sorted(read) == list(range(min(read, default=0), min(read, default=0) + len(read)))
    return read if len(read) >= 2 and side_by_side and read[0] == min(read) else ()


def _ends_even(grid: Grid, head: int, read: Sequence[int]) -> bool:
    """Tell whether each column behind says the same in all rows, or nothing: a date of the export."""
    behind = range(max(read, default=0) + 1, grid.width)
    return all(len(set(grid.texts(range(head + 1, len(grid.rows)), at))) <= 1 for at in behind)


def _varies(grid: Grid, head: int, article: int, at: int) -> bool:
    """Tell whether a column names several things of one article."""
    pairs = {(text_of(row[article]), text_of(row[at])) for row in grid.rows[head + 1 :]}
    return len(pairs) > len({article for article, _ in pairs})


def _runs(grid: Grid, columns: _Columns, rows: Sequence[int]) -> Iterator[list[int]]:
    """Yield the rows of each article, or of each of its parts, which follow one another."""
    keys = (*columns.article, *columns.parts)
    for _, run in groupby(rows, lambda row: tuple(text_of(grid.rows[row][at]) for at in keys)):
        yield list(run)


def _list_of(grid: Grid, columns: _Columns, rows: Sequence[int]) -> Part:
    first = grid.rows[rows[0]]
    cells = [cell for row in rows for at in columns.read if (cell := grid.rows[row][at]) is not None]
    parts = [name for at in columns.parts if (name := text_of(first[at]))]
    table = replace(
        grid.table,
        rows=max(cell.row for cell in cells),
        cells=tuple(cells),
        caption=(*grid.table.caption, *parts),
        means="list",
    )
    return Part(table=table, device=_name_article([cell for at in columns.article if (cell := first[at])]))


def _name_article(cells: Sequence[Cell]) -> Entry | None:
    """Return the name of an article, its number behind it, as one entry at the name's place; None without one."""
    names = dict.fromkeys(text for cell in reversed(cells) if (text := text_of(cell)))
    return Entry(field="device", cell=replace(cells[-1], text=" ".join(names))) if names else None
