"""Glyph pictures proved once in a document need not be recognised again."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document import Doubt
from torquary_ingest.witness.faces import fold_mark, judge_shape
from torquary_ingest.witness.habits import is_readable
from torquary_ingest.witness.shapes import Shape, compare_shapes
from torquary_ingest.witness.view import Glyph

_SAME = 0.90
_SAME_BY = 0.03
_ONE_PICTURE = 0.97
_KEPT = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """`proved`: the picture is known to show the character. `doubt`: it is known to show another."""

    proved: bool
    seen: str
    doubt: Doubt | None = None


class Proofs:
    """Pictures of glyphs that were proved to show their character, by font and character."""

    def __init__(self) -> None:
        self._known: dict[str, dict[str, list[Shape]]] = {}

    def judge(self, glyph: Glyph, shape: Shape) -> Verdict:
        """Compare a glyph with what its font has shown before, and with the standard faces."""
        char = fold_mark(glyph.char)
        if not is_readable(char):
            return Verdict(proved=True, seen=glyph.char)
        if any(_equal(shape, known, _ONE_PICTURE) for known in self._known.get(glyph.font, {}).get(char, ())):
            return Verdict(proved=True, seen=glyph.char)
        verdict, seen = judge_shape(shape, char)
        twin = "" if verdict else self._twin(glyph.font, char, shape)
        if verdict is False or twin:
            seen = twin or seen
            message = f"the text layer says {glyph.char!r} where the page shows a glyph like {seen!r}"
            return Verdict(proved=False, seen=seen, doubt=Doubt(code="text_differs_from_picture", message=message))
        if char.isdecimal() and shape.pieces != 1:
            return Verdict(proved=False, seen=glyph.char)
        if verdict or self._seen_before(glyph.font, char, shape):
            return Verdict(proved=True, seen=glyph.char)
        return Verdict(proved=False, seen=glyph.char)

    def learn(self, shapes: list[tuple[Glyph, Shape]]) -> None:
        """Keep the pictures of a cell that was proved."""
        for glyph, shape in shapes:
            pictures = self._known.setdefault(glyph.font, {}).setdefault(fold_mark(glyph.char), [])
            if len(pictures) < _KEPT and all(not _equal(shape, known, _ONE_PICTURE) for known in pictures):
                pictures.append(shape)

    def _twin(self, font: str, char: str, shape: Shape) -> str:
        """Return the other figure of the same font that was proved to look exactly like this one."""
        if not char.isdecimal():
            return ""
        for name, pictures in self._known.get(font, {}).items():
            if name != char and name.isdecimal() and any(_equal(shape, known, _ONE_PICTURE) for known in pictures):
                return name
        return ""

    def _seen_before(self, font: str, char: str, shape: Shape) -> bool:
        known = self._known.get(font, {})
        own = max((compare_shapes(shape, s) for s in known.get(char, ()) if _equal(shape, s, _SAME)), default=0.0)
        other = max((compare_shapes(shape, s) for name in known if name != char for s in known[name]), default=0.0)
        return own >= _SAME and own >= other + _SAME_BY


def _equal(one: Shape, other: Shape, likeness: float) -> bool:
    """Tell whether two pictures show one glyph: same outline, size and place on the line."""
    return (
        abs(one.high - other.high) <= 0.08
        and abs(one.low - other.low) <= 0.08
        and one.pieces == other.pieces
        and compare_shapes(one, other) >= likeness
    )
