"""Words of one language that look like words of another: none may be taken for it."""

from collections.abc import Iterator
from functools import cache

import pytest

from torquary_schema.words import KINDS, Kind, concepts, fold, languages, spellings, spot

_NAMED: tuple[Kind, ...] = ("material", "stranding", "ferrule", "role", "family", "clamp", "drive", "purpose")
"""Kinds that decide what a figure is for."""

_SMALL: tuple[tuple[Kind, str], ...] = (
    ("instruction", "small"), ("instruction", "of"), ("statement", "plain"), ("statement", "all"),
    ("statement", "not"), ("connective", "with"), ("connective", "and"), ("connective", "or"), ("connective", "for"),
)  # fmt: skip
KNOWN_TWICE = {"l", "n", "monte", "aux", "ovi", "fi", "cu", "al", "pe", "door", "allen"}
"""Signs and words that two languages have; in capitals or in a phrase they are told apart (the tests below)."""

STEMS: dict[tuple[Kind, str], tuple[Kind, ...]] = {
    ("torque_kind", "tightening"): ("role", "family", "material", "drive", "stranding", "ferrule"),
    ("tightened", "terminal"): ("purpose", "drive", "material", "stranding", "ferrule"),
    ("purpose", "enclosure"): ("role", "family", "clamp", "tightened", "material"),
}
"""Stems, and the kinds whose words of other languages they must not take."""


@cache
def words(kind: Kind, concept: str, language: str) -> frozenset[str]:
    """Return the whole words of a concept, folded."""
    return frozenset(
        fold(one.strip("|")) for one in spellings(kind, concept, language) if "*" not in one and one[0] != "="
    )


@pytest.mark.parametrize("kind", _NAMED)
def test_no_word_for_a_thing_is_a_small_word_of_another_language(kind: Kind) -> None:
    found = [
        (language, concept, word, other)
        for language in languages()
        for concept in concepts(kind)
        for word in words(kind, concept, language)
        for other in languages()
        if other != language and word.isalpha() and word.isascii() and word not in KNOWN_TWICE
        for small in _SMALL
        if word in words(*small, other) and not any(word in words(*each, language) for each in _SMALL)
    ]
    assert found == []


def test_no_word_for_a_terminal_is_another_screw_in_another_language() -> None:
    """German "Lage" and Swedish "läge" head columns of terminals; Danish "låge", a door, folds to the same letters."""
    purposes = [one for one in concepts("purpose") if one != "electrical_terminal"]
    others = {word for one in languages() for purpose in purposes for word in words("purpose", purpose, one)}
    roles = {word for one in languages() for role in concepts("role") for word in words("role", role, one)}
    named = roles.union(*(words("heading", "terminal", one) for one in languages()))
    assert {word for word in named & others if len(word) > 2} == set()


def stems_of(kind: Kind, concept: str) -> Iterator[tuple[str, str]]:
    for language in languages():
        yield from ((language, one) for one in spellings(kind, concept, language) if "*" in (one[0], one[-1]))


@pytest.mark.parametrize(("kind", "concept"), STEMS)
def test_no_stem_takes_a_word_of_another_language_for_another_thing(kind: Kind, concept: str) -> None:
    own = {part for one in languages() for word in words(kind, concept, one) for part in word.split()}
    others = {
        (language, part)
        for language in languages()
        for other in STEMS[kind, concept]
        for named in concepts(other)
        for word in words(other, named, language)
        for part in word.split()
        if not (other == "purpose" and named in ("electrical_terminal", concept)) and part.isalpha()
    }
    found = [
        (language, stem, other, word)
        for language, stem in stems_of(kind, concept)
        for other, word in others
        if other != language and word not in own and _takes(stem, word)
    ]
    assert found == []


@cache
def _bare(stem: str) -> str:
    return fold(stem.strip("*"))


def _takes(stem: str, word: str) -> bool:
    bare = _bare(stem)
    if stem[0] == stem[-1] == "*":
        return bare in word
    return word.endswith(bare) if stem[0] == "*" else word.startswith(bare)


@pytest.mark.parametrize(
    ("kind", "text", "found"),
    [
        ("material", "conductor flexibil cu pini terminali", []),
        ("material", "Cu manșon", []),
        ("material", "Cu", ["copper"]),
        ("material", "med terminalrør", []),
        ("material", "jen měď", ["copper"]),
        ("material", "raccordare al morsetto", []),
        ("material", "Al 16 mm²", ["aluminium"]),
        ("role", "se leagă pe bornele 1, 3", []),
        ("role", "PE", ["protective_earth"]),
        ("drive", "mit allen Klemmen", []),
        ("purpose", "door de klem", []),
        ("connective", "borne și cleme", ["and"]),
        ("connective", "si les bornes", ["for"]),
        ("purpose", "terminal block X1", []),
        ("connective", "under the ground terminal", []),
    ],
)
def test_words_that_look_alike_are_told_apart(kind: Kind, text: str, found: list[str]) -> None:
    assert kind in KINDS
    assert [match.concept for match in spot(kind, text)] == found
