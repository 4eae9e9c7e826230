"""Heading rows of a table without a full grid: a tree of headings that reach over several columns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from torquary_ingest.document import Rule, Word
from torquary_ingest.tables.columns import WORD_SPACE, Columns, under_rule
from torquary_ingest.tables.plan import Spot
from torquary_ingest.tables.repeated import reach_groups
from torquary_ingest.tables.rows import Band, Extent
from torquary_schema.values import Box


def plan_heads(
    bands: Sequence[Band], columns: Columns, rules: Sequence[Rule]
) -> tuple[list[tuple[Spot, list[Word]]], int]:
    """Return the heading cells with their words, and the number of heading rows.

    A text that reaches over several columns stands above those columns' own headings; lines over one
    column that nothing wider parts are one heading, which spans down to the last heading row.
    """
    count = columns.count
    bands = [_with_whole_texts(band, rules, columns) for band in bands]
    levels, leaves = _levels(_reaches(bands, columns, rules), count)
    depth = [max((level for (a, b), level, _ in levels if a <= c <= b), default=-1) + 1 for c in range(count)]
    leafless = all(not leaves[c] for c in range(count))
    rows = max(depth) + (0 if leafless else 1)
    cells: list[tuple[Spot, list[Word]]] = [
        (Spot(row=level, column=a, column_span=b - a + 1), words) for (a, b), level, words in levels
    ]
    for c in range(count):
        if depth[c] < rows:
            cells.append((Spot(row=depth[c], column=c, row_span=rows - depth[c]), leaves[c]))
    return cells + _blanks(cells, rows, count), rows


def _with_whole_texts(band: Band, rules: Sequence[Rule], columns: Columns) -> Band:
    """Return a band in which a text that columns cut is whole again where one rule beneath runs under all of it."""
    whole: dict[Extent, list[Word]] = {}
    for extent, words in sorted(band.pieces.items()):
        before = next(reversed(whole), None)
        joined = [*whole[before], *words] if before is not None and _goes_on(whole[before], words) else []
        if before is not None and joined and under_rule(joined, rules, columns):
            del whole[before]
            whole[(before[0], extent[1])] = joined
        else:
            whole[extent] = list(words)
    return replace(band, pieces=whole)


def _goes_on(before: Sequence[Word], words: Sequence[Word]) -> bool:
    """Tell whether no more than a blank stands between two texts of one line."""
    last, first = max(before, key=lambda word: word.box.x1), min(words, key=lambda word: word.box.x0)
    return last.box.level_with(first.box) and 0 <= first.box.x0 - last.box.x1 <= WORD_SPACE * first.size


def _reaches(
    bands: Sequence[Band], columns: Columns, rules: Sequence[Rule]
) -> list[list[tuple[Extent, list[Word]]]]:
    """Each band's texts with their reach: over the rule beneath, or centred over columns headed below."""
    out: list[list[tuple[Extent, list[Word]]]] = []
    for i, band in enumerate(bands):
        row: list[tuple[Extent, list[Word]]] = []
        below = {c for b in bands[i + 1 :] for a, z in b.pieces for c in range(a, z + 1)}
        held = {c for a, z in band.pieces for c in range(a, z + 1)}
        over = {extent: under_rule(words, rules, columns) for extent, words in band.pieces.items()}
        groups = reach_groups(band, bands[i + 1 :], columns)
        for extent, words in sorted(band.pieces.items()):
            free = (below - held) | set(range(extent[0], extent[1] + 1))
            reach = _over_rule(extent, over, groups) or groups.get(extent)
            row.append((reach or _centred(extent, words, columns, (free, bands[i + 1 :])), words))
        out.append(row)
    return out


def _over_rule(extent: Extent, over: Mapping[Extent, Extent | None], groups: Mapping[Extent, Extent]) -> Extent | None:
    """Return the columns over the rule beneath a heading.

    A rule under several headings, or under columns of another one, parts rows: it joins the columns of none of them.
    """
    reach = over[extent]
    if reach is None or list(over.values()).count(reach) > 1:
        return None
    others = (group for one, group in groups.items() if one != extent)
    return None if any(_overlap(reach, other) for other in others) else reach


def _overlap(one: Extent, other: Extent) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]


def _centred(
    extent: Extent, words: Sequence[Word], columns: Columns, below: tuple[set[int], Sequence[Band]]
) -> Extent:
    """The columns that a text is centred over, if it stands out of place in its own.

    `below` are the columns that it may reach over, and the bands of headings beneath it.
    """
    free, heads = below
    box = Box.around(w.box for w in words)
    near = 0.6 * max(w.size for w in words)
    a, b = extent
    if a == b and (a == 0 or (any(columns.fits(w, a) for w in words) and not _overhangs(box, columns, a))):
        return extent
    left = columns.sides[a][0] if columns.sides and a < b else None
    if left is not None and abs(box.x0 - left) < near:
        return extent  # set left over columns of its own; that its middle is that of others too is chance
    best, least = extent, near
    for low in range(a, -1, -1):
        if low not in free:
            break
        for high in range(b, columns.count):
            if high not in free:
                break
            off = min(abs(at - box.middle[0]) for at in _middles(columns, heads, (low, high)))
            if off < least and (low, high) != extent:
                best, least = (low, high), off
    return best


def _overhangs(box: Box, columns: Columns, column: int) -> bool:
    """Tell whether a text runs out of its column at both sides: it is centred over its neighbours too."""
    return box.x0 < columns.edges[column] and box.x1 > columns.edges[column + 1]


def _middles(columns: Columns, heads: Sequence[Band], reach: Extent) -> Iterator[float]:
    """Yield half-way between where the texts of columns begin and end: those of the body, those of their headings.

    So do the middles of the outer columns, where their texts are centred.
    """
    yield columns.text_middle(*reach)
    if columns.sides and (one := columns.sides[reach[0]][1]) is not None:
        other = columns.sides[reach[1]][1]
        yield (one + other) / 2 if other is not None else one
    pieces = ((a, b, words) for band in heads for (a, b), words in band.pieces.items())
    own = [word.box for a, b, words in pieces if reach[0] <= a and b <= reach[1] for word in words]
    if own:
        yield Box.around(own).middle[0]


def _levels(
    rows: Sequence[Sequence[tuple[Extent, list[Word]]]], columns: int
) -> tuple[list[tuple[Extent, int, list[Word]]], list[list[Word]]]:
    """Spanning headings with their level, and the words of each column's own heading."""
    levels: list[tuple[Extent, int, list[Word]]] = []
    leaves: list[list[Word]] = [[] for _ in range(columns)]
    for row in rows:
        for (a, b), words in row:
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
