"""Texts printed once and centred over several rows without rules: which rows each of them covers.

Only what cannot mean anything else is taken: a text that stands between the lines of its rows, or texts in the
middle of groups of rows that rules or wide gaps part, each group with one of them. Names in the first rows of groups
that rules part are of all their rows likewise.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass
from itertools import combinations, pairwise, takewhile
from statistics import median

from torquary_ingest.tables.rows import LABEL, Band, Extent, fenced
from torquary_schema.units import find_units

_OFF = 0.3
"""Share of the usual distance of rows by which a centred text may miss the middle of its rows."""

_LEAST = 2
"""Groups of several rows, each named in its first, from which a name is of all the rows between two rules."""

_WIDE = 1.5
"""Times the usual distance of rows from which a gap parts groups."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Centred:
    """A text that covers `count` rows from `row` on (from 0)."""

    row: int
    count: int
    extent: Extent


def find_centred(rows: Sequence[Band], fences: Sequence[float]) -> tuple[list[Band], list[Centred]]:
    """Return the rows without those that only hold centred texts, and what each centred text covers."""
    pitch = _pitch(rows)
    if pitch <= 0:
        return list(rows), []
    kept: list[Band] = []
    found: list[Centred] = []
    groups = [_as_one(group, fences) for group in _groups(rows, fences, pitch)]
    middles = _extents_in_middle(groups)
    tops = [] if middles else _extents_at_top(groups, fences)
    for group in groups:
        real, floating = _parted(group, pitch)
        start = len(kept)
        found += [Centred(row=start, count=len(real), extent=extent) for band in floating for extent in band.pieces]
        for band in floating:
            real[0].pieces.update(band.pieces)
        kept += real
        if not floating and len(real) > 1:
            _raise(real, middles)
            found += [Centred(row=start, count=len(real), extent=extent) for extent in (*middles, *tops)]
    return kept, found


def _parted(group: Sequence[Band], pitch: float) -> tuple[list[Band], list[Band]]:
    """Return the rows of a group, and the bands that only hold texts centred over them."""
    floating = [band for band in group[1:-1] if _floats(band, group, pitch)]
    real = [band for band in group if band not in floating]
    if len(real) < 2 or not all(_is_centred(band, real, pitch) for band in floating):
        return list(group), []
    return real, floating


def _raise(rows: Sequence[Band], extents: Sequence[Extent]) -> None:
    """Put the texts of the middle row in some columns into the first one."""
    middle = rows[len(rows) // 2]
    for extent in extents:
        rows[0].pieces[extent] = middle.pieces.pop(extent)


def _pitch(rows: Sequence[Band]) -> float:
    """Return the usual distance from middle to middle in the column that most rows have a text in; 0 for one row."""
    columns: dict[Extent, list[float]] = {}
    for row in rows:
        for extent in row.pieces:
            columns.setdefault(extent, []).append(row.middle)
    fullest = max(columns.values(), key=len) if columns else []
    steps = [lower - upper for upper, lower in pairwise(fullest)]
    return median(steps) if steps else 0.0


def _groups(rows: Sequence[Band], fences: Sequence[float], pitch: float) -> list[list[Band]]:
    """Cut the rows at rules and at wide gaps."""
    groups: list[list[Band]] = []
    for band in rows:
        above = groups[-1][-1] if groups else None
        if above is None or fenced(above, band, fences) or band.middle - above.middle > _WIDE * pitch:
            groups.append([])
        groups[-1].append(band)
    return groups


def _floats(band: Band, group: Sequence[Band], pitch: float) -> bool:
    """Tell whether a band stands between two rows that are no further apart than rows are, in columns of its own."""
    at = next(index for index, other in enumerate(group) if other is band)
    above, below = group[at - 1], group[at + 1]
    between = below.middle - above.middle < 1.2 * pitch and len(above.pieces) > 1 and len(below.pieces) > 1
    others = [extent for one in group if one is not band for extent in one.pieces]
    alone = not any(_meet(extent, other) for extent in band.pieces for other in others)
    return between and alone and len(band.pieces) < len(above.pieces)


def _meet(one: Extent, other: Extent) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]


def _is_centred(band: Band, rows: Sequence[Band], pitch: float) -> bool:
    return abs(band.middle - (rows[0].middle + rows[-1].middle) / 2) < _OFF * pitch


def _extents_in_middle(groups: Sequence[Sequence[Band]]) -> list[Extent]:
    """Return the columns that print one text in the middle row of every group: two groups of odd length at least.

    Such columns are one less than all, so that each row still has texts of its own.
    """
    if len(groups) < 2 or any(len(group) % 2 == 0 for group in groups) or all(len(group) == 1 for group in groups):
        return []
    extents = {extent for group in groups for band in group for extent in band.pieces}
    found = [extent for extent in sorted(extents) if all(_only_in_middle(extent, group) for group in groups)]
    named = (0, 0) in found  # a group that has one name is one thing
    return found if named and len(found) < len(extents) else []


def _extents_at_top(groups: Sequence[Sequence[Band]], fences: Sequence[float]) -> list[Extent]:
    """Return the columns on the left that print one text in each group, in its first row, where rules part them all."""
    several = [group for group in groups if len(group) > 1]
    ruled = all(fenced(upper[-1], lower[0], fences) for upper, lower in pairwise(groups))
    if len(several) < _LEAST or not ruled:
        return []
    extents = {extent for group in groups for band in group for extent in band.pieces}
    found = list(takewhile(lambda extent: all(_only_at_top(extent, group) for group in groups), sorted(extents)))
    return found if found[:1] == [LABEL] and len(found) < len(extents) else []


def _as_one(group: list[Band], fences: Sequence[float]) -> list[Band]:
    """Return a group between two rules as one row, where each further row gives the torque of the first in other units.

    A row with a name of its own is a row.
    """
    first, *further = group
    ruled = any(fence < first.middle for fence in fences) and any(fence > group[-1].middle for fence in fences)
    if not further or not ruled or any(LABEL in band.pieces for band in further) or not _told_again(group):
        return group
    joined = first.copy()
    for band in further:
        joined.absorb(band)
    return [joined]


def _told_again(group: Sequence[Band]) -> bool:
    """Tell whether a column gives a torque in each row, in units of its own."""
    return any(_all_differ([_torque_units(band.text(extent)) for band in group]) for extent in group[0].pieces)


def _torque_units(text: str) -> Set[str]:
    return {one.name for one in find_units(text) if one.kind == "torque"}


def _all_differ(units: Sequence[Set[str]]) -> bool:
    return all(units) and all(one.isdisjoint(other) for one, other in combinations(units, 2))


def _only_at_top(extent: Extent, group: Sequence[Band]) -> bool:
    filled = [band for band in group if any(_meet(extent, other) for other in band.pieces)]
    return len(filled) == 1 and filled[0] is group[0] and extent in filled[0].pieces


def _only_in_middle(extent: Extent, group: Sequence[Band]) -> bool:
    filled = [band for band in group if any(_meet(extent, other) for other in band.pieces)]
    return len(filled) == 1 and filled[0] is group[len(group) // 2] and extent in filled[0].pieces
