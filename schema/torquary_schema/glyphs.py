"""Printed characters brought to one form each, with the way back to where they stood.

NFKC is right for full-width forms and ligatures and wrong for raised digits: "2.5¹" would become "2.51".
Raised, lowered and circled digits are therefore left as they are, except where they are the two halves of
a fraction or the square of a unit sign.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

_VULGAR = {
    "¼": "1⁄4", "½": "1⁄2", "¾": "3⁄4", "⅓": "1⁄3", "⅔": "2⁄3", "⅕": "1⁄5", "⅖": "2⁄5", "⅗": "3⁄5",
    "⅘": "4⁄5", "⅙": "1⁄6", "⅚": "5⁄6", "⅛": "1⁄8", "⅜": "3⁄8", "⅝": "5⁄8", "⅞": "7⁄8", "⅐": "1⁄7",
    "⅑": "1⁄9", "⅒": "1⁄10",
}  # fmt: skip
FRACTIONS = "".join(_VULGAR)
"""Printed fractions that are one character each."""

_KEEP = set("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻₀₁₂₃₄₅₆₇₈₉") | {chr(c) for c in range(0x2460, 0x2500)} | {"″", "´", "¨", "ª", "º"}
_DROP = {"\u200b", "\u200c", "\u200d", "\u2060", "\ufeff", "\u200e", "\u200f", "\u061c"} | {
    chr(c) for c in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))
}
_OTHER = {"\u066b": ",", "\u066c": "'", "∕": "⁄", "\u00b4": "'", "\u2019": "'", "\u02bc": "'", "\u2032": "'"}
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")
_SPLIT_FRACTION = re.compile(r"(?<![^\W\d_])[⁰¹²³⁴⁵⁶⁷⁸⁹]+[/⁄][₀₁₂₃₄₅₆₇₈₉0-9]+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """Text in one form. `origins[i]` is the index in the printed text that character i came from.

    `origins` has one entry more than `text`: the length of the printed text.
    """

    text: str
    origins: tuple[int, ...]

    def printed(self, source: str, start: int, end: int) -> str:
        """Return the piece of the printed text behind characters start to end of the folded text."""
        if end <= start:
            return ""
        last = self.origins[end - 1] + 1
        return source[self.origins[start] : last]


def _fold_character(character: str) -> str:
    if character in _DROP:
        return ""
    if character in _VULGAR:
        return _VULGAR[character]
    if character in _KEEP:
        return character
    if character in _OTHER:
        return _OTHER[character]
    if character in "\u00a0\u2007\u2009\u202f":
        return "\u2009"  # a blank that holds together what it stands in
    digit = unicodedata.decimal(character, None)
    return str(digit) if digit is not None else unicodedata.normalize("NFKC", character)


def fold_glyphs(printed: str) -> Folded:
    """Return the text with one form per character: NFKC, raised digits kept, fractions set apart.

    A no-break or thin blank becomes U+2009, so that it can still be told from a plain blank.
    "3½" becomes "3 1⁄2", "5¹⁄₂" becomes "5 1⁄2"; zero-width and direction marks are left out.
    """
    if printed.isascii():
        return Folded(text=printed, origins=tuple(range(len(printed) + 1)))
    pieces: list[str] = []
    origins: list[int] = []

    def put(text: str, origin: int) -> None:
        pieces.append(text)
        origins.extend([origin] * len(text))

    fractions = {m.start(): m.end() for m in _SPLIT_FRACTION.finditer(printed)}
    position = 0
    while position < len(printed):
        behind_digit = position > 0 and printed[position - 1].isdecimal()
        if position in fractions:
            end = fractions[position]
            put((" " if behind_digit else ""), position)
            for index in range(position, end):
                put(printed[index].translate(_RAISED).replace("/", "⁄"), index)
            position = end
            continue
        piece = _fold_character(printed[position])
        if printed[position] in _VULGAR and behind_digit:
            piece = " " + piece
        put(piece, position)
        position += 1
    origins.append(len(printed))
    return Folded(text="".join(pieces), origins=tuple(origins))
