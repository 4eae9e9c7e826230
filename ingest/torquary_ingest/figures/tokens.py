"""A printed cell as tokens: numbers, dashes, units, limits, brackets, words. Nothing is left out.

The grammars (`torque.lark`, `conductor.lark`) say how tokens combine; this module knows only spellings.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from torquary_ingest.figures.mixed_numbers import FRACTION, read_fraction
from torquary_ingest.figures.numbers import NUMBER, DecimalMark, Number, read_number
from torquary_ingest.figures.phrases import phrase_pattern, phrases
from torquary_ingest.lexis.endings import spell_endings
from torquary_ingest.lexis.threads import match_metric
from torquary_schema.glyphs import Folded, fold_glyphs
from torquary_schema.units import UnitMatch, find_units

_BLANK = " \t\u2009"
_DASHES = re.compile(r"\.{2,6}|\u22ef|[-‐‑‒–—―−﹣\u00ad~〜～∼˜⁓〰÷]+")
_PLUS_MINUS = re.compile(r"[±∓]|\+[ ]?/?[ ]?[-−–]")
_SPACED_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?: \d{3})+(?:[.,]\d+)?(?![\d])(?![.,]\d)")
_NUMBER = re.compile(NUMBER)
_BROKEN_ELLIPSIS = re.compile(rf"\.[{_BLANK}]+(?=\d+[.,]\d)")
_BROKEN = re.compile(r"[.,]\s+(?=\d)|\s+[.,](?=\d)|[.,]\s*\Z")
_AUGHT = re.compile(r"(?:[1-4]/0|0{2,4})(?![\d.,/])")
_HASH = re.compile(r"(?:#|№|No\.?)\s*(?=\d)", re.IGNORECASE)
_TIMES = re.compile(r"[x×✕✖*](?=\s*(?:[(\[]?\s*\d|max|min|AWG|≤))", re.IGNORECASE)
_DIAMETER = re.compile(r"[ØøΦφ⌀∅](?=\s*\d)|(?:dia\.?|diam\.?)(?=\s*\d)", re.IGNORECASE)
_NOTE = re.compile(r"[⁰¹²³⁴⁵⁶⁷⁸⁹*†‡§①-⓿]+|(?<=[\s\w.])\d\)(?!\w)")
_WORD = re.compile(r"[^\W\d_](?:[^\W_]|[.'’-](?=[^\W\d_]))*\.?")
_SUSPENDED = re.compile(r"(?:[^\W\d_]{2,}[-‐‑]\s*(?:,|/|&|,?\s[^\W\d]{1,5}\s)\s*)+[^\W\d_]{4,}")
"""Words cut at a hyphen because the last one ends alike: "ein-/feindrähtig"."""
_SIGN_TYPES = {"MIN": "FROM_SIGN", "MAX": "UPTO_SIGN"}
_SINGLE = {"(": "LP", "[": "LP", "{": "LP", ")": "RP", "]": "RP", "}": "RP", "%": "PERCENT", "/": "SLASH", "⁄": "SLASH",
           "=": "EQ", ":": "EQ", "→": "EQ", ";": "SEP", "|": "SEP", "、": "SEP", "¦": "SEP", "•": "SEP", "+": "PLUS",
           "【": "LP", "】": "RP", "「": "LP", "」": "RP", "≈": "JUNK", "‰": "JUNK"}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A token. `start` and `end` are offsets in the folded text.

    `fraction` is "" for plain numbers, "glyph" for a fraction that cannot be anything else, "mixed" for
    "5 1/2", "slash" for "1/2", which may also be two figures. `spaced`: thousands with a plain blank.
    """

    type: str
    text: str
    start: int
    end: int
    number: Number | None = None
    fraction: str = ""
    spaced: bool = False
    unit: UnitMatch | None = None


