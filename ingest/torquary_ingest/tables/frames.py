"""Tables that rules frame: candidates for each frame, and the one that explains the page best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.document import Doubt, Page, Rule, Shade, Table, Word
from torquary_ingest.tables.aligned import plan_aligned
from torquary_ingest.tables.filling import build_table, crossed_edge, runs_on, spread_words
from torquary_ingest.tables.lines import make_chunks, make_lines
from torquary_ingest.tables.overhang import words_within
from torquary_ingest.tables.plan import Plan
from torquary_ingest.tables.refine import refine
from torquary_ingest.tables.regions import frame_region
from torquary_ingest.tables.ruled import plan_ruled
from torquary_ingest.tables.stacks import part_stack
from torquary_ingest.tables.strokes import NEAR, REACH, Frame
from torquary_ingest.tables.verdict import is_grid, is_table, loose_share

SIDEWAYS = 0.8
"""Share of words printed at one turn that makes what they stand in sideways."""

_SHADED_ROW = 0.5
"""Share of a frame's height that a shaded row of it has at most (own choice)."""

_ACROSS = 0.95
"""Share of a frame's width that a shaded row of it covers at least (own choice)."""

_BORDER = 0.85
"""Shares of the page's width and height from which a frame is its border (own choice)."""


def find_framed(page: Page, frames: Sequence[Frame]) -> list[Table]:
    """Tables in frames, the smallest frames first; a word in one is not looked at again in a larger one."""
    taken: set[int] = set()
    tables: list[Table] = []
    shaded = (_with_shades(frame, page.shades) for frame in frames)
    for frame in sorted(shaded, key=lambda f: f.box.width * f.box.height):
        words = words_within(frame.box, [w for w in page.words if id(w) not in taken])
        if not words or sum(w.turn != 0 for w in words) >= SIDEWAYS * len(words):
            continue
        found = _tables_of(frame, words, page)
        taken.update(id(w) for t in found for c in t.cells for w in c.words)
        tables += found
    return tables


def _with_shades(frame: Frame, shades: Sequence[Shade]) -> Frame:
    """Return a frame with the edges of rows shaded from side to side as rules: a shaded row needs none beneath."""
    box = frame.box
    rows = [
        shade.box
        for shade in shades
        if shade.box.height < _SHADED_ROW * box.height
        and min(shade.box.x1, box.x1) - max(shade.box.x0, box.x0) >= _ACROSS * box.width
        and box.top - NEAR <= shade.box.top
        and shade.box.bottom <= box.bottom + NEAR
    ]
    ats = [at for row in rows for at in (row.top, row.bottom)]
    new = [at for at in ats if not any(abs(rule.at - at) <= REACH for rule in frame.across)]
    added = (Rule(horizontal=True, at=at, start=box.x0, end=box.x1) for at in new)
    return replace(frame, across=tuple(sorted((*frame.across, *added), key=lambda rule: rule.at)))


def _tables_of(frame: Frame, words: Sequence[Word], page: Page) -> list[Table]:
    """The frame's tables: ruled where rules explain the text, aligned where only the text shows columns."""
    ruled = _ruled(frame, words, page.number)
    if ruled and max(loose_share(t) for t in ruled) <= 0.2:
        return ruled
    aligned = _aligned(frame, words, page) if not _borders(frame, page) else None
    if aligned is not None and (not ruled or loose_share(aligned) < max(loose_share(t) for t in ruled)):
        return [aligned]
    return ruled


def _borders(frame: Frame, page: Page) -> bool:
    """Tell whether a frame is the border of a drawing's page: what stands in it is no table for that."""
    return frame.box.width >= _BORDER * page.width and frame.box.height >= _BORDER * page.height


def _ruled(frame: Frame, words: Sequence[Word], page: int) -> list[Table]:
    plan = plan_ruled(frame, words)
    if plan is None:
        return []
    inside = words_within(plan.box, words)
    tables = []
    for part in part_stack(refine(plan, inside), inside):
        mine = [w for w in inside if part.ys[0] <= w.box.middle[1] < part.ys[-1] + 0.01]
        table = build_table(part, spread_words(part, mine), page)
        if is_grid(table):
            tables.append(replace(table, doubts=_doubts(part, table, mine)))
    return tables


def _aligned(frame: Frame, words: Sequence[Word], page: Page) -> Table | None:
    planned = plan_aligned(frame_region(words, frame.across, frame.box), page.shades)
    if planned is None:
        return None
    table = build_table(*planned, page.number)
    return table if is_table(table, bounded=True) else None


def _doubts(plan: Plan, table: Table, words: Sequence[Word]) -> tuple[Doubt, ...]:
    """A doubt when a figure lies across a drawn edge, or two stand far apart in one cell."""
    for word in words:
        if _has_digit(word.text) and _torn(plan, word, words):
            return (Doubt(code="readings_differ", message=f"{word.text!r} lies across the rule of two cells"),)
    for cell in table.cells:
        for line in make_lines(cell.words):
            chunks = make_chunks(line.words, 2.0)
            if len(chunks) > 1 and sum(_has_digit(c.text) for c in chunks) > 1 and table.columns > 1:
                return (
                    Doubt(
                        code="readings_differ",
                        message=f"{cell.text!r} may be one cell by the rules, several by the gaps",
                    ),
                )
    return ()


def _has_digit(text: str) -> bool:
    return any(c.isdigit() for c in text)


def _torn(plan: Plan, word: Word, words: Sequence[Word]) -> bool:
    """Tell whether a word lies across a cell's side, and no text that it runs on from says where it belongs."""
    edge = crossed_edge(plan.xs, word)
    if edge is None or any(runs_on(w, word) for w in words if w is not word):
        return False
    return any(
        s.column == edge and plan.spot_box(s).top <= word.box.middle[1] < plan.spot_box(s).bottom
        for s in plan.spots
    )
