"""What a screw or terminal belongs to: "cover of the terminals" is a cover, a coupling's clamping screw no terminal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from torquary_ingest.clauses.heads import is_unread_word
from torquary_ingest.clauses.thing import Element, Thing
from torquary_ingest.clauses.tokens import NAME_LETTERS, Token
from torquary_schema.roles import spot_roles
from torquary_schema.words import Match, all_spellings, fold, spot

_AGREEING = ("ych", "ich", "ego", "ej", "ých", "ích", "ého", "ího", "ых", "их", "ого", "его", "ой")
"""Endings of Slavic adjectives that go with a genitive behind them: "dolnych zacisków"."""
_LINKS = ("of", "small", "sign")
_MOST_LINKS = 3
"""Small words between a clamping screw and its owner at most: "vis de serrage de l'accouplement"."""
NO_TERMINALS = ("unknown", "other", "mixed")


def heed_owners(elements: Sequence[Element]) -> list[Element]:
    """Return the elements; a thing that has terminals for an attribute, or may clamp a machine's part, is unknown."""
    return [
        replace(one, kind="unknown", screwed=True, unread=one.unread or (one.text,))
        if isinstance(one, Thing) and one.kind == "terminal" and _may_be_other(elements, at)
        else one
        for at, one in enumerate(elements)
    ]


def without_attributes(part: Sequence[Token]) -> list[Token]:
    """Return the tokens of a compound, genitives behind the noun that has them aside: "osłony zacisków" is a cover."""
    return [token for at, token in enumerate(part) if not (at and _is_behind_head(token, part[at - 1]))]


def is_clamping(part: Sequence[Token]) -> bool:
    """Tell whether a compound is a clamping screw without the role of a terminal."""
    text = " ".join(token.text for token in part)
    return bool(_clamping_screws(text)) and not spot_roles(text)


def _is_behind_head(token: Token, before: Token) -> bool:
    if not _is_form("attribute_behind", token.text):
        return False
    return before.kind == "other" or (is_unread_word(before) and not before.text.lower().endswith(_AGREEING))


def _may_be_other(elements: Sequence[Element], at: int) -> bool:
    thing = elements[at]
    assert isinstance(thing, Thing)
    behind = elements[at + 1] if at + 1 < len(elements) else None
    last = thing.text.split()[-1]
    if _is_form("attribute_before", last) and behind is not None and _opens_unread(behind):
        return True
    screws = _clamping_screws(thing.text)
    if not screws or spot_roles(thing.text) or any(map(str.isdigit, thing.text)):
        return False
    return bool(thing.unread) or not _is_plain(screws[0]) or _is_owned(elements, at)


def _clamping_screws(text: str) -> list[Match]:
    return [match for match in spot("instruction", text) if match.concept == "clamping_screw"]


def _is_owned(elements: Sequence[Element], at: int) -> bool:
    """Tell whether something unread, or no terminal, is what a clamping screw is of."""
    for behind in elements[at + 1 : at + 2 + _MOST_LINKS]:
        if isinstance(behind, Thing) or behind.kind not in _LINKS:
            return _opens_unread(behind) or (isinstance(behind, Thing) and behind.kind in NO_TERMINALS)
    return False


def _opens_unread(element: Element) -> bool:
    if isinstance(element, Thing):
        return element.kind == "unknown" and bool(element.unread) and element.text.startswith(element.unread[0])
    return is_unread_word(element) and len(element.text) >= NAME_LETTERS


def _is_form(concept: str, text: str) -> bool:
    return any(match.concept == concept and match.printed == text for match in spot("instruction", text))


def _is_plain(match: Match) -> bool:
    """Tell whether a word for a clamping screw has nothing unread before it: "Kupplungsklemmschraube" has."""
    return fold(match.printed) in _plain_words()


@cache
def _plain_words() -> frozenset[str]:
    return frozenset(fold(word.strip("*")) for word in all_spellings("instruction", "clamping_screw"))
