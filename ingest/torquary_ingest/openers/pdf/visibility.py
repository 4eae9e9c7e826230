"""Tells for each glyph whether a reader of the page can see it, and if not, why.

What areas, colours and opacities leave open, the rendered page decides: how much of a text's ink shows there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Sequence
from typing import NamedTuple

from torquary_ingest.openers.pdf.colours import look_alike
from torquary_ingest.openers.pdf.paint import Bounds, Colour, Glyph, Painting, Wash, meet, shared_part

BAND = 24.0
"""Height in points of the bands by which grounds are looked up."""

COVERED = 0.6
"""A glyph whose core is covered by more than this part is not read."""

BROAD = 3.0
"""A stroke of so many points may cover a line of text, or bear one."""

CLEAR = 0.05
"""Less opacity changes nothing that is seen."""

SHOWS, LOST = 0.9, 0.25
"""A glyph of whose ink so much shows is seen whole; one of whose ink less shows is not seen."""

PAGE_PICTURE = 0.3
"""A picture over this part of the page may be a scan with its recognised text beneath or above."""


FindShares = Callable[[Sequence[Glyph], Collection[int]], dict[int, float]]
"""From the glyphs of a page and the `order` of those asked for to the share of ink that shows, where it can be told."""

WHITE = (1.0, 1.0, 1.0)
"""The bare page."""


class Ground(NamedTuple):
    """An opaque area that later marks stand on: a fill of a colour, or a picture (`colour` None)."""

    box: Bounds
    colour: Colour | None
    order: int
    picture: bool


class Grounds:
    """All opaque areas of a page, in painting order, found by place."""

    def __init__(self, painting: Painting) -> None:
        self._bands: dict[int, list[Ground]] = defaultdict(list)
        self._page = painting.bounds
        found = [*_fills(painting), *_pictures(painting)]
        self._washes: dict[int, list[Wash]] = defaultdict(list)
        for wash in _washes(painting):
            for band in _bands(wash.box):
                self._washes[band].append(wash)
        self._veils = [
            (meet(image.box, image.clip), image.order)
            for image in painting.images
            if image.shown and (image.clear or image.stencil)
        ]
        for ground in sorted(found, key=lambda one: one.order):
            for band in _bands(ground.box):
                self._bands[band].append(ground)

    def is_bare(self, y: float) -> bool:
        """Tell whether no area at all lies at that height of the page, nor a veil anywhere."""
        return not self._veils and not self._bands.get(int(y // BAND)) and not self._washes.get(int(y // BAND))

    def at(self, x: float, y: float) -> list[Ground]:
        """Return the areas that hold the point, in painting order."""
        return [
            ground
            for ground in self._bands.get(int(y // BAND), ())
            if ground.box[0] <= x <= ground.box[2] and ground.box[1] <= y <= ground.box[3]
        ]

    def beneath(self, x: float, y: float, order: int) -> Ground | None:
        """Return the area that a mark painted at `order` stands on; None: the bare page."""
        under = [ground for ground in self.at(x, y) if ground.order < order]
        return under[-1] if under else None

    def is_blank(self, colour: Colour | None, x: float, y: float, order: int) -> bool:
        """Tell whether a mark of the colour would not show at the point."""
        ground = self.beneath(x, y, order)
        return look_alike(colour, WHITE if ground is None else ground.colour)

    def over(self, box: Bounds, order: int) -> list[Ground]:
        """Return the areas painted after `order` that reach into the box."""
        middle = ((box[1] + box[3]) / 2) // BAND
        return [
            ground
            for ground in self._bands.get(int(middle), ())
            if ground.order > order and shared_part(box, ground.box) > 0
        ]

    def is_washed(self, box: Bounds, order: int) -> bool:
        """Tell whether an area that may hide what lies beneath was painted over the box after `order`."""
        band = int((box[1] + box[3]) / 2 // BAND)
        return any(wash.order > order and shared_part(box, wash.box) > 0 for wash in self._washes.get(band, ()))

    def is_plain(self, x: float, y: float) -> bool:
        """Tell whether the point lies on the bare page."""
        washes = self._washes.get(int(y // BAND), ())
        return not self.at(x, y) and not any(
            box[0] <= x <= box[2] and box[1] <= y <= box[3] for box in [wash.box for wash in washes]
        )

    def is_veiled(self, box: Bounds, order: int) -> bool:
        """Tell whether a later, partly transparent picture lies over the box."""
        return any(veil_order > order and shared_part(box, veil) > 0.2 for veil, veil_order in self._veils)

    def picture_at(self, x: float, y: float) -> bool:
        """Tell whether a picture lies at the point, in front or behind."""
        return any(ground.picture for ground in self.at(x, y))

    def is_page_picture(self, ground: Ground) -> bool:
        """Tell whether the area is a picture that takes a good part of the page."""
        return ground.picture and shared_part(self._page, ground.box) >= PAGE_PICTURE


def _fills(painting: Painting) -> list[Ground]:
    grounds = []
    for path in painting.paths:
        if not (path.filled and path.rectangle and path.shown and path.fill_alpha >= 0.95):
            continue
        box = meet(meet(path.box, path.clip), painting.bounds)
        if box[2] - box[0] > 2.5 and box[3] - box[1] > 2.5:
            grounds.append(Ground(box, path.fill_colour, path.order, False))
    return grounds


def _washes(painting: Painting) -> list[Wash]:
    """Return the areas of which only the rendered page tells what they hide and what shows on them.

    Fills that are no rectangles, that mix or let through, patterns, broad strokes, shadings, pictures with clear parts.
    """
    washes = list(painting.washes)
    for path in painting.paths:
        open_fill = path.filled and not (path.rectangle and path.fill_alpha >= 0.95 and path.fill_colour is not None)
        broad = path.stroked and path.width >= BROAD and path.stroke_alpha > CLEAR
        if path.shown and ((open_fill and path.fill_alpha > CLEAR) or broad):
            reach = path.width / 2 if broad else 0.0
            x0, top, x1, bottom = path.box
            washes.append(Wash(meet((x0 - reach, top - reach, x1 + reach, bottom + reach), path.clip), path.order))
    washes += [Wash(meet(one.box, one.clip), one.order) for one in painting.images if one.shown and one.clear]
    return [Wash(meet(wash.box, painting.bounds), wash.order) for wash in washes]


def _bands(box: Bounds) -> range:
    return range(int(box[1] // BAND), int(box[3] // BAND) + 1)


def _pictures(painting: Painting) -> list[Ground]:
    return [
        Ground(meet(meet(image.box, image.clip), painting.bounds), None, image.order, True)
        for image in painting.images
        if image.shown and not image.stencil and not image.clear
    ]


def find_hidden(glyph: Glyph, page: Bounds, grounds: Grounds) -> str:
    """Return why the glyph cannot be seen: "" when it can.

    "layer", "outside", "clipped", "blank" (the ground's colour), "covered", "cut" (partly covered or veiled),
    "invisible" (no ink is drawn, no picture there) and "recognised" (no ink is drawn, or it lies under a
    picture: text recognised from a scan, which only the picture can vouch for).
    """
    if not glyph.shown:
        return "layer"
    core = x0, top, x1, bottom = _core(glyph)
    x, y = (x0 + x1) / 2, (top + bottom) / 2
    if not (page[0] <= x <= page[2] and page[1] <= y <= page[3]):
        return "outside"
    clip = glyph.clip
    whole = clip[0] <= x0 < x1 <= clip[2] and clip[1] <= top < bottom <= clip[3]
    inside = 1.0 if whole else shared_part(core, clip)
    if inside < 0.4:
        return "clipped"
    if glyph.render in (3, 7) or glyph.alpha < 0.05:
        return "recognised" if grounds.picture_at(x, y) else "invisible"
    if whole and grounds.is_bare(y):
        return "blank" if look_alike(glyph.colour, WHITE) else ""
    later = grounds.over(core, glyph.order)
    if any(shared_part(core, ground.box) >= COVERED for ground in later):
        scan = any(grounds.is_page_picture(ground) for ground in later)
        return "recognised" if scan else "covered"
    if grounds.is_blank(glyph.colour, x, y, glyph.order):
        return "blank"
    partly = any(shared_part(core, ground.box) > 0.2 for ground in later)
    return "cut" if partly or inside < 0.8 or grounds.is_veiled(core, glyph.order) else ""


def judge_all(painting: Painting, grounds: Grounds, find_shares: FindShares | None = None) -> list[tuple[Glyph, str]]:
    """Return each glyph with why it cannot be seen ("" when it can); `find_shares` renders what is left open."""
    judged = [(glyph, find_hidden(glyph, painting.bounds, grounds)) for glyph in painting.glyphs]
    open_ones = {glyph.order for glyph, hidden in judged if _is_open(glyph, hidden, grounds)}
    if not open_ones or find_shares is None:
        return judged
    shares = find_shares(painting.glyphs, open_ones)
    return [(glyph, _settle(hidden, shares.get(glyph.order))) for glyph, hidden in judged]


def _is_open(glyph: Glyph, hidden: str, grounds: Grounds) -> bool:
    """Tell whether only the rendered page can say if the glyph shows."""
    if not glyph.text.strip() or hidden in ("layer", "outside", "clipped", "recognised"):
        return False
    core = x0, top, x1, bottom = _core(glyph)
    if hidden == "blank":
        return not grounds.is_plain((x0 + x1) / 2, (top + bottom) / 2)
    if hidden == "invisible":
        return glyph.render not in (3, 7) and glyph.alpha > 0.01
    if hidden == "cut" and shared_part(core, glyph.clip) < 0.8:
        return False
    return hidden in ("covered", "cut") or glyph.unsure or grounds.is_washed(core, glyph.order)


def _settle(hidden: str, share: float | None) -> str:
    if share is None:
        return hidden
    if share >= SHOWS:
        return ""
    return "cut" if share >= LOST else (hidden if hidden not in ("", "cut") else "covered")


def _core(glyph: Glyph) -> Bounds:
    """Return the middle of the glyph's box: its ink without side bearings, ascenders and descenders."""
    x0, top, x1, bottom = glyph.box
    across, down = (x1 - x0), (bottom - top)
    if across <= 0 or down <= 0:
        return (x0, top, max(x1, x0 + 0.1), max(bottom, top + 0.1))
    return (x0 + across * 0.15, top + down * 0.25, x1 - across * 0.15, bottom - down * 0.25)
