"""All tables of a page, in reading order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from torquary_ingest.document import Page, Rule, Table, Word
from torquary_ingest.tables.aligned import plan_aligned
from torquary_ingest.tables.boxes import part_boxes, part_cards
from torquary_ingest.tables.captions import add_captions
from torquary_ingest.tables.filling import build_table
from torquary_ingest.tables.frames import find_framed
from torquary_ingest.tables.joined import join_parted
from torquary_ingest.tables.kinds import is_dashes, is_leader
from torquary_ingest.tables.merged_cells import without_pieces
from torquary_ingest.tables.named_above import find_named_above
from torquary_ingest.tables.overhead import add_overhead
from torquary_ingest.tables.regions import cut_region, find_regions
from torquary_ingest.tables.spread import spread_centred
from torquary_ingest.tables.stacks import repeated_head
from torquary_ingest.tables.strokes import MOST_RULES, gather_frames, join_rules
from torquary_ingest.tables.turning import turn_page, turn_table_back
from torquary_ingest.tables.under_heads import narrow_heads
from torquary_ingest.tables.upright import print_back, stand_up
from torquary_ingest.tables.verdict import is_table
from torquary_schema.values import Box


def find_tables(page: Page) -> tuple[Table, ...]:
    """Return the page's tables in reading order, numbered from 1; those given by the opener as they are."""
    if page.tables is not None:
        return page.tables
    found: list[Table] = []
    for turn in (0, 90, 270, 180):
        if turn and not any(w.turn == turn for w in page.words):
            continue
        if turn:
            turned, originals = turn_page(page, turn)
            found += [turn_table_back(t, page, turn, originals) for t in _find_upright(turned)]
        else:
            found += _find_upright(page)
    found = _without_overlap(found)
    found.sort(key=lambda t: (t.box.top, t.box.x0) if t.box else (0.0, 0.0))
    return tuple(replace(t, number=k) for k, t in enumerate(found, 1))


def _find_upright(page: Page) -> list[Table]:
    """Tables whose words stand upright on this page, captions and notes added."""
    upright = [w for w in page.words if w.turn == 0]
    tables = add_overhead(_without_overlap(_find_ruled(page)), upright)
    tables += find_named_above(_outside(tables, upright), page.number)
    tables += _find_aligned(page, tables)
    # A table that is given up for another must not take the lines that speak for it.
    return add_captions(join_parted(_without_overlap(tables), upright), upright)


def _find_ruled(page: Page) -> list[Table]:
    across = join_rules(page.rules, horizontal=True)
    down = join_rules(page.rules, horizontal=False)
    if len(across) + len(down) > MOST_RULES:
        return []
    frames = [frame for frame in gather_frames(across, down) if len(frame.across) > 1 and frame.down]
    return find_framed(page, without_pieces(frames, across))


def _outside(tables: Sequence[Table], words: Sequence[Word]) -> list[Word]:
    boxes = [table.box for table in tables if table.box is not None]
    return [word for word in words if not any(box.holds(word.box.middle) for box in boxes)]


def _find_aligned(page: Page, ruled: Sequence[Table]) -> list[Table]:
    """Tables that alignment shows in what the ruled ones leave."""
    boxes = [t.box for t in ruled if t.box is not None]
    left = _outside(ruled, page.words)
    words, printed = stand_up([w for w in left if not is_leader(w.text) or _is_range(w, left)])
    rules = [r for r in join_rules(page.rules, horizontal=True) if not any(_on(r, b) for b in boxes)]
    tables: list[Table] = []
    told = [w for w in words if not is_dashes(w.text)]
    rules += _dash_rules(words)
    upright = tuple(join_rules(page.rules, horizontal=False))
    cards = (card for part in part_boxes(told, page) for card in part_cards(part, page))
    found = (region for card in cards for region in find_regions(card, rules))
    waiting = [replace(region, upright=upright) for region in found]
    while waiting:
        region = waiting.pop(0)
        planned = plan_aligned(region, page.shades)
        if planned is None:
            continue
        table = build_table(*planned, page.number)
        at = repeated_head(table)
        if at is not None and len(parts := cut_region(region, at)) > 1:
            waiting = [replace(part, upright=upright) for part in parts] + waiting
        elif is_table(table, region.bounded):
            tables.append(print_back(spread_centred(narrow_heads(table)), printed))
    return tables


def _is_range(dots: Word, words: Sequence[Word]) -> bool:
    """Tell whether dots stand close between two figures ("2 ... 2.5"), where they lead no eye."""
    near = [
        w
        for w in words
        if w is not dots
        and w.box.level_with(dots.box)
        and max(w.box.x0 - dots.box.x1, dots.box.x0 - w.box.x1) < dots.size
    ]
    before = any(w.text[-1].isdigit() for w in near if w.box.x0 < dots.box.x0)
    return before and any(w.text[0].isdigit() for w in near if w.box.x0 > dots.box.x0)


def _on(rule: Rule, box: Box) -> bool:
    return box.top - 3 <= rule.at <= box.bottom + 3 and rule.start < box.x1 and rule.end > box.x0


def _dash_rules(words: Sequence[Word]) -> list[Rule]:
    """Rows of dashes set as text, as rules."""
    rows = [w for w in words if is_dashes(w.text)]
    return join_rules(
        [Rule(horizontal=True, at=w.box.middle[1], start=w.box.x0, end=w.box.x1) for w in rows],
        horizontal=True,
    )


def _without_overlap(tables: Sequence[Table]) -> list[Table]:
    """Keep the first of tables that share words."""
    kept: list[Table] = []
    taken: set[int] = set()
    for table in tables:
        mine = {id(w) for c in table.cells for w in c.words}
        if not mine & taken:
            kept.append(table)
            taken |= mine
    return kept
