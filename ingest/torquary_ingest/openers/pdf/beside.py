"""Pictures beside live text: what stands together is read together, by itself, and what was read is not read again.

Their page is mostly blank beside them, and looking through it costs as much as looking at them.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from torquary_ingest.document import Rule, Word
from torquary_ingest.scans import Budget, Scan, may_show_print, read_scan
from torquary_schema.values import Box

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

Known = dict[tuple[tuple[int, ...], bytes], Scan]
"""What the pictures read so far show, by their pixels: a mark of the house stands on every page."""

_NEAR = 8.0
"""Points between pictures that stand together: one is often stored in strips or tiles."""

_GROUND = 12.0
"""Points of blank ground around a picture: print at its edge is found as in the middle of a page."""

_ROW = 3
"""Marks of a row: a picture without any holds no print, even one of several that hold a figure between them."""


def read_groups(
    grey: NDArray[numpy.uint8], scale: float, boxes: Iterable[Box], budget: Budget, known: Known
) -> Scan:
    """Return what the pictures in the boxes show, its words and rules as they lie on the page.

    `grey` is the page with nothing but them, `scale` its pixels a point. Where one of them could not be read, `fault`
    says why, and nothing is given.
    """
    scans = []
    for place in _find_groups(boxes):
        scan = _read_group(_cut_out(grey, place, scale), scale, max(grey.shape), budget, known)
        scans.append(_put_on_page(scan, place))
    told = next((one for one in scans if one.fault), None) or next((one for one in scans if one.words), scans[0])
    if told.fault:
        return told
    return replace(
        told,
        words=tuple(word for one in scans for word in one.words),
        rules=tuple(rule for one in scans for rule in one.rules),
        missed=sum(one.missed for one in scans),
    )


def _find_groups(boxes: Iterable[Box]) -> list[Box]:
    """Return the boxes of what stands together, from the top."""
    groups: list[Box] = []
    for box in boxes:
        near = [one for one in groups if _is_near(one, box)]
        while near:
            groups = [one for one in groups if one not in near]
            box = _around([box, *near])
            near = [one for one in groups if _is_near(one, box)]
        groups.append(box)
    return sorted(groups, key=lambda one: (one.top, one.x0))


def _is_near(one: Box, other: Box) -> bool:
    across = max(one.x0, other.x0) - min(one.x1, other.x1)
    down = max(one.top, other.top) - min(one.bottom, other.bottom)
    return max(across, down) <= _NEAR


def _around(boxes: list[Box]) -> Box:
    return Box(
        x0=min(one.x0 for one in boxes),
        top=min(one.top for one in boxes),
        x1=max(one.x1 for one in boxes),
        bottom=max(one.bottom for one in boxes),
    )


def _cut_out(grey: NDArray[numpy.uint8], place: Box, scale: float) -> NDArray[numpy.uint8]:
    import numpy as np

    rows, columns = pixels_of(place, scale)
    return np.pad(grey[rows, columns], round(_GROUND * scale), constant_values=255)


def _read_group(
    part: NDArray[numpy.uint8], scale: float, longest: int, budget: Budget, known: Known
) -> Scan:
    """Return what a part of a page shows; `longest` are the pixels of the page's longer side."""
    key = (part.shape, hashlib.sha256(part.tobytes()).digest())
    if key not in known:
        blank = Scan((), (), 0, 0.0, part, scale)
        shows = may_show_print(part, scale, _ROW)
        scan = read_scan(part, scale, budget, min(1.0, max(part.shape) / longest)) if shows else blank
        if scan.fault:
            return scan
        known[key] = scan
    return known[key]


def _put_on_page(scan: Scan, place: Box) -> Scan:
    """Return the scan of a part with its words and rules where they lie on the page."""
    words, rules = _turn_back(scan)
    x, y = (math.floor(side * scan.scale) / scan.scale - _GROUND for side in (max(place.x0, 0), max(place.top, 0)))
    return replace(
        scan, words=tuple(_move_words(words, x, y)), rules=tuple(_move_rule(rule, x, y) for rule in rules)
    )


def _move_words(words: Iterable[Word], x: float, y: float) -> Iterator[Word]:
    for word in words:
        box = word.box
        moved = Box(x0=box.x0 + x, top=box.top + y, x1=box.x1 + x, bottom=box.bottom + y)
        yield replace(word, box=moved, baseline=word.baseline + y)


def _move_rule(rule: Rule, x: float, y: float) -> Rule:
    along, across = (x, y) if rule.horizontal else (y, x)
    return replace(rule, at=rule.at + across, start=rule.start + along, end=rule.end + along)


def pixels_of(box: Box, scale: float) -> tuple[slice, slice]:
    """Return the rows and columns of pixels that a box takes at `scale` pixels a point."""
    rows = slice(max(0, math.floor(box.top * scale)), max(0, math.ceil(box.bottom * scale)))
    return rows, slice(max(0, math.floor(box.x0 * scale)), max(0, math.ceil(box.x1 * scale)))


def _turn_back(scan: Scan) -> tuple[list[Word], list[Rule]]:
    """Return words and rules as they lie on the page, whose live text stands upright."""
    words, rules = list(scan.words), list(scan.rules)
    for turned in range((360 - scan.turned) // 90 % 4):
        # A quarter turn clockwise: what was down the page is now leftwards.
        high = (scan.grey.shape[0] if turned % 2 == 0 else scan.grey.shape[1]) / scan.scale
        words = [replace(w, box=_quarter(w.box, high), turn=(w.turn + 90) % 360) for w in words]
        rules = [
            replace(r, horizontal=not r.horizontal, at=high - r.at)
            if r.horizontal
            else replace(r, horizontal=True, start=high - r.end, end=high - r.start)
            for r in rules
        ]
    return words, rules


def _quarter(box: Box, high: float) -> Box:
    """Return a box turned by 90 degrees clockwise; `high` is the height of the page before."""
    return Box(x0=high - box.bottom, top=box.x0, x1=high - box.top, bottom=box.x1)
