"""Where rules are missing, the text shows the cells: spans parted, columns and rows added to a ruled plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from torquary_ingest.document import Word
from torquary_ingest.tables.filling import spread_words
from torquary_ingest.tables.gutters import find_gutters
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line, make_chunks, make_lines
from torquary_ingest.tables.plan import Plan, Spot
from torquary_ingest.tables.rows import LABEL, Band, Extent, join_rows, unfinished

CLEAR = 0.9
"""Font sizes: a gap this wide inside a merged cell parts two texts."""

MIDDLE = 0.35
"""Font sizes by which a text may miss the middle of its cell."""

SLACK = 2.0
"""Points by which a text may reach over the edge of its column."""


def refine(plan: Plan, words: Sequence[Word]) -> Plan:
    """Part what stands in several cells though no rule is drawn between them."""
    for step in (part_spans, add_columns, add_rows):
        plan = step(plan, words)
    return plan


def part_spans(plan: Plan, words: Sequence[Word]) -> Plan:
    """Part a merged cell at column edges drawn in other rows when each of its texts fits one column."""
    spots: list[Spot] = []
    for spot, mine in spread_words(plan, words).items():
        cuts = _column_cuts(plan, spot, mine) if spot.column_span > 1 else []
        parts = _cut_columns(spot, cuts)
        for part in parts:
            inside = [w for w in mine if _inside(plan, part, w)] if len(parts) > 1 else mine
            spots += _cut_rows(part, _row_cuts(plan, part, inside)) if part.row_span > 1 else [part]
    return replace(plan, spots=tuple(spots))


def _inside(plan: Plan, spot: Spot, word: Word) -> bool:
    box = plan.spot_box(spot)
    return box.x0 <= word.box.middle[0] < box.x1


def _column_cuts(plan: Plan, spot: Spot, words: Sequence[Word]) -> list[int]:
    """Columns at which the spot is to be cut: the edges between its texts that none of them crosses."""
    inner = range(spot.column + 1, spot.column + spot.column_span)
    cuts: set[int] = set()
    crossed: set[int] = set()
    for line in make_lines(words):
        chunks = make_chunks(line.words, CLEAR)
        for chunk in chunks:
            low, high = chunk.box.x0 + SLACK, chunk.box.x1 - SLACK
            crossed.update(c for c in inner if low < plan.xs[c] < high)
        for left, right in pairwise(chunks):
            between = [c for c in inner if left.box.x1 - SLACK <= plan.xs[c] <= right.box.x0 + SLACK]
            cuts.update(between[-1:])
    return sorted(cuts - crossed)


def _column_at(plan: Plan, x: float) -> int:
    return min(max(sum(e <= x for e in plan.xs) - 1, 0), plan.columns - 1)


def _cut_columns(spot: Spot, cuts: Sequence[int]) -> list[Spot]:
    edges = [spot.column, *cuts, spot.column + spot.column_span]
    return [replace(spot, column=a, column_span=b - a) for a, b in pairwise(edges)]


def _row_cuts(plan: Plan, spot: Spot, words: Sequence[Word]) -> list[int]:
    """Rows at which to cut: only where one figure stands level in every row that the spot spans."""
    lines = make_lines(words)
    if len(lines) != spot.row_span or not all(is_figure(" ".join(w.text for w in n.words)) for n in lines):
        return []
    for line, row in zip(lines, range(spot.row, spot.row + spot.row_span), strict=True):
        if not plan.ys[row] <= line.box.middle[1] <= plan.ys[row + 1]:
            return []
    return list(range(spot.row + 1, spot.row + spot.row_span))


def _cut_rows(spot: Spot, cuts: Sequence[int]) -> list[Spot]:
    edges = [spot.row, *cuts, spot.row + spot.row_span]
    return [replace(spot, row=a, row_span=b - a) for a, b in pairwise(edges)]


def add_columns(plan: Plan, words: Sequence[Word]) -> Plan:
    """Part a column where nearly all its cells show two texts with one white strip between them."""
    held = spread_words(plan, words)
    new: list[float] = []
    for column in range(plan.columns):
        cells = [w for s, w in held.items() if s.column == column and s.column_span == 1 and w]
        new += [(a + b) / 2 for a, b in _clear_strips(cells)]
    for x in new:
        plan = _insert_column(plan, x, held)
        held = spread_words(plan, words)
    return plan


def _clear_strips(cells: Sequence[Sequence[Word]]) -> list[tuple[float, float]]:
    """White strips with text on both sides in at least four cells of five, and in three at least."""
    lines = [line for words in cells for line in make_lines(words)]
    if len(cells) < 3 or sum(len(line.chunks) > 1 for line in lines) < 0.7 * len(lines):
        return []
    return [(a, b) for a, b in find_gutters(lines) if _on_both_sides(cells, a, b)]


def _on_both_sides(cells: Sequence[Sequence[Word]], a: float, b: float) -> bool:
    if any(w.box.x0 < a - 0.1 and w.box.x1 > b + 0.1 for words in cells for w in words):
        return False
    both = sum(any(w.box.x1 <= a for w in words) and any(w.box.x0 >= b for w in words) for words in cells)
    return both >= 0.8 * len(cells)


def _insert_column(plan: Plan, x: float, held: dict[Spot, list[Word]]) -> Plan:
    """Add a column edge at `x`; cells that cross it are parted if they show text on both sides or none."""
    at = _column_at(plan, x)
    spots: list[Spot] = []
    for spot in plan.spots:
        if spot.column > at:
            spots.append(replace(spot, column=spot.column + 1))
        elif spot.column + spot.column_span <= at:
            spots.append(spot)
        elif spot.column_span > 1 or _crosses(held[spot], x):
            spots.append(replace(spot, column_span=spot.column_span + 1))
        else:
            spots += [spot, replace(spot, column=at + 1)]
    xs = tuple(sorted((*plan.xs, x)))
    return replace(plan, xs=xs, spots=tuple(spots))


def _crosses(words: Sequence[Word], x: float) -> bool:
    return any(w.box.x0 < x < w.box.x1 for w in words)


def add_rows(plan: Plan, words: Sequence[Word]) -> Plan:
    """Part rows that hold several lines of figures, when most of the body's rows do."""
    bands = {r: _text_rows(plan, r, words) for r in range(plan.rows)}
    joined = {r: join_rows([b.copy() for b in found], []) for r, found in bands.items()}
    stacked = {r: rows for r, rows in joined.items() if _is_stack(rows)}
    if len(stacked) < 0.6 * max(plan.rows - 1, 1):
        stacked = {}
    for row, found in bands.items():
        if row not in stacked and len(parts := _parted_by_white(found)) > 1:
            stacked[row] = parts
    for row in sorted(stacked, reverse=True):
        edges = [(a.bottom + b.top) / 2 for a, b in pairwise(stacked[row])]
        held = {spot: mine for spot, mine in spread_words(plan, words).items() if spot.row == row}
        whole = [spot for spot, mine in held.items() if _is_whole(plan, spot, mine)]
        plan = _insert_rows(plan, row, edges, whole)
    return plan