class Tokeniser:
    """Cuts one cell into pieces. `pieces()` gives them; characters without a meaning become JUNK."""

    def __init__(self, printed: str, decimal_mark: DecimalMark) -> None:
        self.printed = printed
        self.folded: Folded = fold_glyphs(printed)
        self.text = spell_endings(self.folded.text)
        self._mark = decimal_mark
        self._units = {u.start: u for u in find_units(self.text)}
        self._out: list[Piece] = []
        self._steps: tuple[Callable[[int], Piece | None], ...] = (
            self._unit, self._broken, self._aught, self._fraction, self._number, self._thread, self._phrase,
            self._sign, self._note, self._single, self._word,
        )  # fmt: skip

    def printed_piece(self, start: int, end: int) -> str:
        """Return the printed text behind offsets of the folded text, without blanks at the ends."""
        return self.folded.printed(self.printed, start, end).strip()

    def pieces(self) -> list[Piece]:
        """Return the tokens from left to right; line ends that only wrap an expression are dropped."""
        position = 0
        while position < len(self.text):
            character = self.text[position]
            if character in "\n\r\v\f\u2028\u2029" and self._broken(position) is None:
                self._add(Piece(type="NL", text="\n", start=position, end=position + 1))
                position += 1
            elif character.isspace() and self._broken(position) is None:
                position += 1
            else:
                position = self._take(position)
        return list(_drop_wraps(self._out))

    def _add(self, piece: Piece) -> int:
        self._out.append(piece)
        return piece.end

    def _take(self, position: int) -> int:
        for step in self._steps:
            piece = step(position)
            if piece is not None:
                return self._add(piece)
        return self._add(self._piece("JUNK", position, position + 1))

    def _piece(self, kind: str, start: int, end: int) -> Piece:
        return Piece(type=kind, text=self.text[start:end], start=start, end=end)

    def _last(self) -> Piece | None:
        return next((p for p in reversed(self._out) if p.type != "NL"), None)

    def _unit(self, position: int) -> Piece | None:
        unit = self._units.get(position)
        if unit is None:
            return None
        if unit.printed == "#" and self.text[unit.end : unit.end + 2].strip()[:1].isdecimal():
            return None
        return Piece(type="UNIT", text=unit.printed, start=unit.start, end=unit.end, unit=unit)

    def _behind_number(self) -> Piece | None:
        last = self._out[-1] if self._out else None
        return last if last is not None and last.type == "NUM" else None

    def _broken(self, position: int) -> Piece | None:
        last = self._behind_number()
        if last is None or last.end != position or last.fraction:
            return None
        marked = any(m in last.text for m in ".,")
        ellipsis = _BROKEN_ELLIPSIS.match(self.text, position)
        if ellipsis and marked:
            return self._piece("DASH", position, ellipsis.end())
        broken = _BROKEN.match(self.text, position)
        if broken is None or (marked and broken.end() == len(self.text)):
            return None  # "2.5." ends a sentence; of "2," a digit may have been cut off
        following = _NUMBER.match(self.text, broken.end())
        listed = broken[0][0] == "," and "\n" not in broken[0]
        if listed and (marked or (following is not None and any(m in following[0] for m in ".,"))):
            return self._piece("SEP", position, position + 1)
        return self._piece("BROKEN", position, broken.end())

    def _glued_before(self, position: int) -> bool:
        before = self.text[position - 1] if position else ""
        if before.isdecimal():
            return True  # digits of another token
        ascii_letter = before.isalpha() and ord(before) < 0x3000
        last = self._out[-1] if self._out else None
        return (ascii_letter or before in "._,'") and before != "" and (last is None or last.type in ("WORD", "JUNK"))

    def _glued_after(self, end: int) -> bool:
        after = self.text[end : end + 1]
        if not after.isalpha() or ord(after) >= 0x3000 or end in self._units:
            return False
        words = ("DASH", "MAX", "MIN", "MORE", "LESS")
        return not any(phrase_pattern(k).match(self.text, end) for k in words) and not _TIMES.match(self.text, end)

    def _aught(self, position: int) -> Piece | None:
        match = _AUGHT.match(self.text, position)
        if match is None or self._glued_before(position):
            return None
        return self._piece("AUGHT", position, match.end())

    def _fraction(self, position: int) -> Piece | None:
        match = FRACTION.match(self.text, position)
        if match is None or self._glued_before(position):
            return None
        made = read_fraction(match)
        if made is None or self._glued_after(match.end()):
            return None
        return Piece(type="NUM", text=match[0], start=position, end=match.end(), number=made[0], fraction=made[1])

    def _number(self, position: int) -> Piece | None:
        if not self.text[position].isdecimal() or not self.text[position].isascii():
            return None
        if self.text.startswith(")", position + 1) and self._out and self._out[-1].type in ("NUM", "UNIT"):
            return None  # "1)" behind a figure is a note mark
        spaced = _SPACED_THOUSANDS.match(self.text, position)
        match = spaced or _NUMBER.match(self.text, position)
        if match is None:
            return None
        kind = "GLUED" if self._glued_before(position) or self._glued_after(match.end()) else "NUM"
        number = read_number(match[0], self._mark)
        return Piece(
            type=kind, text=match[0], start=position, end=match.end(), number=number, spaced=spaced is not None
        )

    def _thread(self, position: int) -> Piece | None:
        match = match_metric(self.text, position)
        if match is None or (position and self.text[position - 1].isalnum()):
            return None
        return self._piece("THREAD", position, match.end())

    def _phrase(self, position: int) -> Piece | None:
        inside_word = position and self.text[position].isalpha() and self.text[position - 1].isalpha()
        if inside_word and ord(self.text[position]) < 0x3000:
            return None
        best: tuple[int, str] | None = None
        for kind in ("MIN", "MAX", "MORE", "LESS", "BETWEEN", "AND", "DASH", "HARMLESS"):
            match = phrase_pattern(kind).match(self.text, position)
            if match and (best is None or match.end() > best[0]) and self._allowed(kind, match[0]):
                best = match.end(), kind
        if best is None:
            return None
        kind = best[1]
        if kind == "DASH" and not self._after_quantity():
            kind = "MAX"
        if kind in _SIGN_TYPES and not any(c.isalpha() for c in self.text[position : best[0]]):
            kind = _SIGN_TYPES[kind]
        return self._piece(kind, position, best[0])

    def _after_quantity(self) -> bool:
        last = self._last()
        return last is not None and last.type in ("NUM", "UNIT", "AUGHT", "PERCENT")

    def _allowed(self, kind: str, matched: str) -> bool:
        if kind == "DASH":
            return self._after_quantity() or matched.casefold() in phrases("PREFIX_MAX")
        return True

    def _sign(self, position: int) -> Piece | None:
        match = _PLUS_MINUS.match(self.text, position)
        if match:
            return self._piece("PM", position, match.end())
        match = _DASHES.match(self.text, position)
        if match:
            soft = match[0] == "\u00ad" and not self._after_quantity()
            return self._piece("BLANK" if soft else "DASH", position, match.end())
        for kind, pattern in (("HASH", _HASH), ("DIAM", _DIAMETER), ("TIMES", _TIMES)):
            match = pattern.match(self.text, position)
            if match and (kind != "HASH" or not self.text[position - 1 : position].isalpha()):
                return self._piece(kind, position, match.end())
        return None

    def _note(self, position: int) -> Piece | None:
        match = _NOTE.match(self.text, position)
        return self._piece("NOTE", position, match.end()) if match else None

    def _single(self, position: int) -> Piece | None:
        character = self.text[position]
        if character in _SINGLE:
            return self._piece(_SINGLE[character], position, position + 1)
        if character in ",，" and not self.text[position + 1 : position + 2].isdecimal():
            return self._piece("SEP", position, position + 1)
        at_end = not self.text[position + 1 :].strip(" \n)]")
        if character in ".。" and (at_end or self.text[position + 1].isspace()) and self._last() is not None:
            last = self._out[-1]
            if last.type != "NUM" or at_end:
                return self._piece("BLANK" if at_end else "SEP", position, position + 1)
        return None

    def _word(self, position: int) -> Piece | None:
        match = _SUSPENDED.match(self.text, position) or _WORD.match(self.text, position)
        return self._piece("WORD", position, match.end()) if match else None


