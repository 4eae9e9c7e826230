"""Lines of a table without a full grid as bands: the texts that share a strip across it, by columns."""

from __future__ import annotations

import math
from collections.abc import Sequence

from torquary_ingest.tables.columns import Columns, part_line
from torquary_ingest.tables.half_lines import find_pairs
from torquary_ingest.tables.lines import Line
from torquary_ingest.tables.rows import Band

CORE = 0.2
"""Share of its height by which a line may reach into the one above or below and be parted from it."""


def make_bands(lines: Sequence[Line], columns: Columns) -> list[Band]:
    """Return bands from the top down; lines whose middles overlap (a centred cell beside two lines) share one."""
    parted = [(line, part_line(line, columns)) for line in lines]
    pairs = find_pairs([piece for _, pieces in parted for piece in pieces])
    paired = {id(word) for pair in pairs for word in pair.words}
    bands: list[Band] = []
    reach = -math.inf
    for line, pieces in parted:
        alone = [(extent, words) for extent, words in pieces if id(words[0]) not in paired]
        core = CORE * line.box.height
        if alone and (not bands or line.box.top + core >= reach):
            bands.append(Band(top=line.box.top, bottom=line.box.bottom))
        if alone:
            reach = max(reach, line.box.bottom - core)
        for extent, words in alone:
            bands[-1].add(extent, words)
    for pair in pairs:
        min(bands, key=lambda band: _off(band, pair.level)).add(pair.extent, pair.words)
    return bands


def _off(band: Band, level: float) -> float:
    """Return how far the nearest word of a band begins from a height."""
    return min(abs(word.box.top - level) for words in band.pieces.values() for word in words)
