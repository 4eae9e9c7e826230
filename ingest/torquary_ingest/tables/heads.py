"""Heading rows of a table without a full grid: a tree of headings that reach over several columns."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Word
from torquary_ingest.tables.plan import Spot
from torquary_ingest.tables.rows import Band, Extent


def plan_heads(bands: Sequence[Band], columns: int) -> tuple[list[tuple[Spot, list[Word]]], int]:
    """Return the heading cells with their words, and the number of heading rows.

    A text that reaches over several columns stands above those columns' own headings; lines over one
    column that nothing wider parts are one heading, which spans down to the last heading row.
    """
    levels, leaves = _levels(bands, columns)
    depth = [max((level for (a, b), level, _ in levels if a <= c <= b), default=-1) + 1 for c in range(columns)]
    leafless = all(not leaves[c] for c in range(columns))
    rows = max(depth) + (0 if leafless else 1)
    cells: list[tuple[Spot, list[Word]]] = [
        (Spot(row=level, column=a, column_span=b - a + 1), words) for (a, b), level, words in levels
    ]
    for c in range(columns):
        if depth[c] < rows:
            cells.append((Spot(row=depth[c], column=c, row_span=rows - depth[c]), leaves[c]))
    return cells + _blanks(cells, rows, columns), rows


def _levels(
    bands: Sequence[Band], columns: int
) -> tuple[list[tuple[Extent, int, list[Word]]], list[list[Word]]]:
    """Spanning headings with their level, and the words of each column's own heading."""
    levels: list[tuple[Extent, int, list[Word]]] = []
    leaves: list[list[Word]] = [[] for _ in range(columns)]
    for band in bands:
        for (a, b), words in sorted(band.pieces.items()):
            if a == b:
                leaves[a].extend(words)
                continue
            same = next((i for i, (e, _, _) in enumerate(levels) if e == (a, b)), None)
            over = [level for (p, q), level, _ in levels if p <= b and a <= q]
            if same is not None and levels[same][1] == max(over):
                levels[same][2].extend(words)
            else:
                levels.append(((a, b), max(over, default=-1) + 1, list(words)))
    return levels, leaves


def _blanks(cells: Sequence[tuple[Spot, list[Word]]], rows: int, columns: int) -> list[tuple[Spot, list[Word]]]:
    """Blank cells for the places that no heading covers."""
    held = {
        (r, c)
        for spot, _ in cells
        for r in range(spot.row, spot.row + spot.row_span)
        for c in range(spot.column, spot.column + spot.column_span)
    }
    return [
        (Spot(row=r, column=c), []) for r in range(rows) for c in range(columns) if (r, c) not in held
    ]
