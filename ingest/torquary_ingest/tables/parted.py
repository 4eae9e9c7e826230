"""Rows that part rules show without a frame: where a rule leaves a column out, the text there covers both rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from torquary_ingest.document import Word
from torquary_ingest.tables.columns import Columns
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import box_of
from torquary_ingest.tables.plan import Spot
from torquary_ingest.tables.regions import Region
from torquary_ingest.tables.rows import Band, unfinished
from torquary_ingest.tables.wording import text_of

_COVERS = 0.6
"""Share of a column's width from which a rule runs under its texts."""

_OFF = 0.3
"""Share of the height of a row by which a text may miss the middle of the rows that it covers."""

_SAME = 2.0
"""Points within which rules are drawn at one height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parted:
    """Body rows by rules: their edges from the top down, and the words of each cell, rows counted from 0."""

    edges: tuple[float, ...]
    cells: dict[Spot, list[list[Word]]]


def find_parted(bands: Sequence[Band], columns: Columns, region: Region) -> Parted | None:
    """Return the rows between rules of which some leave columns out, or None where rules do not tell the rows apart.

    Each row must print a text of its own, and no cell more than one figure: else the rules part groups.
    """
    if not bands:
        return None
    fences = _fences(bands, columns, region)
    heights = _heights([at for column in fences for at in column])
    if len(heights) < 3 or all(len(column) == len(heights) for column in fences):
        return None
    cells: dict[Spot, list[list[Word]]] = {}
    for column, own in enumerate(fences):
        for top, bottom in pairwise(own):
            first = _index(heights, top)
            span = _index(heights, bottom) - first
            if span < 1:
                return None
            cells[Spot(row=first, column=column, row_span=span)] = []
    if not _fill(cells, bands, heights):
        return None
    return Parted(edges=tuple(heights), cells=cells) if _tells_rows(cells, heights) else None


def _fill(cells: dict[Spot, list[list[Word]]], bands: Sequence[Band], heights: Sequence[float]) -> bool:
    """Put each text into the cell that holds its middle; False where one stands in none, or in several columns."""
    for band in bands:
        for (low, high), words in band.pieces.items():
            middle = _middle([words])
            at = next((s for s in cells if s.column == low and _holds(s, heights, middle)), None)
            if low != high or at is None:
                return False
            cells[at].append(words)
    return True


def _fences(bands: Sequence[Band], columns: Columns, region: Region) -> list[list[float]]:
    """Return for each column the heights of the rules that run under it, from over the first row on."""
    ends = max(band.bottom for band in bands)
    whole = sorted(region.across)
    start = max((at for at in whole if at <= bands[0].middle), default=bands[0].top)
    end = min((at for at in whole if at >= bands[-1].middle), default=ends)
    found: list[list[float]] = []
    for left, right in pairwise(columns.edges):
        own = [at for at in whole if start + _SAME < at < end - _SAME]
        for rule in region.part_rules:
            shared = min(rule.end, right) - max(rule.start, left)
            if start + _SAME < rule.at < end - _SAME and shared >= _COVERS * (right - left):
                own.append(rule.at)
        found.append(_heights([start, *own, end]))
    return found


def _heights(at: Sequence[float]) -> list[float]:
    """Return heights from the top down, those drawn at one height once."""
    out: list[float] = []
    for height in sorted(at):
        if not out or height - out[-1] > _SAME:
            out.append(height)
    return out


def _index(heights: Sequence[float], at: float) -> int:
    return min(range(len(heights)), key=lambda k: abs(heights[k] - at))


def _holds(spot: Spot, heights: Sequence[float], middle: float) -> bool:
    return heights[spot.row] <= middle < heights[spot.row + spot.row_span]


def _tells_rows(cells: dict[Spot, list[list[Word]]], heights: Sequence[float]) -> bool:
    """Tell whether the rules part rows, and no line under a name or a remark in the first column alone."""
    own = [spot.row for spot, lines in cells.items() if lines and spot.row_span == 1]
    shared = {spot: lines for spot, lines in cells.items() if lines and spot.row_span > 1}
    named = all(own.count(row) > 1 for row in range(len(heights) - 1))
    centred = all(_is_centred(spot, lines, heights) for spot, lines in shared.items())
    leading = all(_is_first(spot, lines, heights) for spot, lines in shared.items())
    told = centred or (named and leading)
    return bool(shared) and told and not any(_several_figures(lines) for lines in cells.values())


def _middle(lines: Sequence[Sequence[Word]]) -> float:
    return box_of(word.box for words in lines for word in words).middle[1]


def _is_centred(spot: Spot, lines: Sequence[Sequence[Word]], heights: Sequence[float]) -> bool:
    top, bottom = heights[spot.row], heights[spot.row + spot.row_span]
    return abs(_middle(lines) - (top + bottom) / 2) < _OFF * (bottom - top) / spot.row_span


def _is_first(spot: Spot, lines: Sequence[Sequence[Word]], heights: Sequence[float]) -> bool:
    return _middle(lines) < heights[spot.row + 1]


def _several_figures(lines: Sequence[Sequence[Word]]) -> bool:
    """Tell whether figures stand under one another, none of them going on from one that breaks off."""
    texts = [text_of(words) for words in lines]
    return any(is_figure(lower) and is_figure(upper) and not unfinished(upper) for upper, lower in pairwise(texts))
