"""Cards set side by side on a page: the blank between two shades of one height parts what is printed."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from torquary_ingest.document.page import Page
from torquary_schema.values import Box

if TYPE_CHECKING:
    from collections.abc import Sequence

    from torquary_ingest.document.lines import Line

_LEVEL = 2.0
"""Points by which the edges of two cards at one height may differ (own choice)."""

_NARROWEST, _WIDEST = 3.0, 60.0
"""Points between two cards: less is a rule of a table, more a margin (own choice)."""

_HIGH = 45.0
"""Height in points from which a shade is no row of a table (own choice)."""

_CARD = 80.0
"""Width of a card in points at least (own choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gutter:
    """The blank between cards, from `x0` to `x1`, from `top` on down the page; points.

    `bare`: nothing is printed on the shades beside it, or they are higher than lines: they are no cells of a table.
    """

    x0: float
    x1: float
    top: float
    bare: bool = False

    def parts(self, left: Box, right: Box) -> bool:
        """Tell whether the blank stands between two boxes on one line."""
        return left.top >= self.top - _LEVEL and left.x1 <= self.x0 + 1 and self.x1 - 1 <= right.x0


def find_gutters(page: Page) -> tuple[Gutter, ...]:
    """Return the blanks between shades that stand side by side, each once, from the highest pair on."""
    found: dict[tuple[int, int], Gutter] = {}
    boxes = sorted({_key(shade.box): shade.box for shade in page.shades}.values(), key=lambda box: (box.top, box.x0))
    for level in _levels(boxes):
        for left, right in pairwise(sorted(level, key=lambda box: box.x0)):
            wide = left.width >= _CARD and right.width >= _CARD
            if wide and _NARROWEST <= right.x0 - left.x1 <= _WIDEST:
                bare = left.height > _HIGH or not any(left.holds(word.box.middle) for word in page.words)
                gutter = Gutter(x0=left.x1, x1=right.x0, top=left.top, bare=bare)
                found.setdefault((round(gutter.x0), round(gutter.x1)), gutter)
    return tuple(found.values())


def _key(box: Box) -> tuple[int, ...]:
    return (round(box.x0), round(box.top), round(box.x1), round(box.bottom))


def _levels(boxes: Sequence[Box]) -> list[list[Box]]:
    levels: list[list[Box]] = []
    for box in boxes:
        same = next((one for one in levels if _is_level(one[0], box)), None)
        if same is None:
            levels.append([box])
        else:
            same.append(box)
    return levels


def _is_level(one: Box, other: Box) -> bool:
    return abs(one.top - other.top) <= _LEVEL and abs(one.bottom - other.bottom) <= _LEVEL


def in_frames(lines: Sequence[Line], gutters: Sequence[Gutter]) -> list[list[Line]]:
    """Return the lines in columns of cards, from left to right; a line over a gutter, or above, is in the first."""
    columns: dict[int, list[Line]] = {0: []}
    for line in lines:
        before = sum(gutter.x1 - 1 <= line.box.x0 and line.box.top >= gutter.top - _LEVEL for gutter in gutters)
        columns.setdefault(before, []).append(line)
    return [columns[at] for at in sorted(columns)]