def _is_whole(plan: Plan, spot: Spot, words: Sequence[Word]) -> bool:
    """Tell whether a name of one line stands in the middle of a cell that is drawn over several rows: it is for all."""
    if len(make_lines(words)) != 1 or is_figure(" ".join(word.text for word in words)):
        return False
    middle = (plan.ys[spot.row] + plan.ys[spot.row + 1]) / 2
    return abs(words[0].box.middle[1] - middle) < MIDDLE * words[0].size


def _parted_by_white(bands: Sequence[Band]) -> list[Band]:
    """Blocks of text that a blank line across all columns parts, each with its own label; else one."""
    blocks: list[Band] = []
    first: list[Band] = []
    for band in bands:
        size = max((w.size for words in band.pieces.values() for w in words), default=0.0)
        if blocks and band.top - blocks[-1].bottom < 0.7 * size:
            blocks[-1].absorb(band)
            continue
        blocks.append(band.copy())
        first.append(band)
    labelled = all(LABEL in block.pieces for block in first)
    full = sum(len(block.pieces) > 1 for block in blocks)
    level = all(block.pieces.keys() == head.pieces.keys() for block, head in zip(blocks, first, strict=True))
    return blocks if labelled and level and full > 1 else blocks[:1]


def _text_rows(plan: Plan, row: int, words: Sequence[Word]) -> list[Band]:
    """The bands of text in a ruled row; none when a cell of it spans rows."""
    spots = [s for s in plan.spots if s.row <= row < s.row + s.row_span]
    if any(s.row_span > 1 for s in spots):
        return []
    top, bottom = plan.ys[row], plan.ys[row + 1]
    bands: list[Band] = []
    reach = -1e9
    for line in make_lines([w for w in words if top <= w.box.middle[1] < bottom]):
        core = 0.2 * line.box.height
        if not bands or line.box.top + core >= reach:
            bands.append(Band(top=line.box.top, bottom=line.box.bottom))
        reach = max(reach, line.box.bottom - core)
        for extent, mine in _by_spot(spots, plan, line).items():
            bands[-1].add(extent, mine)
    return bands


def _by_spot(spots: Sequence[Spot], plan: Plan, line: Line) -> dict[Extent, list[Word]]:
    held: dict[Extent, list[Word]] = {}
    for word in line.words:
        column = _column_at(plan, word.box.middle[0])
        for s in spots:
            if s.column <= column < s.column + s.column_span:
                held.setdefault((s.column, s.column + s.column_span - 1), []).append(word)
    return held


def _is_stack(rows: Sequence[Band]) -> bool:
    """Tell whether text rows are rows of the table: whole figures, one below the other, beside labels."""
    full = [row for row in rows if len(row.pieces) > 1]
    if len(full) < 2:
        return False
    columns: dict[Extent, list[str]] = {}
    for row in full:
        for extent in row.pieces:
            columns.setdefault(extent, []).append(row.text(extent))
    figures = [texts for texts in columns.values() if all(is_figure(t) for t in texts) and len(texts) > 1]
    if any(unfinished(t) or t.endswith(".") for texts in columns.values() for t in texts):
        return False
    return bool(figures) and max(len(t) for t in figures) >= 0.6 * len(full)


def _insert_rows(plan: Plan, row: int, edges: Sequence[float], whole: Sequence[Spot]) -> Plan:
    """Part one row at the given heights, all its cells alike but for those that stay whole."""
    extra = len(edges)
    spots: list[Spot] = []
    for spot in plan.spots:
        if spot.row > row:
            spots.append(replace(spot, row=spot.row + extra))
        elif spot in whole:
            spots.append(replace(spot, row_span=extra + 1))
        elif spot.row == row:
            spots += [replace(spot, row=row + k) for k in range(extra + 1)]
        elif spot.row + spot.row_span > row:
            spots.append(replace(spot, row_span=spot.row_span + extra))
        else:
            spots.append(spot)
    ys = tuple(sorted((*plan.ys, *edges)))
    return replace(plan, ys=ys, spots=tuple(spots))
