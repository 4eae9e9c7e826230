"""Fractions set with a small figure above a drawn bar and another beneath it, right behind a whole number."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from torquary_ingest.document import Rule
from torquary_ingest.openers.pdf.fractions import Lines
from torquary_ingest.openers.pdf.pieces import Piece, surround_both
from torquary_ingest.openers.pdf.ruling import Stretch
from torquary_schema.values import Box

_PART = re.compile(r"^\d{1,2}$")
_WHOLE = re.compile(r"(?:^|\D)\d{1,3}$")
_DENOMINATORS = frozenset((2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64))
_SMALL = 0.85
"""The parts are at most this part of the whole number's size."""


@dataclass(slots=True, kw_only=True)
class Stacked:
    """Pieces with each stacked fraction as one ("1/2"), the rules and short strokes left, and the bars used."""

    pieces: list[Piece]
    rules: list[Rule]
    loose: list[Stretch]
    bars: list[Box] = field(default_factory=list)


def join_stacked(pieces: Sequence[Piece], rules: Sequence[Rule], loose: Sequence[Stretch]) -> Stacked:
    """Put the parts of stacked fractions together; a bar that is one is no rule of a table and no dash.

    Only what can be nothing else: two small figures that stand centred over and under a stroke about as wide as they,
    the upper one less than the lower, behind a figure that stands between them.
    """
    made = Stacked(pieces=list(pieces), rules=list(rules), loose=list(loose))
    upright = [piece for piece in pieces if piece.turn == 0]
    strokes: list[Rule | Stretch] = [*rules, *loose]
    short = [one for one in strokes if one.horizontal and one.end - one.start <= 16]
    if not short:
        return made
    lines = Lines(upright)
    for upper in upright:
        lowers = [piece for piece in upright if _stands_over(upper, piece)] if _PART.match(upper.text) else []
        bars = [bar for bar in short if len(lowers) == 1 and _parts(bar, upper, lowers[0])]
        if len(bars) != 1 or not _has_whole(upper, lowers[0], lines):
            continue
        made.pieces = [piece for piece in made.pieces if piece is not upper and piece is not lowers[0]]
        made.pieces.append(_as_one(upper, lowers[0], bars[0]))
        made.rules = [rule for rule in made.rules if rule is not bars[0]]
        made.loose = [one for one in made.loose if one is not bars[0]]
        made.bars.append(_box_of(bars[0]))
    return made


def _stands_over(upper: Piece, lower: Piece) -> bool:
    size = upper.size
    return (
        _PART.match(lower.text) is not None
        and abs(lower.size - size) <= 0.1 * size
        and abs(upper.start + upper.end - lower.start - lower.end) <= 0.4 * size
        and 0.75 * size <= lower.base - upper.base <= 1.6 * size
        and int(lower.text) in _DENOMINATORS
        and 0 < int(upper.text) < int(lower.text)
    )


def _parts(bar: Rule | Stretch, upper: Piece, lower: Piece) -> bool:
    wide = max(upper.end - upper.start, lower.end - lower.start)
    return (
        upper.base - 0.05 * upper.size <= bar.at <= lower.base - 0.6 * lower.size
        and abs(bar.start + bar.end - upper.start - upper.end) <= 0.6 * upper.size
        and 0.7 * wide <= bar.end - bar.start <= wide + 0.6 * upper.size
    )


def _has_whole(upper: Piece, lower: Piece, lines: Lines) -> bool:
    """Tell whether a whole number of a larger size ends right before the parts, its line between their two."""
    start = min(upper.start, lower.start)
    return any(
        _WHOLE.search(whole.text)
        and upper.size <= _SMALL * whole.size
        and -0.1 <= (start - whole.end) / whole.size <= 0.3
        and upper.base < whole.base - 0.1 * whole.size
        and abs(lower.base - whole.base) <= 0.45 * whole.size
        and whole.hidden == upper.hidden == lower.hidden
        for whole in lines.before(start, lower.base, upper.size / _SMALL * 1.3)
    )


def _as_one(upper: Piece, lower: Piece, bar: Rule | Stretch) -> Piece:
    return replace(
        upper,
        text=f"{upper.text}/{lower.text}",
        start=min(upper.start, lower.start),
        end=max(upper.end, lower.end),
        base=lower.base,
        box=surround_both(upper.box, lower.box),
        cut=upper.cut or lower.cut,
        unreadable=upper.unreadable or lower.unreadable,
        parted=lower.parted,
        spread=surround_both(upper.spread, lower.spread),
        fonts=upper.fonts | lower.fonts,
        stops=[*upper.stops, *lower.stops],
        bars=(_box_of(bar),),
    )


def _box_of(bar: Rule | Stretch) -> Box:
    half = bar.thickness / 2
    return Box(x0=bar.start, x1=bar.end, top=bar.at - half, bottom=bar.at + half)
