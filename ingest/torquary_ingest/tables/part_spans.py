"""Cells over several rows where rules run under some columns only: the others go on from row to row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from torquary_ingest.document import Doubt, Rule, Word
from torquary_ingest.tables.centred import Centred
from torquary_ingest.tables.columns import Columns
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import make_lines
from torquary_ingest.tables.region import Region
from torquary_ingest.tables.rows import Band, Extent
from torquary_ingest.tables.strokes import covered, edges
from torquary_schema.values import Box

CLOSED, OPEN = 0.6, 0.2
"""Shares of the width of a column's texts: rules that draw the first close the column, the second leaves it open."""


OFF = 0.3
"""Share of a row's height by which a text may miss the middle of its cell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """What stands in one column between two rules that cover it, while others run through beside it."""

    column: int
    top: float
    bottom: float
    words: tuple[Word, ...]


def take_reaching(bands: Sequence[Band], columns: Columns, region: Region) -> tuple[list[Band], list[Reach]]:
    """Return the bands without the texts that rules show to reach over several rows, and those texts."""
    kept = [band.copy() for band in bands]
    found: list[Reach] = []
    for column in range(columns.count):
        for top, bottom in _long_cells(_texts(kept, column), region):
            inside = [band for band in kept if top < band.middle < bottom]
            held = [band for band in inside if (column, column) in band.pieces]
            if held and not _is_rows(inside, column) and _is_told(inside, column, (top, bottom)):
                words = [word for band in held for word in band.pieces.pop((column, column))]
                found.append(Reach(column=column, top=top, bottom=bottom, words=_doubted(words, inside, held)))
    kept = [band for band in kept if band.pieces]
    for band in kept:
        band.top = min(word.box.top for words in band.pieces.values() for word in words)
        band.bottom = max(word.box.bottom for words in band.pieces.values() for word in words)
    return kept, found


def row_rules(bands: Sequence[Band], columns: Columns, region: Region) -> list[float]:
    """Heights of rules that part rows: drawn under at least half of the columns; over the others a text reaches."""
    texts = [_texts(bands, column) for column in range(columns.count)]
    reaches = [_reach(words) for words in texts if words]
    return [at for at in edges(rule.at for rule in region.part_rules) if _parts_rows(at, reaches, region)]


def _parts_rows(at: float, reaches: Sequence[tuple[float, float]], region: Region) -> bool:
    """Tell whether rules at a height run under half of the columns, an outer one among them: a chart's do not."""
    under = [covered(region.part_rules, at, *reach) >= CLOSED for reach in reaches]
    return bool(under) and 2 * sum(under) >= len(under) and (under[0] or under[-1])


def put_reaching(rows: Sequence[Band], found: Sequence[Reach]) -> list[Centred]:
    """Put each text into the first of its rows; return what it covers. One row alone is no span."""
    covers: list[Centred] = []
    for reach in found:
        mine = [number for number, row in enumerate(rows) if reach.top < row.middle < reach.bottom]
        if mine:
            extent: Extent = (reach.column, reach.column)
            rows[mine[0]].add(extent, reach.words)
            covers.append(Centred(row=mine[0], count=len(mine), extent=extent))
    return [cover for cover in covers if cover.count > 1]


def _long_cells(texts: Sequence[Word], region: Region) -> list[tuple[float, float]]:
    """Top and bottom of the cells of a column, given by its texts, through which a rule runs in other columns."""
    if not texts or not region.part_rules:
        return []
    box, reach = region.box, _reach(texts)
    rules = [Rule(horizontal=True, at=at, start=box.x0, end=box.x1) for at in region.across] + [*region.part_rules]
    drawn = [(at, covered(rules, at, *reach)) for at in edges(rule.at for rule in rules)]
    closed = [at for at, share in drawn if share >= CLOSED]
    through = [at for at, share in drawn if share <= OPEN]
    return [(a, b) for a, b in pairwise(closed) if any(a < at < b for at in through)]


def _texts(bands: Sequence[Band], column: int) -> list[Word]:
    return [word for band in bands for word in band.pieces.get((column, column), ())]


def _reach(words: Sequence[Word]) -> tuple[float, float]:
    return min(word.box.x0 for word in words), max(word.box.x1 for word in words)


def _is_rows(inside: Sequence[Band], column: int) -> bool:
    """Tell whether the column has more than one figure there: rows whose rules are left out."""
    texts = (band.text((column, column)) for band in inside if (column, column) in band.pieces)
    return sum(map(is_figure, texts)) > 1


def _is_told(inside: Sequence[Band], column: int, cell: tuple[float, float]) -> bool:
    """Tell whether a text stands in the middle of its cell, or beside rows that each have more than one text.

    A line alone reaches over nothing: the rule in other columns is a stroke of a sign there, or strikes a figure out.
    A name over the next rows has none: a rule beneath it shares no figure of theirs with it.
    """
    own = (column, column)
    beside = [len(band.pieces) - (own in band.pieces) for band in inside]
    rows = [count for count in beside if count]
    if len(inside) < 2 or not rows:
        return False
    middle = Box.around(word.box for word in _texts(inside, column)).middle[1]
    centred = abs(middle - sum(cell) / 2) < OFF * (cell[1] - cell[0]) / max(len(rows), 1)
    return centred or min(rows, default=0) > 1


def _doubted(words: Sequence[Word], inside: Sequence[Band], held: Sequence[Band]) -> tuple[Word, ...]:
    """Return the words, in doubt where each row has a line of its own: then rules may be left out as well."""
    rows = [band for band in inside if band.pieces]
    if len(make_lines(words)) < 2 or len(held) < len(rows):
        return tuple(words)
    text = " ".join(word.text for word in words)
    doubt = Doubt(code="readings_differ", message=f"{text!r} may be one cell by the rules, several by its lines")
    return tuple(replace(word, doubts=(*word.doubts, doubt)) for word in words)
