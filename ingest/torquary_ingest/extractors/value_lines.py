"""Lists of properties set as lines, whose values are clauses: "Input terminals L, N    0.5–4 mm², torque 0.8 N·m"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.clauses.items import Item
from torquary_ingest.clauses.values import set_values
from torquary_ingest.document.lines import Line
from torquary_ingest.extractors.listed import is_row, value_beside
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.sense import make_sense

_LEAST_ROWS = 3
"""Rows at least that begin at the same two places, for a text beside another to be its value."""
_LEAST_APART = 2
"""The same where so much white parts them that no sentence runs over it."""

_FAR = 5.0
"""Font sizes of that white at least (own choice)."""


def set_clauses(lines: Sequence[Line]) -> list[Item]:
    """Return the values that give a torque among other words, each under the name on its left."""
    return [item for part in _lists_in(lines) for item in _set_clauses_of(part)]


def _lists_in(lines: Sequence[Line]) -> list[list[Line]]:
    """Return the lines of each list; lists stand side by side where bold lines head names that begin at their edge."""
    heads = [line for line in lines if line.bold]
    begun = {round(head.box.x0) for head in heads if _count_under(head, lines) >= _LEAST_ROWS}
    starts = sorted(begun)
    found: list[list[Line]] = [[] for _ in starts or [0]]
    for line in lines:
        found[max(0, sum(start <= line.box.x0 + 1 for start in starts) - 1)].append(line)
    return found


def _count_under(head: Line, lines: Sequence[Line]) -> int:
    plain = (line for line in lines if not line.bold and line.box.top > head.box.top)
    return sum(abs(line.box.x0 - head.box.x0) < 1 for line in plain)


def _set_clauses_of(lines: Sequence[Line]) -> list[Item]:
    """Return the values of a list; each pair of columns, of names and of values, is looked at once."""
    found: dict[int, Item] = {}
    rows = list(_rows(lines))
    while rows:
        name, value = rows[0]
        here = [row for row in rows if _begin_alike(row[0], name) and _begin_alike(row[1], value)]
        rows = [row for row in rows if row not in here]
        if len(here) >= (_LEAST_APART if all(_stand_apart(*row) for row in here) else _LEAST_ROWS):
            found |= {id(item.lines[0].words[0]): item for item in _set_columns(here, lines)}
    return list(found.values())


def _stand_apart(name: Line, value: Line) -> bool:
    return value.box.x0 - name.box.x1 >= _FAR * name.size


def _set_columns(rows: Sequence[tuple[Line, Line]], lines: Sequence[Line]) -> Iterator[Item]:
    """Yield the clauses among the values of two columns that begin where the names and values of some rows do."""
    name, value = rows[0]
    names = [line for line in lines if _begin_alike(line, name)]
    values = [line for line in lines if _begin_alike(line, value)]
    beside = {id(line) for _, line in rows}
    for item in set_values(values, names):
        if _is_clause(item) and not beside.isdisjoint(map(id, item.lines)):
            yield item


def _rows(lines: Sequence[Line]) -> Iterator[tuple[Line, Line]]:
    """Yield each name with the value on its right."""
    for line in lines:
        value = value_beside(line, lines) if not states_torque(line.text) else None
        if value is not None and is_row(line, value, lines):
            yield line, value


def _is_clause(item: Item) -> bool:
    """Tell whether a value gives a torque among other words."""
    return states_torque(item.text) and not make_sense(item.text).figure and not states_torque(item.over[0].text)


def _begin_alike(line: Line, other: Line) -> bool:
    return abs(line.box.x0 - other.box.x0) < other.size
