"""What the head noun of a name makes it: a terminal, a conductor, another screw, or something unread."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Literal

from torquary_ingest.clauses.tokens import Token
from torquary_ingest.headings.designations import PART_TYPE
from torquary_schema.roles import spot_roles
from torquary_schema.vocabulary import roles_of_markings
from torquary_schema.words import Kind, all_spellings, fold, spot

ThingKind = Literal[
    "terminal", "role", "conductor", "other", "screw", "connection", "unknown", "mixed"
]
THINGS = frozenset(
    {"terminal", "role", "marking", "other", "fastener", "conductor", "connection", "contact"}
)
_MARKING_DIGITS = 3
_GENERIC: tuple[tuple[Kind, str], ...] = (
    ("tightened", "terminal"),
    ("tightened", "connecting"),
    ("purpose", "electrical_terminal"),
    ("clamp", "screw"),
)


def is_mark(token: Token) -> bool:
    """Tell whether a token marks a terminal: a code, or a whole number that may be one."""
    return token.kind == "marking" or may_mark(token)


def is_designation(token: Token) -> bool:
    """Tell whether a token is the type of a part: "KX-2", "KX-EB"."""
    return token.kind in ("word", "type") and PART_TYPE.fullmatch(token.text) is not None


def is_unread_word(token: Token) -> bool:
    """Tell whether no vocabulary knows a word, and it is no type."""
    return token.kind == "word" and not is_designation(token)


def may_mark(token: Token) -> bool:
    """Tell whether a token is a whole number that may mark a terminal."""
    return token.kind == "number" and token.text.isdecimal() and len(token.text) <= _MARKING_DIGITS


def kind_of(part: Sequence[Token]) -> ThingKind:
    """Return what the head noun of a compound makes it; a screw alone is nothing but a screw."""
    marked = any(map(is_mark, part))
    kinds = _kinds_of_tokens(part, marked=marked)
    if not kinds or (len(part) == 1 and is_code(part[0])):
        return "terminal" if marked and not kinds else "unknown"
    if is_unread_word(part[-1]) and kinds[-1] == "role":
        return "unknown"  # "power supply module"
    if set(kinds) == {"screw"}:
        return "unknown" if part[0].kind == "word" else "screw"
    held = marked or "screw" in kinds
    return _kind_of_many([kind for kind in kinds if kind != "screw"], held=held)


def _kinds_of_tokens(part: Sequence[Token], *, marked: bool) -> list[ThingKind]:
    named = [token for token in part if token.kind in THINGS]
    told = marked or any(token.kind == "role" for token in named)
    return [_kind_of_token(token, told=told) for token in named]


def _kind_of_many(telling: Sequence[ThingKind], *, held: bool) -> ThingKind:
    """Return what several nouns make a compound; `held` tells that a screw or a marking is among them."""
    last = telling[-1]
    if "other" in telling:
        return "mixed" if "terminal" in telling else "other"
    if last == "connection" or (last == "role" and "conductor" in telling):
        return "connection" if last == "connection" else "conductor"
    if last == "conductor" or "terminal" not in telling:
        return last if last != "role" or not held else "terminal"
    return "terminal"


def is_code(token: Token) -> bool:
    """Tell whether a marking is of two letters and digits: alone it may as well be a type or a degree ("IP20")."""
    return (
        token.kind == "marking" and token.text[:2].isalpha() and not roles_of_markings(token.text)
    )


def _kind_of_token(token: Token, *, told: bool) -> ThingKind:
    """Return what a noun is; a contact or bar is a terminal where its role or marking is `told`."""
    if token.kind == "fastener":
        return "screw"
    if token.kind == "marking":
        return "terminal"
    if token.kind == "role":
        return (
            "conductor" if names_conductor(token) else "role" if is_bare_role(token) else "terminal"
        )
    if token.kind == "contact":
        return "terminal" if told else "unknown"
    kinds: dict[str, ThingKind] = {
        "terminal": "terminal",
        "other": "other",
        "conductor": "conductor",
    }
    return kinds.get(token.kind, "connection")


@cache
def _says(kind: Kind, concept: str, text: str) -> bool:
    return any(match.concept == concept for match in spot(kind, text))


def names_conductor(token: Token) -> bool:
    """Tell whether a role is named by the conductor: "neutral conductor", "Schutzleiter"."""
    return token.kind == "role" and _says("instruction", "conductor", token.text)


def is_bare_role(token: Token) -> bool:
    """Tell whether a word for a role names neither a terminal nor a conductor: "input", "neutral"."""
    held = _says("tightened", "terminal", token.text) or _says(
        "instruction", "fastener", token.text
    )
    marked = bool(roles_of_markings(token.text))
    return not (held or marked or names_conductor(token) or _is_compound_of_terminals(token.text))


def _is_compound_of_terminals(text: str) -> bool:
    return any(
        match.end - match.start == len(text)
        for match in spot("heading", text)
        if match.concept == "terminal"
    )


def is_generic(part: Sequence[Token]) -> bool:
    """Tell whether a compound is nothing but a general word for terminals, screws, connections or conductors."""
    return all(
        token.kind in ("fastener", "of", "small") or _is_general_word(token) for token in part
    )


def _is_general_word(token: Token) -> bool:
    if token.kind not in ("terminal", "connection", "conductor") or spot_roles(token.text):
        return False
    word = fold(token.text)
    whole, begun = _general_words()
    return token.kind in ("connection", "conductor") or word in whole or word.startswith(begun)


@cache
def _general_words() -> tuple[frozenset[str], tuple[str, ...]]:
    """Return the general words for terminals in every language, and the beginnings of those that are inflected."""
    words = [word for kind, concept in _GENERIC for word in all_spellings(kind, concept)]
    whole = frozenset(fold(word.strip("*|=")) for word in words if not word.endswith("*"))
    return whole, tuple(
        fold(word.rstrip("*")) for word in words if word.endswith("*") and word[0] != "*"
    )


@cache
def range_words() -> frozenset[str]:
    """Return the words between the ends of a range in every language, "t/m" and "tot en met" among them."""
    return frozenset(map(fold, all_spellings("connective", "range", "max")))
