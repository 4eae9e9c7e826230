"""Groups of one device's properties: "Conductors (mm²)" over the sizes, "Screw" over the torque, types across."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Cell
from torquary_ingest.headings.designations import find_types
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.headings.sense import Sense
from torquary_schema.roles import is_terminal, spot_roles
from torquary_schema.values import ScopeText
from torquary_schema.words import spot

_TORQUE = ("torque", "torque_min", "torque_max")


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Rows of a turned table under one band, the rows that head its columns, and the lines that speak for it."""

    head: tuple[tuple[Cell | None, ...], ...]
    grid: Grid
    band: Cell | None
    lines: tuple[ScopeText, ...]

    @property
    def whole(self) -> Grid:
        """Return the group's rows under those that head its columns."""
        return replace(self.grid, rows=(*self.head, *self.grid.rows))


def join_groups(groups: Sequence[Group]) -> Iterator[Group]:
    """Yield the groups, one that has sizes alone with the one behind it that has a torque alone, if neither is named.

    A name of a group's own, a terminal's or a device's, says what its sizes and its torque are of.
    """
    at = 0
    while at < len(groups):
        end = _end_of_joint(groups, at)
        yield _join(groups[at:end]) if end > at + 1 else groups[at]
        at = max(end, at + 1)


def _end_of_joint(groups: Sequence[Group], start: int) -> int:
    """Return where the groups end that belong together from `start` on: sizes first, one torque last."""
    if not _is_general(groups[start]) or _count(groups[start], _TORQUE) or not _gives_sizes(groups[start]):
        return start
    for at in range(start + 1, len(groups)):
        group = groups[at]
        if not _is_general(group) or _gives_sizes(group) or group.head != groups[start].head:
            return start
        torques = _count(group, _TORQUE)
        if torques:
            alone = not any(_count(other, _TORQUE) or _gives_sizes(other) for other in groups[at + 1 :])
            return at + 1 if torques == 1 and alone else start
    return start


def _is_general(group: Group) -> bool:
    """Tell whether the band over a group names no terminal and no device: "Conductors (mm²)"."""
    text = text_of(group.band)
    named = spot_roles(text) or is_terminal(text) or find_types(text) or spot("family", text)
    return bool(group.head) and group.band is not None and not named


def _count(group: Group, fields: tuple[str, ...]) -> int:
    return sum(_sense(group, row).has(*fields) for row in group.grid.rows)


def _gives_sizes(group: Group) -> bool:
    """Tell whether a group gives sizes of conductors: its band or a property says so, with figures beside."""
    sized = group.grid.sense(group.band).has("conductor")
    rows = [row for row in group.grid.rows if any(group.grid.sense(cell).figure for cell in row[1:])]
    return any(sized or _sense(group, row).has("conductor", "conductor_min", "conductor_max") for row in rows)


def _sense(group: Group, row: tuple[Cell | None, ...]) -> Sense:
    return group.grid.sense(row[0])


def _join(groups: Sequence[Group]) -> Group:
    """Return groups as one, the band over sizes before them as a heading before headings.

    The bands of the others name a matter: "Screw and tightening".
    """
    first = groups[0]
    head = tuple((row[0], *row) for row in first.head)
    rows = tuple((group.band if group is first else None, *row) for group in groups for row in group.grid.rows)
    return Group(head=head, grid=replace(first.grid, rows=rows), band=None, lines=first.lines[1:])
