"""Glyphs to pieces: characters that one text run puts one behind another, without a blank between them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from torquary_ingest.openers.pdf.colours import grey_of
from torquary_ingest.openers.pdf.letters import clean_character, is_unreadable
from torquary_ingest.openers.pdf.paint import Bounds, Glyph
from torquary_schema.values import Box

GAP = 0.17
"""A blank wider than this part of the font size parts two words; the narrowest word spaces are 0.2 em."""

BACK = 0.3
"""Kerning may pull a glyph back by this part of the font size at most."""

EXACT = 0.04
"""Text of another show operator goes on where the last one ended, within this part of the font size."""

WIDE = 0.5
"""Letters are spaced out by at most this part of the font size; more is a way to another column."""

SAME_PLACE = 0.12
"""The same glyph drawn again within this part of the font size is one glyph made bold; no two characters
of a word stand so close, for the narrowest are 0.2 em wide."""

BAND = 4.0
"""Height in points of the bands by which glyphs drawn twice are looked up."""

NO_SPREAD: Bounds = (0.0, 0.0, 0.0, 0.0)


@dataclass(slots=True, kw_only=True)
class Piece:
    """Characters in a row, in the frame of their own direction: `start`, `end` along it, `base` across it.

    `base` grows downwards as the text's reader sees it, so a raised piece has the smaller one. `parted` says
    that a blank was drawn behind it, however narrow. `spread` and `bars` are as in `Word`.
    """

    text: str
    start: float
    end: float
    base: float
    size: float
    turn: int
    box: Bounds
    font: str
    order: int
    hidden: str = ""
    bold: bool = False
    cut: bool = False
    unreadable: bool = False
    pale: bool = False
    parted: bool = False
    spread: Bounds = NO_SPREAD
    bars: tuple[Box, ...] = ()
    fonts: set[int] = field(default_factory=set)
    stops: list[tuple[float, float]] = field(default_factory=list)


def along(turn: int, x: float, y: float) -> tuple[float, float]:
    """Return a point in the frame of a text direction: (along the line, across it downwards)."""
    if turn == 90:
        return y, -x
    if turn == 180:
        return -x, -y
    if turn == 270:
        return -y, x
    return x, y


def drop_doubles(glyphs: Iterable[Glyph]) -> list[tuple[Glyph, bool, Bounds]]:
    """Leave out glyphs drawn again at the same place; True beside those that were (a bold look), and their spread."""
    kept: list[tuple[Glyph, bool, Bounds]] = []
    near: dict[tuple[str, int, int], list[int]] = defaultdict(list)
    for glyph in glyphs:
        band = int(glyph.y // BAND)
        twin = None if glyph.text == " " else _find_twin(glyph, band, kept, near)
        if twin is None:
            near[(glyph.text, glyph.turn, band)].append(len(kept))
            kept.append((glyph, False, _spread(glyph, glyph) if glyph.stroke else NO_SPREAD))
        else:
            first, _, spread = kept[twin]
            kept[twin] = (first, True, surround_both(spread, _spread(glyph, first)))
    return kept


def _find_twin(
    glyph: Glyph, band: int, kept: list[tuple[Glyph, bool, Bounds]], near: dict[tuple[str, int, int], list[int]]
) -> int | None:
    """Return the index of the glyph that this one is drawn over, of several the last."""
    reach = max(glyph.size * SAME_PLACE, 0.1)
    text, x, y, turn = glyph.text, glyph.x, glyph.y, glyph.turn
    bands = [band]
    if y - reach < band * BAND + 0.01:
        bands.append(band - 1)
    if y + reach > (band + 1) * BAND - 0.01:
        bands.append(band + 1)
    twin = None
    for down in bands:
        for index in near.get((text, turn, down), ()):
            other = kept[index][0]
            if abs(x - other.x) <= reach and abs(y - other.y) <= reach and _same_height(glyph, other):
                twin = index
    return twin


def _spread(glyph: Glyph, first: Glyph) -> Bounds:
    """Return how far a glyph's ink lies beyond the outline of the one first drawn."""
    x, y, stroke = glyph.x - first.x, glyph.y - first.y, glyph.stroke
    return surround_both(NO_SPREAD, (x - stroke, y - stroke, x + stroke, y + stroke))


def _same_height(glyph: Glyph, other: Glyph) -> bool:
    return abs(glyph.size - other.size) <= 0.1 * glyph.size


