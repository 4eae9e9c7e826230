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


def set_clauses(lines: Sequence[Line]) -> list[Item]:
    """Return the values that give a torque among other words, each under the name on its left."""
    found: dict[int, Item] = {}
    for name, value in _rows(lines):
        names = [line for line in lines if _begin_alike(line, name)]
        values = [line for line in lines if _begin_alike(line, value)]
        beside = [line for line in names if (its := value_beside(line, lines)) is not None and its in values]
        if len(beside) >= _LEAST_ROWS:
            items = (item for item in set_values(values, names) if value in item.lines)
            found |= {id(item.lines[0].words[0]): item for item in items}
    return list(found.values())


def _rows(lines: Sequence[Line]) -> Iterator[tuple[Line, Line]]:
    """Yield each name with the value on its right that gives a torque among other words."""
    for line in lines:
        value = value_beside(line, lines) if not states_torque(line.text) else None
        clause = value is not None and states_torque(value.text) and not make_sense(value.text).figure
        if value is not None and clause and is_row(line, value, lines):
            yield line, value


def _begin_alike(line: Line, other: Line) -> bool:
    return abs(line.box.x0 - other.box.x0) < other.size
