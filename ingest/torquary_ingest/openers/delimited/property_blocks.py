"""Lists of properties one under the other, parted by blank lines: "Type;TB-6", "Screw;M3.5", and the next article."""

from __future__ import annotations

from collections.abc import Sequence, Set
from itertools import groupby

from torquary_ingest.openers.delimited.records import Record
from torquary_ingest.openers.delimited.rows import is_blank, is_line

_LEAST_ROWS = 3
"""Rows of a list of properties at least."""
_WIDTH = 2


def find_lists(records: Sequence[Record]) -> list[list[Record]]:
    """Return the groups of rows between blank lines, where they are lists of the same properties; [] for other files.

    Lines alone may stand between the lists. A name without a value, which has one in another list, is left out: it is
    no heading of what follows.
    """
    groups = [list(group) for blank, group in groupby(records, is_blank) if not blank]
    lists = [group for group in groups if is_list(group)]
    if len(lists) < 2 or not all(_share_names(lists[0], other) for other in lists[1:]):
        return []
    if not all(map(_is_narrow, groups)):
        return []
    valued = {record.fields[0] for group in lists for record in _pairs(group)}
    return [[record for record in group if not _is_bare_name(record, valued)] for group in groups]


def _is_narrow(group: Sequence[Record]) -> bool:
    return all(record.extent <= _WIDTH for record in group)


def _is_bare_name(record: Record, valued: Set[str]) -> bool:
    return is_line(record) and record.fields[0] in valued


def _pairs(group: Sequence[Record]) -> list[Record]:
    """Return the rows that give a name and its value."""
    return [record for record in group if len(record.filled) == _WIDTH]


def is_list(group: Sequence[Record]) -> bool:
    """Tell whether rows are names and values, lines between them aside."""
    pairs = _pairs(group)
    names = {record.fields[0] for record in pairs}
    paired = all(is_line(record) or record in pairs for record in group)
    return _is_narrow(group) and paired and len(pairs) >= _LEAST_ROWS and len(names) > 1


def _share_names(one: Sequence[Record], other: Sequence[Record]) -> bool:
    """Tell whether at least half of the names of the shorter list stand in the other too."""
    names = [{record.fields[0] for record in group} for group in (one, other)]
    return 2 * len(names[0] & names[1]) >= min(map(len, names))