def _drop_wraps(pieces: list[Piece]) -> Iterator[Piece]:
    """Leave out line ends inside an expression; a line end between two figures separates them."""
    ends = {"NUM", "UNIT", "RP", "PERCENT", "WORD", "THREAD", "AUGHT", "NOTE", "MIN", "MAX", "MORE", "LESS", "HARMLESS"}
    begins = {
        "NUM",
        "WORD",
        "THREAD",
        "AUGHT",
        "MIN",
        "MAX",
        "MORE",
        "LESS",
        "HASH",
        "DIAM",
        "HARMLESS",
        "LP",
        "UNIT",
        "FROM_SIGN",
        "UPTO_SIGN",
    }
    shown = [p for p in pieces if p.type != "BLANK"]
    for index, piece in enumerate(shown):
        if piece.type != "NL":
            yield piece
            continue
        before = next((p for p in reversed(shown[:index]) if p.type != "NL"), None)
        after = next((p for p in shown[index + 1 :] if p.type != "NL"), None)
        doubled = index > 0 and shown[index - 1].type == "NL"
        if before and after and not doubled and before.type in ends and after.type in begins:
            joins = after.type in ("LP", "UNIT", "MORE", "LESS") or before.type in ("MIN", "MAX", "HARMLESS")
            if not joins:
                yield Piece(type="SEP", text="\n", start=piece.start, end=piece.end)
