"""Cells over several columns that strokes at both sides show, in a table whose other rows have no upright rules."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Rule
from torquary_ingest.tables.columns import Columns
from torquary_ingest.tables.rows import Band, Extent
from torquary_ingest.tables.strokes import REACH, Frame
from torquary_schema.values import Box

_SAME_END = 3.0
"""Points by which rules across one table differ in their ends at most (own choice)."""

_LEAST_RULES = 3
"""Rules of the same ends that meet no stroke, from which strokes at others bound no table by themselves."""

_SHORT = 0.5
"""Share of the height over which rules of the same ends run that a stroke beside a merged cell has at most."""

_SLACK = 2.0
"""Points by which a text may reach over the stroke beside it."""


def without_pieces(frames: Sequence[Frame], across: Sequence[Rule]) -> list[Frame]:
    """Return the frames but those of short strokes at a few rows, where rules across run on in rows without strokes."""
    framed = {id(rule) for frame in frames if frame.down for rule in frame.across}
    return [frame for frame in frames if not _is_piece(frame, across, framed)]


def _is_piece(frame: Frame, across: Sequence[Rule], framed: set[int]) -> bool:
    if not frame.across or not frame.down:
        return False
    first = frame.across[0]
    alike = [rule for rule in across if _same_ends(rule, first)]
    free = [rule for rule in alike if id(rule) not in framed]
    height = max(rule.at for rule in alike) - min(rule.at for rule in alike)
    short = all(stroke.end - stroke.start <= _SHORT * height for stroke in frame.down)
    inner = all(stroke.at > first.start + REACH for stroke in frame.down)
    return inner and short and len(free) >= _LEAST_RULES and all(_same_ends(rule, first) for rule in frame.across)


def _same_ends(one: Rule, other: Rule) -> bool:
    return abs(one.start - other.start) <= _SAME_END and abs(one.end - other.end) <= _SAME_END


def spread_between(band: Band, columns: Columns, strokes: Sequence[Rule]) -> Band:
    """Return a row in which each text with a stroke on both sides is of all columns between these, if it is alone."""
    level = sorted(stroke.at for stroke in strokes if stroke.start <= band.middle <= stroke.end)
    if not level:
        return band
    spread = band.copy()
    for extent, words in band.pieces.items():
        reach = _between(Box.around(word.box for word in words), columns, level)
        if reach is None or not 0 < reach[0] <= extent[0] <= extent[1] <= reach[1]:
            continue
        if not any(other != extent and _meet(other, reach) for other in band.pieces):
            spread.pieces[reach] = spread.pieces.pop(extent)
    return spread


def _between(box: Box, columns: Columns, level: Sequence[float]) -> Extent | None:
    left = [at for at in level if at <= box.x0 + _SLACK]
    right = [at for at in level if at >= box.x1 - _SLACK]
    return columns.of(left[-1], right[0]) if left and right else None


def _meet(one: Extent, other: Extent) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]