def make_pieces(seen: Sequence[tuple[Glyph, str]]) -> list[Piece]:
    """Return the pieces of a page in painting order from its glyphs, each with why it is hidden ("" if not).

    The reason stands in `hidden` of the piece.
    """
    live = drop_doubles(glyph for glyph, hidden in seen if hidden in ("", "cut"))
    bold = {glyph.order for glyph, doubled, _ in live if doubled}
    stay = {glyph.order: spread for glyph, _, spread in live}
    pieces: list[Piece] = []
    last: Glyph | None = None
    for glyph, hidden in seen:
        if hidden in ("", "cut") and glyph.order not in stay:
            continue
        text = clean_character(glyph.text)
        if not text:
            continue
        if not text.strip():
            if last is not None:
                pieces[-1].parted = True
            last = None
            continue
        follows = last is not None and _follows(last, glyph)
        kind = "" if hidden == "cut" else hidden
        if follows and pieces[-1].hidden == kind and _same_size(last, glyph):
            _append(pieces[-1], glyph, text)
        else:
            if follows and _same_size(last, glyph) and last is not None and last.run == glyph.run:
                # One text, half of it hidden: what is left may be the half of a number.
                pieces[-1].cut = True
            pieces.append(_begin(glyph, text, kind))
            if follows and len(pieces) > 1 and pieces[-2].cut and _same_size(last, glyph):
                pieces[-1].cut = True
        piece = pieces[-1]
        piece.cut = piece.cut or hidden == "cut"
        if (spread := stay.get(glyph.order, NO_SPREAD)) != NO_SPREAD:
            piece.spread = surround_both(piece.spread, spread)
        piece.bold = piece.bold or glyph.order in bold or glyph.render == 2 or names_bold(glyph.font)
        piece.unreadable = piece.unreadable or is_unreadable(text)
        last = glyph
    return pieces


def _follows(last: Glyph, glyph: Glyph) -> bool:
    turn = glyph.turn
    if turn != last.turn:
        return False
    if turn < 0:
        return glyph.run == last.run
    if turn == 0:
        due, base, start, line = last.end_x, last.end_y, glyph.x, glyph.y
    else:
        due, base = along(turn, last.end_x, last.end_y)
        start, line = along(turn, glyph.x, glyph.y)
    size = last.size if last.size >= glyph.size else glyph.size
    # A new show operator may begin the next cell: only an exact continuation is taken without looking at rules.
    ahead = GAP if glyph.run == last.run else EXACT
    # Letters may be spaced out on purpose; spacing wider than that only moves the pen to another place.
    due += last.spacing if last.spacing <= WIDE * size else 0.0
    return -BACK * size <= start - due <= ahead * size and abs(line - base) <= 0.06 * size


def _same_size(last: Glyph | None, glyph: Glyph) -> bool:
    return last is not None and abs(last.size - glyph.size) <= 0.1 * max(last.size, glyph.size)


@lru_cache(maxsize=256)
def names_bold(font: str) -> bool:
    """Tell whether a font's name says that it is bold."""
    name = font.lower()
    return any(part in name for part in ("bold", "black", "heavy", "demi"))


def _begin(glyph: Glyph, text: str, hidden: str) -> Piece:
    start, base = along(glyph.turn, glyph.x, glyph.y)
    end, _ = along(glyph.turn, glyph.end_x, glyph.end_y)
    return Piece(
        text=text,
        start=start,
        end=end,
        base=base,
        size=glyph.size,
        turn=glyph.turn,
        box=glyph.box,
        font=glyph.font,
        order=glyph.order,
        hidden=hidden,
        pale=glyph.alpha < 0.6 or grey_of(glyph.colour) >= 0.55,
        fonts={glyph.font_key},
        stops=[(start, end)] * len(text),
    )


def _append(piece: Piece, glyph: Glyph, text: str) -> None:
    if glyph.turn == 0:
        start, end = glyph.x, glyph.end_x
    else:
        start, _ = along(glyph.turn, glyph.x, glyph.y)
        end, _ = along(glyph.turn, glyph.end_x, glyph.end_y)
    piece.text += text
    if end > piece.end:
        piece.end = end
    piece.stops += [(start, end)] * len(text)
    piece.fonts.add(glyph.font_key)
    piece.box = surround_both(piece.box, glyph.box)


def surround_both(one: Bounds, other: Bounds) -> Bounds:
    """Return the smallest rectangle round both."""
    x0, top, x1, bottom = one
    left, upper, right, lower = other
    return (
        left if left < x0 else x0,
        upper if upper < top else top,
        right if right > x1 else x1,
        lower if lower > bottom else bottom,
    )
