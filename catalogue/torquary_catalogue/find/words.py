"""The words of a question: types joined to their figures, known words, and which words sheets in force print."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from torquary_catalogue.store import Catalogue
from torquary_schema.vocabulary import vocabulary

LONGEST_PHRASE = 7
"""Words of a phrase at most: "residual current circuit breaker with overcurrent protection"."""
TYPE_LETTERS = 4
"""Letters before a figure that may be a type nobody has loaded ("GN 63"); longer words are words."""
_DECIMAL = re.compile(r"(?<=[0-9])[.,](?=[0-9])")
_NUMBER = re.compile(r"[0-9]+(?:p[0-9]+)?")
_LETTERS = re.compile(r"[^\W\d_]+")
_MIXED = re.compile(r"[^\W\d_]+[0-9][0-9p]*")

LONGEST_PART = 40
"""Letters at most of a known word that is looked for as a part of a longer one."""
_KNOWN = """
SELECT spelling AS asked, kind, concept, fit FROM known_word WHERE spelling IN (SELECT unnest($keys::VARCHAR[]))"""
_MEETS = {"starts": str.startswith, "ends": str.endswith, "contains": str.__contains__}
KINDS = ("purpose", "part", "family", "role", "material", "stranding", "ferrule", "wish")
"""Kinds of words, in the order in which a word is taken for one."""
_PRINTED = """
SELECT DISTINCT word AS asked FROM sheet_word
WHERE word IN (SELECT unnest($keys::VARCHAR[])) AND sheet_number IN (SELECT number FROM sheet WHERE state = 'read')"""

Meanings = dict[str, str]
"""Kind of word → concept; `or_role` beside `role` is the second meaning of a word with two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """The folded words of a text, and what its phrases mean: (first word, behind the last) → meanings."""

    tokens: tuple[str, ...]
    meant: Mapping[tuple[int, int], Meanings] = field(default_factory=dict)

    def phrase(self, span: tuple[int, int]) -> str:
        """Return the words of a span as one text."""
        return " ".join(self.tokens[slice(*span)])


def read_words(catalogue: Catalogue, text: str) -> Words:
    """Fold a text (a decimal mark is p), join types to their figures, and look its phrases up, the longest first."""
    tokens = fold(catalogue, _DECIMAL.sub("p", text)) if text.strip() else []
    if not tokens:
        return Words(tokens=())
    known = _look_up(catalogue, [" ".join(tokens[slice(*span)]) for span in _spans(len(tokens))])
    joined = _join_types(catalogue, tokens, known)
    spans = list(_spans(len(joined)))
    meant = {span: known.get(" ".join(joined[slice(*span)]), {}) for span in spans}
    return Words(tokens=tuple(joined), meant=_without_families_of_roles({s: m for s, m in meant.items() if m}))


def fold(catalogue: Catalogue, text: str) -> list[str]:
    """Return the words of a text as they are compared."""
    if text.isascii():
        # The same as fold_text, one query the less.
        return "".join(letter if letter.isalnum() else " " for letter in text.lower()).split()
    row = catalogue.rows("SELECT string_split(fold_text(?), ' ') AS words", [text])[0]
    return [word for word in row["words"] if word]


def find_printed(catalogue: Catalogue, words: Iterable[str]) -> set[str]:
    """Return those of the words that a sheet in force prints in a name."""
    return {row["asked"] for row in catalogue.look_up(_PRINTED, list(words))}


def is_number(word: str) -> bool:
    """Tell whether a folded word is a bare number: "16", "2p5"."""
    return _NUMBER.fullmatch(word) is not None


