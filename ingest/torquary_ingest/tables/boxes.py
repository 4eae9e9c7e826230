"""Boxes side by side, each with a text of its own, as beside a drawing: no table and no sentence runs through two."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Page, Word
from torquary_ingest.document.frames import find_gutters
from torquary_ingest.tables.lines import make_lines, words_left
from torquary_ingest.tables.strokes import MOST_RULES, Frame, edges, gather_frames, join_rules
from torquary_schema.values import Box

_LEAST_LINES = 2
"""Lines of a box that says something by itself, at least: a box of one line may be the cell of a table."""

_GAP = 12.0
"""Points of white between boxes that are no cells of one table, at least (own choice)."""

_SIDES = 2
"""Rules across a box, and down: nothing is drawn inside."""


def part_boxes(words: Sequence[Word], page: Page) -> list[Sequence[Word]]:
    """Return all words that stand in no box of text, then those of each."""
    parts = [_inside(box, words) for box in find_text_boxes(page, words)]
    return [words_left(words, (word for part in parts for word in part)), *parts]


def find_text_boxes(page: Page, words: Sequence[Word]) -> list[Box]:
    """Return the boxes that hold several lines and nothing drawn; one right beside another is a table's cell."""
    if len(page.rules) > MOST_RULES:
        return []
    frames = gather_frames(join_rules(page.rules, horizontal=True), join_rules(page.rules, horizontal=False))
    plain = [frame.box for frame in frames if _is_plain(frame)]
    boxes = [box for box in plain if len(make_lines(_inside(box, words))) >= _LEAST_LINES]
    return [box for box in boxes if not any(_meet(box, other) for other in plain if other is not box)]


def _is_plain(frame: Frame) -> bool:
    return all(len(edges(rule.at for rule in rules)) == _SIDES for rules in (frame.across, frame.down))


def _inside(box: Box, words: Sequence[Word]) -> list[Word]:
    return [word for word in words if box.holds(word.box.middle)]


def _meet(box: Box, other: Box) -> bool:
    """Tell whether two boxes stand right beside or under each other, or one holds the other."""
    apart = (box.x1 + _GAP < other.x0, other.x1 + _GAP < box.x0, box.bottom < other.top, other.bottom < box.top)
    return not any(apart)


def part_cards(words: Sequence[Word], page: Page) -> list[list[Word]]:
    """Return the words in columns of cards, where bare shades side by side head them; all as one elsewhere."""
    gutters = [gutter for gutter in find_gutters(page) if gutter.bare]
    parts: dict[int, list[Word]] = {}
    for word in words:
        below = [gutter for gutter in gutters if word.box.top >= gutter.top]
        parts.setdefault(sum(gutter.x1 - 1 <= word.box.x0 for gutter in below) if below else -1, []).append(word)
    return list(parts.values())
