"""Visible straight lines of a page: strokes, hairline rectangles and rows of dashes, merged; shades and pictures."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from itertools import pairwise
from typing import NamedTuple

from torquary_ingest.document import Picture, Rule, Shade
from torquary_ingest.openers.pdf.colours import ALIKE, grey_of
from torquary_ingest.openers.pdf.paint import Bounds, Colour, Painting, Path, meet
from torquary_ingest.openers.pdf.visibility import Grounds
from torquary_ingest.openers.pdf.words import as_box

HAIRLINE = 2.5
"""A filled rectangle up to this thick, in points, and four times as long is a rule."""

SHORTEST = 4.0
"""A line shorter than this, in points, that belongs to no row of dashes is ink and not a rule."""

LONG = 16.0
"""A line of this length, in points, is a rule and never a drawn dash between two figures."""

TOUCH = 1.0
"""Collinear lines with at most this gap, in points, are one rule."""


class Stretch(NamedTuple):
    """A straight line as painted, before merging. `path` is the paint it came from."""

    horizontal: bool
    at: float
    start: float
    end: float
    thickness: float
    path: Path

    @property
    def length(self) -> float:
        """Length in points."""
        return self.end - self.start


def find_stretches(painting: Painting, grounds: Grounds) -> list[Stretch]:
    """Return every visible axis-parallel line of the page."""
    found: list[Stretch] = []
    for path in painting.paths:
        if not path.shown:
            continue
        if path.stroked and path.stroke_alpha > 0.05:
            found += _stroked(path)
        if path.filled and path.fill_alpha > 0.05 and path.rectangle:
            found += _hairline(path)
    window = painting.bounds
    clipped = (_clip(one, meet(one.path.clip, window)) for one in found)
    return [one for one in clipped if one is not None and _is_visible(one, grounds)]


def _stroked(path: Path) -> list[Stretch]:
    points = list(path.points)
    if not path.straight:
        return []
    if path.closed:
        points.append(points[0])
    found = []
    for (x0, y0), (x1, y1) in pairwise(points):
        if abs(y0 - y1) <= 0.3 and abs(x0 - x1) > 0.3:
            found.append(Stretch(True, (y0 + y1) / 2, min(x0, x1), max(x0, x1), path.width, path))
        elif abs(x0 - x1) <= 0.3 and abs(y0 - y1) > 0.3:
            found.append(Stretch(False, (x0 + x1) / 2, min(y0, y1), max(y0, y1), path.width, path))
    return found


def _hairline(path: Path) -> list[Stretch]:
    x0, top, x1, bottom = path.box
    across, down = x1 - x0, bottom - top
    if down <= HAIRLINE and across >= 4 * down:
        return [Stretch(True, (top + bottom) / 2, x0, x1, down, path)]
    if across <= HAIRLINE and down >= 4 * across:
        return [Stretch(False, (x0 + x1) / 2, top, bottom, across, path)]
    return []


def _clip(one: Stretch, clip: Bounds) -> Stretch | None:
    low, high, near, far = (
        (clip[0], clip[2], clip[1], clip[3]) if one.horizontal else (clip[1], clip[3], clip[0], clip[2])
    )
    half = one.thickness / 2 + 0.5
    if not near - half <= one.at <= far + half:
        return None
    start, end = max(one.start, low), min(one.end, high)
    return one._replace(start=start, end=end) if end - start > 0.1 else None


def _is_visible(one: Stretch, grounds: Grounds) -> bool:
    stroked = one.path.stroked and not (one.path.filled and one.path.rectangle and one.thickness != one.path.width)
    colour: Colour | None = one.path.stroke_colour if stroked else one.path.fill_colour
    shows = 0
    for part in (0.2, 0.5, 0.8):
        where = one.start + part * (one.end - one.start)
        x, y = (where, one.at) if one.horizontal else (one.at, where)
        blank = grounds.is_blank(colour, x, y, one.path.order)
        hidden = any(_inside(ground.box, x, y) for ground in grounds.at(x, y) if ground.order > one.path.order)
        shows += not blank and not hidden
    return shows >= 1


def _inside(box: Bounds, x: float, y: float) -> bool:
    """Tell whether the point lies well inside: a fill that only abuts a rule does not cover it."""
    return box[0] + 1 < x < box[2] - 1 and box[1] + 1 < y < box[3] - 1


def merge_stretches(stretches: Iterable[Stretch]) -> tuple[list[Rule], list[Stretch], set[int]]:
    """Return the rules, the stretches too short and lonely to be any, and the paint orders of long rules.

    What is too short is ink of some other meaning; what belongs to a long rule is certainly none.
    """
    lanes: dict[tuple[bool, int], list[Stretch]] = defaultdict(list)
    for one in sorted(stretches, key=lambda line: (line.horizontal, line.at)):
        lanes[(one.horizontal, _lane(lanes, one))].append(one)
    rules: list[Rule] = []
    loose: list[Stretch] = []
    ruled: set[int] = set()
    for (horizontal, _), lane in lanes.items():
        for chain in _chains(sorted(lane, key=lambda line: line.start)):
            start, end = chain[0].start, max(one.end for one in chain)
            if end - start < SHORTEST:
                loose += chain
                continue
            if end - start >= LONG:
                ruled.update(one.path.order for one in chain)
            at = sum(one.at * max(one.length, 0.1) for one in chain) / sum(max(one.length, 0.1) for one in chain)
            thickness = max(one.thickness for one in chain)
            rules.append(Rule(horizontal=horizontal, at=at, start=start, end=end, thickness=thickness))
    return rules, loose, ruled


def _lane(lanes: dict[tuple[bool, int], list[Stretch]], one: Stretch) -> int:
    """Return the number of the lane at about the line's place: within 0.6 points of its first line."""
    number = round(one.at / 0.6)
    for near in (number, number - 1):
        lane = lanes.get((one.horizontal, near))
        if lane and abs(lane[0].at - one.at) <= 0.6:
            return near
    return number


