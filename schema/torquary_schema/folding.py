"""Printed text in the form in which words are compared, with the way back to the printed characters.

Folding is NFKC, casefold and no accents on Latin, Greek and Cyrillic letters; punctuation turns to blanks.
Kana voicing marks, Thai vowels and Hangul are letters and stay.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache
from itertools import accumulate
from typing import Literal

Script = Literal["letter", "digit", "unspaced"]

_UNDOTTED = str.maketrans({"ł": "l", "đ": "d", "ı": "i", "æ": "ae", "œ": "oe"})
_HALF_WIDTH_VOICING = "ﾞﾟ"
_HYPHENS = "-‐‑"
_SOFT_HYPHEN = "\u00ad"
_SPACED_LETTERS = 5  # fewer could be terminals in a row: L N P E
_LINE_FEEDS = "\n\r\u2028\u2029"
# Blocks written without blanks between words: Thai, Lao, Khmer, Kana, Han, Hangul.
_UNSPACED = (
    (0x0E00, 0x0EFF),
    (0x1100, 0x11FF),
    (0x1780, 0x17FF),
    (0x3005, 0x3007),
    (0x3040, 0x30FF),
    (0x3130, 0x318F),
    (0x3400, 0x9FFF),
    (0xAC00, 0xD7FF),
    (0xF900, 0xFAFF),
    (0x20000, 0x323AF),
)

_FIRST_UNSPACED = chr(min(low for low, _ in _UNSPACED))


class Gap(IntEnum):
    """What stands between two folded characters, from nothing to a plain blank."""

    NONE = 0
    BROKEN = 1  # a word divided over two lines by a hyphen, or a soft hyphen
    LOOSE = 2  # a hyphen, a line end, or a blank in a script that has no blanks
    BLANK = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """Folded characters without blanks. `starts`/`ends` are offsets in the printed text.

    `gaps[i]` says what stands before character i; at the places in `begins` a word may begin.
    """

    text: str
    starts: tuple[int, ...]
    ends: tuple[int, ...]
    gaps: tuple[Gap, ...]
    begins: tuple[int, ...]


def script_of(character: str) -> Script:
    """Tell whether a folded character is a letter, a digit, or of a script written without blanks."""
    if character.isdecimal():
        return "digit"
    point = ord(character)
    if point >= 0x0E00 and any(low <= point <= high for low, high in _UNSPACED):
        return "unspaced"
    return "letter"


def fold(text: str) -> str:
    """Return the text folded for comparison: single blanks, no punctuation, no accents, no case."""
    folded = fold_with_places(text)
    parts: list[str] = []
    for character, gap in zip(folded.text, folded.gaps, strict=True):
        if gap >= Gap.LOOSE and parts:
            parts.append(" ")
        parts.append(character)
    return "".join(parts)


def fold_phrase(text: str) -> tuple[str, frozenset[int]]:
    """Return a text folded, without blanks, and the places in it before which one stands.

    Plain words of letters, as most spellings are, are folded without keeping where each letter came from.
    """
    words = text.split(" ")
    if all(word.isalpha() and max(word) < _FIRST_UNSPACED for word in words) and len(words) < _SPACED_LETTERS:
        folded = ["".join(map(_fold_cluster, word)) for word in words]
        ends = accumulate(map(len, folded))
        return "".join(folded), frozenset(list(ends)[:-1])
    told = fold_with_places(text)
    return told.text, frozenset(i for i, gap in enumerate(told.gaps) if gap >= Gap.LOOSE)


# A text is asked about once for each kind of word.
@lru_cache(maxsize=4_096)
def fold_with_places(text: str) -> Folded:
    """Fold the text and keep, for each folded character, where it came from and what stood before it."""
    if text.isascii() and text.isalnum():
        places = range(len(text) + 1)
        gaps_of_none = (Gap.NONE,) * len(text)
        begins = _find_beginnings(text, gaps_of_none)
        return Folded(
            text=text.lower(), starts=tuple(places[:-1]), ends=tuple(places[1:]), gaps=gaps_of_none, begins=begins
        )
    characters: list[str] = []
    starts: list[int] = []
    ends: list[int] = []
    gaps: list[Gap] = []
    between = ""
    for start, end in _clusters(text):
        cluster = text[start:end]
        letters = _fold_cluster(cluster)
        if not letters:
            between += cluster
            continue
        for position, letter in enumerate(letters):
            before = characters[-1] if characters else ""
            gaps.append(Gap.NONE if position else _gap(between, before, letter))
            characters.append(letter)
            starts.append(start)
            ends.append(end)
        between = ""
    _close_spaced_letters(characters, gaps)
    begins = _find_beginnings(characters, gaps)
    return Folded(
        text="".join(characters), starts=tuple(starts), ends=tuple(ends), gaps=tuple(gaps), begins=begins
    )


def _find_beginnings(characters: Sequence[str], gaps: Sequence[Gap]) -> tuple[int, ...]:
    """Return the places behind a gap, at a change of script, and at every character of one without blanks."""
    scripts = list(map(script_of, characters))
    return tuple(
        at
        for at, script in enumerate(scripts)
        if at == 0 or gaps[at] >= Gap.BROKEN or script != scripts[at - 1] or script == "unspaced"
    )


def _close_spaced_letters(characters: list[str], gaps: list[Gap]) -> None:
    """Join letters that are printed wide apart ("T O R Q U E"): five or more single letters in a row."""
    words = [at for at, gap in enumerate(gaps) if gap >= Gap.LOOSE or at == 0]
    ends = [*words[1:], len(gaps)] if words else []
    run: list[int] = []
    for first, last in [*zip(words, ends, strict=True), (0, 0)]:
        if last - first == 1 and script_of(characters[first]) == "letter":
            run.append(first)
            continue
        if len(run) >= _SPACED_LETTERS:
            for at in run[1:]:
                gaps[at] = Gap.NONE
        run = []


def _clusters(text: str) -> list[tuple[int, int]]:
    """Return the spans of each character together with the combining marks behind it."""
    if text.isascii():
        return [(index, index + 1) for index in range(len(text))]
    spans: list[tuple[int, int]] = []
    for index, character in enumerate(text):
        joined = unicodedata.combining(character) or character in _HALF_WIDTH_VOICING
        if joined and spans and spans[-1][1] == index:
            spans[-1] = (spans[-1][0], index + 1)
        else:
            spans.append((index, index + 1))
    return spans


@lru_cache(maxsize=4_096)
def _fold_cluster(cluster: str) -> str:
    if cluster.isascii():
        return cluster.lower() if cluster.isalnum() else ""
    plain = unicodedata.normalize("NFKC", cluster).casefold().translate(_UNDOTTED)
    bare = "".join(c for c in unicodedata.normalize("NFD", plain) if not 0x300 <= ord(c) <= 0x36F)
    composed = unicodedata.normalize("NFC", bare)
    kept = [c for c in composed if c.isalnum() or unicodedata.category(c) in ("Mn", "Mc")]
    return "".join(kept) if kept[:1] == [*composed[:1]] else ""  # marks on a sign are dropped with it


def _gap(between: str, before: str, after: str) -> Gap:
    if not between or not before:
        return Gap.NONE
    if between == " ":
        return Gap.LOOSE if script_of(before) == script_of(after) == "unspaced" else Gap.BLANK
    if between.strip(_SOFT_HYPHEN) == "":
        return Gap.BROKEN
    bare = between.replace(" ", "").replace("\u00a0", "")
    broken = any(c in _LINE_FEEDS for c in bare) and bare.strip(_LINE_FEEDS) in tuple(_HYPHENS + _SOFT_HYPHEN)
    if broken and after.isalpha() and before.isalpha():
        return Gap.BROKEN
    if bare and all(c in _HYPHENS + _LINE_FEEDS for c in bare):
        return Gap.LOOSE
    if not bare and script_of(before) == script_of(after) == "unspaced":
        return Gap.LOOSE
    return Gap.BLANK
