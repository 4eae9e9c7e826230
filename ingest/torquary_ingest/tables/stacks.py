"""Tables that touch: a plan parted where a heading row comes again or the columns change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.document import Cell, Table, Word
from torquary_ingest.tables.filling import spread_words
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.plan import Plan, Spot
from torquary_ingest.tables.wording import text_of

LONG = 8
"""Words: a row across all columns with as many is a sentence, not a heading of a section."""


def part_stack(plan: Plan, words: Sequence[Word]) -> list[Plan]:
    """Return the tables that the plan holds, from the top down; one when it is one."""
    held = spread_words(plan, words)
    starts = sorted({0, *_repeated_heads(plan, held), *_new_columns(plan, held)})
    ends = [*starts[1:], plan.rows]
    return [_rows_of(plan, *_without_text_rows(plan, held, a, b)) for a, b in zip(starts, ends, strict=True)]


def _without_text_rows(plan: Plan, held: dict[Spot, list[Word]], first: int, end: int) -> tuple[int, int]:
    """Leave out rows above and below that are one long text across: a title, notes. They become lines."""
    while end - first > 2 and _is_text_row(plan, held, first):
        first += 1
    while end - first > 2 and _is_text_row(plan, held, end - 1):
        end -= 1
    return first, end


def _is_text_row(plan: Plan, held: dict[Spot, list[Word]], row: int) -> bool:
    spots = [s for s in plan.spots if s.row <= row < s.row + s.row_span]
    return len(spots) == 1 and spots[0].row_span == 1 and len(held[spots[0]]) >= LONG


def _texts(held: dict[Spot, list[Word]], row: int) -> dict[tuple[int, int], str]:
    return {
        (s.column, s.column_span): " ".join(text_of(w).split())
        for s, w in held.items()
        if s.row == row and w
    }


def _whole(plan: Plan, row: int) -> bool:
    """Tell whether no cell spans over the upper edge of the row."""
    return all(not s.row < row < s.row + s.row_span for s in plan.spots)


def _repeated_heads(plan: Plan, held: dict[Spot, list[Word]]) -> list[int]:
    """Rows, from 0, that print the first row's headings again (a unit may differ)."""
    head = _texts(held, 0)
    if len(head) < 2 or sum(is_figure(t) for t in head.values()) > 0.3 * len(head):
        return []
    starts: list[int] = []
    for row in range(2, plan.rows - 1):
        texts = _texts(held, row)
        same = sum(texts.get(place) == text for place, text in head.items())
        if texts and texts.keys() == head.keys() and same >= 0.5 * len(head) and _whole(plan, row):
            starts.append(row)
    return starts


def _new_columns(plan: Plan, held: dict[Spot, list[Word]]) -> list[int]:
    """Rows from which on the cells stand at other column edges than all rows above."""
    inner = [_inner_edges(plan, row) for row in range(plan.rows)]
    starts: list[int] = []
    above: set[int] = set(inner[0])
    begun = 0
    for row in range(1, plan.rows):
        edges = inner[row]
        foreign = bool(edges - above) and bool(above - edges) and len(edges & above) <= 0.5 * len(edges)
        if foreign and row - begun > 1 and plan.rows - row > 1 and _whole(plan, row):
            rest = set().union(*inner[row:])
            if len(rest & above) <= 0.5 * min(len(rest), len(above)):
                starts.append(row)
                above, begun = set(edges), row
                continue
        above |= edges
    return starts


def _inner_edges(plan: Plan, row: int) -> set[int]:
    return {s.column for s in plan.spots if s.row <= row < s.row + s.row_span and s.column > 0}


def _rows_of(plan: Plan, first: int, end: int) -> Plan:
    if (first, end) == (0, plan.rows):
        return plan
    spots = tuple(replace(s, row=s.row - first) for s in plan.spots if first <= s.row < end)
    return replace(plan, ys=plan.ys[first : end + 1], spots=spots)


def repeated_head(table: Table) -> float | None:
    """Height at which a table prints its first row's headings again; None when it does not."""
    rows: dict[int, dict[int, Cell]] = {}
    for cell in table.cells:
        if cell.text:
            rows.setdefault(cell.row, {})[cell.column] = cell
    head = rows.get(1, {})
    if len(head) < 2 or any(is_figure(c.text) for c in head.values()):
        return None
    for row in range(3, table.rows):
        texts = rows.get(row, {})
        same = sum(k in texts and texts[k].text == c.text for k, c in head.items())
        if texts.keys() == head.keys() and same >= 0.5 * len(head):
            return min(w.box.top for c in texts.values() for w in c.words)
    return None