def _look_up(catalogue: Catalogue, phrases: list[str]) -> dict[str, Meanings]:
    """Return phrase → meanings for the phrases that are known words.

    Of two roles the narrower is meant first, the wider is kept as `or_role`.
    """
    roles = vocabulary("role")
    # Looking the parts of words up takes half the time of comparing each word with all words that may be parts.
    keys = dict.fromkeys([*phrases, *(part for phrase in phrases if " " not in phrase for part in _parts(phrase))])
    found = [
        (row, roles[row["concept"]].wider if row["kind"] == "role" and row["concept"] in roles else ())
        for row in catalogue.look_up(_KNOWN, list(keys))
    ]
    found.sort(key=lambda one: _rank(*one))
    known: dict[str, Meanings] = {}
    wider: dict[str, Collection[str]] = {}
    for phrase, (row, wide) in ((phrase, one) for one in found for phrase in phrases if _is_met(phrase, one[0])):
        kind = row["kind"]
        known.setdefault(phrase, {}).setdefault(kind, row["concept"])
        if kind == "role" and row["concept"] in wider.setdefault(phrase, wide):
            known[phrase].setdefault("or_role", row["concept"])
    return known


def _parts(word: str) -> Iterator[str]:
    """Yield every run of letters of a word."""
    ends = range(1, len(word) + 1)
    return (word[first:end] for end in ends for first in range(max(0, end - LONGEST_PART), end))


def _is_met(phrase: str, known: Mapping[str, str]) -> bool:
    """Tell whether a phrase is the known word, or is a word that has it as the part that is enough."""
    part = _MEETS.get(known["fit"])
    return phrase == known["asked"] if part is None else " " not in phrase and part(phrase, known["asked"])


def _rank(row: Mapping[str, str], wider: Collection[str]) -> tuple[int, bool, int, str]:
    """Return the place of a meaning: by its kind, a marking last, the narrowest role first."""
    return KINDS.index(row["kind"]), row["fit"] == "marking", -len(wider), row["concept"]


def _join_types(catalogue: Catalogue, tokens: list[str], known: Mapping[str, Meanings]) -> list[str]:
    """Join the parts of types: "LH 125", "MGN 2.5"; "32 XB" and "OV-T2", whose T2 is no terminal, where printed."""
    ahead, behind = _pair_types(tokens)
    printed = find_printed(catalogue, {*ahead.values(), *behind.values()}) if ahead or behind else set()
    joined, at = [], 0
    while at < len(tokens):
        one = ahead.get(at)
        if one and _is_type(one, tokens[at], printed, known, apart=not is_number(tokens[at + 1])):
            joined.append(one)
            at += 2
        elif behind.get(at) in printed and at + 1 not in ahead:
            joined.append(behind[at])
            at += 2
        else:
            joined.append(tokens[at])
            at += 1
    return joined


def _pair_types(tokens: list[str]) -> tuple[dict[int, str], dict[int, str]]:
    """Return what two neighbours may be as one type, by the place of the first: as they stand, and turned round."""
    pairs = [(at, a, b) for at, (a, b) in enumerate(pairwise(tokens))]
    ahead = {at: a + b for at, a, b in pairs if _LETTERS.fullmatch(a) and (is_number(b) or _MIXED.fullmatch(b))}
    return ahead, {at: b + a for at, a, b in pairs if _LETTERS.fullmatch(b) and is_number(a)}


def _is_type(joined: str, letters: str, printed: set[str], known: Mapping[str, Meanings], *, apart: bool) -> bool:
    """Tell whether two parts are one type: where it is printed, or where the letters of a figure mean nothing.

    `apart`: the second part has letters too, and may be a type of its own.
    """
    meanings = known.get(letters, {})
    if joined in printed:
        return not any(kind != "wish" and kind in KINDS for kind in meanings)
    return not apart and not meanings and len(letters) <= TYPE_LETTERS


def _without_families_of_roles(meant: Mapping[tuple[int, int], Meanings]) -> dict[tuple[int, int], Meanings]:
    """Return what phrases mean: a "neutral bar" of a device that another word names is a terminal and no device."""
    families = [span for span, meanings in meant.items() if "family" in meanings]
    roles = {
        (first, last)
        for (first, last), meanings in meant.items()
        if "role" in meanings and any(end <= first or last <= start for start, end in families)
    }
    return {
        span: {kind: concept for kind, concept in meanings.items() if kind != "family" or span not in roles}
        for span, meanings in meant.items()
    }


def _spans(count: int) -> Iterator[tuple[int, int]]:
    """Yield the first word and the one behind the last of each phrase among so many words, the longest first."""
    for length in range(min(LONGEST_PHRASE, count), 0, -1):
        yield from ((first, first + length) for first in range(count - length + 1))
