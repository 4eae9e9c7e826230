"""Headings that columns share: "Conductor, mm² AWG" over two of sizes, "Large holes mm²" and "Torque large"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from torquary_ingest.headings.column import Column
from torquary_ingest.headings.sense import make_sense
from torquary_schema.roles import says_terminal, spot_roles
from torquary_schema.words import fold


def share_units(columns: Sequence[Column]) -> list[Column]:
    """Return the columns, those of sizes that one heading "Conductor, mm² AWG" heads with the unit that is theirs.

    The gutter between them may cut it anywhere: both units stand over the right one then, the quantity over the left.
    """
    shared = list(columns)
    for at, (left, right) in enumerate(pairwise(columns)):
        units = make_sense(right.heading).units
        kinds = [unit.kind for unit in units]
        bare = right.field == "conductor" and not make_sense(right.heading).rest
        if kinds == ["area", "gauge"] and bare and left.field == "conductor" and not left.unit:
            shared[at : at + 2] = [replace(left, unit=units[0].printed), replace(right, unit=units[1].printed)]
    return shared


def share_parts(columns: Sequence[Column]) -> list[Column]:
    """Return the columns, a torque's part called as its sizes call it.

    It names no terminal, and its words are among those of the sizes of one part alone, and of no other torque.
    """
    sized = [column for column in columns if column.field.startswith("conductor") and column.qualifier]
    torques = [column for column in columns if column.field.startswith("torque")]
    return [_called(column, sized, torques) if column in torques else column for column in columns]


def _called(torque: Column, sized: Sequence[Column], torques: Sequence[Column]) -> Column:
    own = _words(torque)
    if spot_roles(torque.qualifier) or says_terminal(torque.qualifier):
        return torque
    meant = [column for column in sized if own and own < _words(column)]
    names = {column.qualifier for column in meant}
    if len(names) != 1 or any(_words(other) <= _words(meant[0]) for other in torques if _words(other) - own):
        return torque
    return replace(torque, qualifier=meant[0].qualifier, qualifier_cells=meant[0].qualifier_cells)


def _words(column: Column) -> frozenset[str]:
    return frozenset(fold(column.qualifier).split())
