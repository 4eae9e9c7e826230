"""Cells over several columns that strokes at both sides show, in a table whose other rows have no upright rules."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Rule, Shade
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

_OFF = 0.05
"""Share of a shade's width by which the text on it may miss its middle (own choice)."""

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


def spread_between(
    bands: Sequence[Band], columns: Columns, strokes: Sequence[Rule], shades: Sequence[Shade]
) -> list[Band]:
    """Return rows in which each text alone between two strokes, or on a shade, is of all columns there."""
    cells = _shaded_cells(bands, columns, shades)
    return [_spread(band, columns, strokes, [cell for cell in cells if _holds(cell, band)]) for band in bands]


def _holds(cell: Box, band: Band) -> bool:
    return cell.top < band.middle < cell.bottom


def _spread(band: Band, columns: Columns, strokes: Sequence[Rule], cells: Sequence[Box]) -> Band:
    level = sorted(stroke.at for stroke in strokes if stroke.start <= band.middle <= stroke.end)
    if not (level or cells):
        return band
    spread = band.copy()
    for extent, words in band.pieces.items():
        box = Box.around(word.box for word in words)
        shaded = (columns.of(cell.x0, cell.x1) for cell in cells if cell.holds(box.middle))
        reach = _between(box, columns, level) or next(shaded, None)
        if reach is None or not 0 < reach[0] <= extent[0] <= extent[1] <= reach[1]:
            continue
        if not any(other != extent and _meet(other, reach) for other in band.pieces):
            spread.pieces[reach] = spread.pieces.pop(extent)
    return spread


def _shaded_cells(bands: Sequence[Band], columns: Columns, shades: Sequence[Shade]) -> list[Box]:
    """Return the shades that are cells over several columns: on all of one reach one text stands alone in the middle.

    Shades of rows begin at their names, and hold texts in several columns.
    """
    groups: dict[tuple[int, int], list[Box]] = {}
    for shade in shades:
        low, high = columns.of(shade.box.x0, shade.box.x1)
        if 0 < low < high:
            groups.setdefault((round(shade.box.x0), round(shade.box.x1)), []).append(shade.box)
    return [box for group in groups.values() if all(_holds_one(box, bands) for box in group) for box in group]


def _holds_one(box: Box, bands: Sequence[Band]) -> bool:
    rows = [band for band in bands if _holds(box, band)]
    inside = [
        own for band in rows for words in band.pieces.values()
        if box.holds((own := Box.around(word.box for word in words)).middle)
    ]
    return len(inside) == 1 and abs(inside[0].middle[0] - box.middle[0]) <= _OFF * box.width


def _between(box: Box, columns: Columns, level: Sequence[float]) -> Extent | None:
    left = [at for at in level if at <= box.x0 + _SLACK]
    right = [at for at in level if at >= box.x1 - _SLACK]
    return columns.of(left[-1], right[0]) if left and right else None


def _meet(one: Extent, other: Extent) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]
