"""Words put into the cells of a plan, and blank columns and rows taken out."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence

from torquary_ingest.document import Cell, Table, Word
from torquary_ingest.tables.plan import Plan, Spot
from torquary_ingest.tables.wording import reading_order, text_of
from torquary_schema.values import Box

RUN = 0.5
"""Share of the font size: words no further apart run on."""


def spread_words(plan: Plan, words: Sequence[Word]) -> dict[Spot, list[Word]]:
    """Give each word to one cell: the one that holds most of it.

    A word across a column edge goes with the text that it runs on from (a long label printed over the edge),
    or else with the text that runs on from it.
    """
    at = {
        (r, c): spot
        for spot in plan.spots
        for r in range(spot.row, spot.row + spot.row_span)
        for c in range(spot.column, spot.column + spot.column_span)
    }
    held: dict[Spot, list[Word]] = {spot: [] for spot in plan.spots}
    for word in words:
        row = _band(plan.ys, word.box.top, word.box.bottom)
        column = _band(plan.xs, word.box.x0, word.box.x1)
        edge = crossed_edge(plan.xs, word)
        if edge is not None and edge not in (0, plan.columns):
            column = _run_column(plan, edge, word, words, column)
        held[at[row, column]].append(word)
    for edge in range(1, plan.columns):
        _give_back(plan, held, at, edge)
    return held


def _give_back(
    plan: Plan, held: dict[Spot, list[Word]], at: Mapping[tuple[int, int], Spot], edge: int
) -> None:
    """Give words behind an edge back to the text that crosses it, where nothing else stands on their line there."""
    x = plan.xs[edge]
    for row in range(plan.rows):
        left, right = at[row, edge - 1], at[row, edge]
        over = [w for w in held[left] if left is not right and w.turn == 0 and w.box.x0 < x < w.box.x1 - 1]
        for word in over:
            level = [w for w in held[right] if word.box.level_with(w.box)]
            line = _running_on(word, sorted(level, key=lambda w: w.box.x0))
            if line and len(line) == len(level):
                held[right] = [w for w in held[right] if not any(w is one for one in line)]
                held[left] += line


def _running_on(word: Word, following: Sequence[Word]) -> list[Word]:
    """The words that go on from a word, one after another."""
    line = [word]
    for other in following:
        if not runs_on(line[-1], other):
            break
        line.append(other)
    return line[1:]


def crossed_edge(xs: Sequence[float], word: Word) -> int | None:
    """Number of the column edge that leaves a fair share of the upright word on either side."""
    if word.turn != 0:
        return None
    margin = max(0.5, 0.1 * word.box.width)
    return next((k for k, x in enumerate(xs) if word.box.x0 + margin < x < word.box.x1 - margin), None)


def runs_on(left: Word, right: Word) -> bool:
    """Tell whether the two words stand on one line, no further apart than a word space."""
    level = left.box.level_with(right.box)
    return level and -0.2 * right.size < right.box.x0 - left.box.x1 < RUN * right.size


def _run_column(plan: Plan, edge: int, word: Word, words: Sequence[Word], most: int) -> int:
    """The column beside the crossed edge whose text the word goes with; `most` when neither's."""
    x = plan.xs[edge]
    if any(runs_on(w, word) and w.box.x1 <= x for w in words if w is not word):
        return edge - 1
    if any(runs_on(word, w) and w.box.x0 >= x for w in words if w is not word):
        return edge
    return most


def _band(edges: Sequence[float], start: float, end: float) -> int:
    """Number of the band between edges that holds most of the stretch from `start` to `end`."""
    last = len(edges) - 2
    first = min(max(bisect_right(edges, start) - 1, 0), last)
    final = min(max(bisect_right(edges, end) - 1, 0), last)
    return max(range(first, final + 1), key=lambda k: min(end, edges[k + 1]) - max(start, edges[k]))


def build_table(plan: Plan, held: Mapping[Spot, Sequence[Word]], page: int) -> Table:
    """Make the table: cells with their words, blank columns and rows dropped. `number` is set later."""
    rows = _kept(plan.rows, [(s.row, s.row_span) for s, w in held.items() if w])
    columns = _kept(plan.columns, [(s.column, s.column_span) for s, w in held.items() if w])
    cells: list[Cell] = []
    for spot in sorted(plan.spots, key=lambda s: (s.row, s.column)):
        mine = [r for r in rows if spot.row <= r < spot.row + spot.row_span]
        yours = [c for c in columns if spot.column <= c < spot.column + spot.column_span]
        if not mine or not yours:
            continue
        cells.append(
            make_cell(
                held[spot],
                row=rows.index(mine[0]) + 1,
                column=columns.index(yours[0]) + 1,
                row_span=len(mine),
                column_span=len(yours),
                box=plan.spot_box(spot),
            )
        )
    return Table(
        page=page,
        number=1,
        rows=len(rows),
        columns=len(columns),
        cells=tuple(cells),
        box=plan.box,
        means=plan.means,
    )


def make_cell(
    words: Sequence[Word], *, row: int, column: int, row_span: int, column_span: int, box: Box
) -> Cell:
    """One cell from its words: text, marks and doubts collected in reading order."""
    ordered = reading_order(words)
    return Cell(
        row=row,
        column=column,
        row_span=row_span,
        column_span=column_span,
        text=text_of(words),
        box=box,
        marks=tuple(m for w in ordered for m in w.marks),
        doubts=tuple(dict.fromkeys(d for w in ordered for d in w.doubts)),
        words=ordered,
    )


def _kept(count: int, filled: Sequence[tuple[int, int]]) -> list[int]:
    """Bands that hold text of their own, or are all that a spanning text has."""
    kept = {start for start, span in filled if span == 1}
    for start, span in filled:
        if span > 1 and not any(k in kept for k in range(start, start + span)):
            kept.add(start)
    return [k for k in range(count) if k in kept]
