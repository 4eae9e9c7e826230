"""Pages turned so that sideways print stands upright, and tables turned back."""

from __future__ import annotations

from dataclasses import replace

from torquary_ingest.document import Page, Rule, Shade, Table, Word
from torquary_schema.values import Box


def turn_box(box: Box, turn: int, width: float, height: float) -> Box:
    """The box on a page of this width and height, turned against the clock by `turn` degrees."""
    if turn == 90:
        return Box(x0=box.top, top=width - box.x1, x1=box.bottom, bottom=width - box.x0)
    if turn == 180:
        return Box(x0=width - box.x1, top=height - box.bottom, x1=width - box.x0, bottom=height - box.top)
    if turn == 270:
        return Box(x0=height - box.bottom, top=box.x0, x1=height - box.top, bottom=box.x1)
    return box


def turn_rule(rule: Rule, turn: int, width: float, height: float) -> Rule:
    """The rule on the turned page."""
    if rule.horizontal:
        box = Box(x0=rule.start, top=rule.at, x1=rule.end, bottom=rule.at)
    else:
        box = Box(x0=rule.at, top=rule.start, x1=rule.at, bottom=rule.end)
    new = turn_box(box, turn, width, height)
    if rule.horizontal == (turn == 180):
        return replace(rule, horizontal=True, at=new.top, start=new.x0, end=new.x1)
    return replace(rule, horizontal=False, at=new.x0, start=new.top, end=new.bottom)


def turn_page(page: Page, turn: int) -> tuple[Page, dict[int, Word]]:
    """Turn the page against the clock, so that words printed at `turn` degrees are upright.

    The second value gives each turned word's original, by the turned word's identity.
    """
    w, h = page.width, page.height
    words, originals = [], {}
    for word in page.words:
        box = turn_box(word.box, turn, w, h)
        new = replace(word, box=box, turn=(word.turn - turn) % 360, baseline=box.bottom)
        words.append(new)
        originals[id(new)] = word
    turned = replace(
        page,
        width=h if turn in (90, 270) else w,
        height=w if turn in (90, 270) else h,
        words=tuple(words),
        rules=tuple(turn_rule(r, turn, w, h) for r in page.rules),
        shades=tuple(Shade(box=turn_box(s.box, turn, w, h), colour=s.colour) for s in page.shades),
    )
    return turned, originals


def turn_table_back(table: Table, page: Page, turn: int, originals: dict[int, Word]) -> Table:
    """The table with its boxes and words as they stand on `page`, the page before it was turned."""
    back = (360 - turn) % 360
    width = page.height if turn in (90, 270) else page.width
    height = page.width if turn in (90, 270) else page.height

    def place(box: Box | None) -> Box | None:
        return None if box is None else turn_box(box, back, width, height)

    cells = tuple(
        replace(c, box=place(c.box), words=tuple(originals[id(w)] for w in c.words)) for c in table.cells
    )
    return replace(table, box=place(table.box), cells=cells)
