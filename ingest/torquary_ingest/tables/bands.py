"""Lines of a table without a full grid as bands: the texts that share a strip across it, by columns."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.tables.columns import Columns, part_line
from torquary_ingest.tables.half_lines import find_pairs
from torquary_ingest.tables.lines import Line
from torquary_ingest.tables.rows import Band


def make_bands(lines: Sequence[Line], columns: Columns) -> list[Band]:
    """Return bands from the top down; lines whose middles overlap (a centred cell beside two lines) share one."""
    parted = [(line, part_line(line, columns)) for line in lines]
    pairs = find_pairs([piece for _, pieces in parted for piece in pieces])
    paired = {id(word) for pair in pairs for word in pair.words}
    bands: list[Band] = []
    reach = -1e9
    for line, pieces in parted:
        alone = [(extent, words) for extent, words in pieces if id(words[0]) not in paired]
        if not alone:
            continue
        core = 0.2 * line.box.height
        if not bands or line.box.top + core >= reach:
            bands.append(Band(top=line.box.top, bottom=line.box.bottom))
        reach = max(reach, line.box.bottom - core)
        for extent, words in alone:
            bands[-1].add(extent, words)
    for pair in pairs:
        row = min(bands, key=lambda b: min(abs(w.box.top - pair.level) for words in b.pieces.values() for w in words))
        row.add(pair.extent, pair.words)
    return bands
