"""Fractions set with small digits: a raised numerator, a slash, a denominator."""

from __future__ import annotations

import functools
import re
from collections import defaultdict
from collections.abc import Sequence

from torquary_ingest.openers.pdf.pieces import Piece, surround_both

_UPPER = re.compile(r"^\d{1,2}[/⁄]?$")
_LOWER = re.compile(r"^[/⁄]?\d{1,3}$")


class Lines:
    """Pieces found by where they start."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self._cells: dict[tuple[int, int], list[Piece]] = defaultdict(list)
        self._ends: dict[tuple[int, int], list[Piece]] = defaultdict(list)
        for piece in pieces:
            self._cells[(int(piece.start // 16), int(piece.base // 16))].append(piece)
            self._ends[(int(piece.end // 16), int(piece.base // 16))].append(piece)

    def before(self, start: float, base: float, size: float) -> list[Piece]:
        """Return the pieces that end near `start` on about the same line."""
        low, high = start - 0.35 * size, start + 0.35 * size
        return [
            piece
            for across in range(int(low // 16), int(high // 16) + 1)
            for down in range(int((base - size) // 16), int((base + size) // 16) + 1)
            for piece in self._ends.get((across, down), ())
            if low <= piece.end <= high and abs(piece.base - base) <= size
        ]

    def after(self, end: float, base: float, size: float) -> list[Piece]:
        """Return the pieces that start near `end` on about the same line, nearest first."""
        low, high = end - 0.35 * size, end + 0.5 * size
        found = [
            piece
            for across in range(int(low // 16), int(high // 16) + 1)
            for down in range(int((base - size) // 16), int((base + size) // 16) + 1)
            for piece in self._cells.get((across, down), ())
            if low <= piece.start <= high and abs(piece.base - base) <= size
        ]
        return sorted(found, key=lambda piece: abs(piece.start - end))


def join_fractions(pieces: list[Piece]) -> list[Piece]:
    """Put a raised numerator, its slash and its denominator together into one piece "1/2"."""
    lines = Lines(pieces)
    gone: set[int] = set()
    joined: list[Piece] = []
    for piece in pieces:
        if id(piece) in gone or not _UPPER.match(piece.text):
            continue
        parts = _fraction_parts(piece, lines)
        if not parts or any(id(part) in gone for part in parts):
            continue
        gone.update(id(part) for part in parts)
        whole = "".join(part.text for part in parts).replace("⁄", "/")
        last = parts[-1]
        box = parts[0].box
        for part in parts[1:]:
            box = surround_both(box, part.box)
        joined.append(
            Piece(
                text=whole,
                start=piece.start,
                end=last.end,
                base=max(part.base for part in parts),
                size=last.size,
                turn=piece.turn,
                box=box,
                font=piece.font,
                order=piece.order,
                hidden=piece.hidden,
                cut=any(part.cut for part in parts),
                fonts={key for part in parts for key in part.fonts},
                spread=functools.reduce(surround_both, (part.spread for part in parts)),
                stops=[stop for part in parts for stop in part.stops],
            )
        )
    return [piece for piece in pieces if id(piece) not in gone] + joined


def _fraction_parts(upper: Piece, lines: Lines) -> list[Piece]:
    parts = [upper]
    if not upper.text.endswith(("/", "⁄")):
        for slash in lines.after(upper.end, upper.base, upper.size * 1.6):
            if slash is not upper and slash.text in ("/", "⁄") and _touches(upper, slash):
                parts.append(slash)
                break
    for lower in lines.after(parts[-1].end, upper.base, upper.size * 1.6):
        slashes = "".join(part.text for part in [*parts, lower])
        if (
            lower not in parts
            and _LOWER.match(lower.text)
            and len(re.findall("[/⁄]", slashes)) == 1
            and 0.8 <= lower.size / upper.size <= 1.25
            and lower.base - upper.base >= 0.1 * upper.size
            and _touches(parts[-1], lower)
        ):
            return [*parts, lower]
    return []


def _touches(left: Piece, right: Piece) -> bool:
    reach = 0.25 * max(left.size, right.size)
    return -1.6 * reach <= right.start - left.end <= reach
