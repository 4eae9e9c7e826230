"""Torques headed by a part of what their sizes are headed by: "Large holes mm²" and "Torque large"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.headings.column import Column
from torquary_schema.words import fold


def share_parts(columns: Sequence[Column]) -> list[Column]:
    """Return the columns, a torque's part called as its sizes call it.

    Its words are among those of the sizes of one part alone, and of no other torque.
    """
    sized = [column for column in columns if column.field.startswith("conductor") and column.qualifier]
    torques = [column for column in columns if column.field.startswith("torque")]
    return [_called(column, sized, torques) if column in torques else column for column in columns]


def _called(torque: Column, sized: Sequence[Column], torques: Sequence[Column]) -> Column:
    own = _words(torque)
    meant = [column for column in sized if own and own < _words(column)]
    names = {column.qualifier for column in meant}
    if len(names) != 1 or any(_words(other) <= _words(meant[0]) for other in torques if _words(other) - own):
        return torque
    return replace(torque, qualifier=meant[0].qualifier, qualifier_cells=meant[0].qualifier_cells)


def _words(column: Column) -> frozenset[str]:
    return frozenset(fold(column.qualifier).split())