def _chains(lane: list[Stretch]) -> list[list[Stretch]]:
    """Part a lane where it is interrupted; short pieces in a regular row are dashes of one rule."""
    chains: list[list[Stretch]] = []
    for one in lane:
        if chains and one.start - max(part.end for part in chains[-1][-3:]) <= _reach(chains[-1], one):
            chains[-1].append(one)
        else:
            chains.append([one])
    return chains


def _reach(chain: list[Stretch], one: Stretch) -> float:
    last = chain[-1]
    if max(last.length, one.length) <= 14 and min(last.length, one.length) >= 0.2:
        return max(TOUCH, min(2.5 * max(last.length, one.length), 9.0))
    return TOUCH


def find_shades(painting: Painting, grounds: Grounds) -> list[Shade]:
    """Return the filled areas that differ from the bare page and are not covered later."""
    shades = []
    for path in painting.paths:
        if not (path.filled and path.rectangle and path.shown and path.fill_alpha > 0.05):
            continue
        box = meet(meet(path.box, path.clip), painting.bounds)
        if box[2] - box[0] <= HAIRLINE or box[3] - box[1] <= HAIRLINE or path.fill_colour is None:
            continue
        alpha = path.fill_alpha
        mixed = tuple(part * alpha + 1 - alpha for part in path.fill_colour)
        x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
        covered = any(ground.order > path.order for ground in grounds.at(x, y))
        if min(mixed) < 1 - ALIKE / 3 and not covered:
            shades.append(Shade(box=as_box(box), colour=grey_of((mixed[0], mixed[1], mixed[2]))))
    return shades


def find_pictures(painting: Painting) -> list[Picture]:
    """Return the raster pictures that show on the page."""
    boxes = [meet(meet(image.box, image.clip), painting.bounds) for image in painting.images if image.shown]
    return [Picture(box=as_box(box)) for box in boxes if box[2] - box[0] > 1 and box[3] - box[1] > 1]
