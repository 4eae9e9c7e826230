"""The things that a sentence speaks of, each with all words of its name and what its head noun makes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from torquary_ingest.clauses.tokens import Token
from torquary_schema.roles import spot_roles
from torquary_schema.vocabulary import roles_of_markings
from torquary_schema.words import Kind, fold, languages, spellings, spot

ThingKind = Literal["terminal", "role", "conductor", "other", "screw", "connection", "unknown", "mixed"]

_THINGS = frozenset({"terminal", "role", "marking", "other", "fastener", "conductor", "connection", "contact"})
_UNREAD = ("word", "type")
_MOST_BEFORE = 3
"""Words not known before a noun at most that belong to its name: "high current relay terminal block"."""
_NUMBERED = ("terminal", "role", "contact", "number", "hyphen")
_MOST_BETWEEN = 2
"""Small words behind "of" or "and" at most that still join two names: "and from the", "and/or"."""
_MARKING_DIGITS = 3
_GENERIC: tuple[tuple[Kind, str], ...] = (
    ("tightened", "terminal"),
    ("tightened", "connecting"),
    ("purpose", "electrical_terminal"),
    ("clamp", "screw"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """What a sentence names. `generic` tells that the words tell no terminal from another ("terminal screws").

    `opened` that an unread word tells them apart which opens the sentence and may be a verb; `marked` that they are
    markings alone ("L1, L2 and N"), `screwed` that a screw is named. `members` are the texts of a list ("line and load
    terminals"); `start` and `end` are offsets in the sentence.
    """

    kind: ThingKind
    start: int
    end: int
    text: str
    generic: bool
    opened: bool
    marked: bool
    screwed: bool
    members: tuple[str, ...]


Element = Token | Thing


def find_things(tokens: Sequence[Token], text: str) -> list[Element]:
    """Return the tokens with the names in them joined to things, in order."""
    found: list[Element] = []
    at = 0
    while at < len(tokens):
        compounds, end = _read_name(tokens, at)
        if not compounds:
            found.append(tokens[at])
            at += 1
            continue
        found.append(_as_thing(compounds, tokens, text))
        at = end
    return found


_Compound = tuple[int, int, str]
"""The first token of a compound noun, the one behind its last, and what joins it to the one before: "", of, and."""


def _read_name(tokens: Sequence[Token], at: int) -> tuple[list[_Compound], int]:
    """Return the compound nouns of the name that begins at a token, and the token behind it; none if none begins."""
    end = _end_of_compound(tokens, at)
    if end is None and not _heads_unread(tokens, at):
        return [], at
    compounds: list[_Compound] = [(at, end or at + 1, "")]
    while True:
        joined = _joined_behind(tokens, compounds[-1], compounds)
        if joined is None:
            return compounds, compounds[-1][1]
        compounds.append(joined)


def _heads_unread(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether an unread noun is the head of a name: "the lever of the terminals" is no terminal."""
    if at + 1 >= len(tokens) or tokens[at].kind != "word" or tokens[at + 1].kind != "of":
        return False
    return _joined_behind(tokens, (at, at + 1, ""), []) is not None


def _end_of_compound(tokens: Sequence[Token], at: int) -> int | None:
    """Return the token behind the compound noun that begins here: unread words, known ones, markings by numbers."""
    first = at
    while first < len(tokens) and tokens[first].kind in _UNREAD and first - at < _MOST_BEFORE:
        first += 1
    if first >= len(tokens) or tokens[first].kind not in _THINGS:
        return None
    end = first + 1
    while end < len(tokens):
        more = _more_of_compound(tokens, end)
        if not more:
            break
        end += more
    return _with_head(tokens, end)


def _more_of_compound(tokens: Sequence[Token], at: int) -> int:
    """Return how many tokens from here on still belong to the compound noun before them."""
    token, before = tokens[at], tokens[at - 1]
    follows = tokens[at + 1] if at + 1 < len(tokens) else None
    if before.kind == "contact" and token.kind == "word" and follows is not None and _is_mark(follows):
        return 2  # "styk sygnalizacyjny 11"
    if token.kind in _THINGS and not (token.kind == "connection" and before.kind != "connection"):
        return 1
    glued = token.kind == "hyphen" and token.start == before.end and follows is not None
    if glued and follows is not None and follows.start == token.end and follows.kind in ("word", *_THINGS):
        return 2
    if token.kind == "number" and _may_mark(token) and before.kind in _NUMBERED:
        return 1
    spread = token.kind in ("slash", "hyphen") and before.kind in ("marking", "number")
    return 2 if spread and follows is not None and _is_mark(follows) else 0


def _is_mark(token: Token) -> bool:
    return token.kind == "marking" or _may_mark(token)


def _may_mark(token: Token) -> bool:
    return token.kind == "number" and token.text.isdecimal() and len(token.text) <= _MARKING_DIGITS


def _with_head(tokens: Sequence[Token], end: int) -> int:
    """Return the token behind a role with the unread noun that follows it: "power supply module" is the module."""
    behind = end
    while behind < len(tokens) and tokens[behind].kind == "word" and behind - end < _MOST_BEFORE:
        behind += 1
    return behind if tokens[end - 1].kind == "role" and _is_bare_role(tokens[end - 1]) else end


def _joined_behind(tokens: Sequence[Token], last: _Compound, compounds: list[_Compound]) -> _Compound | None:
    """Return the compound that is joined to the last one by "of", by "and", a comma, or the sign of a range."""
    at = last[1]
    if at >= len(tokens):
        return None
    kind = "of" if tokens[at].kind == "of" else "and" if tokens[at].kind in ("and", "or", "comma") else ""
    if not kind:
        return _end_of_range(tokens, at)
    start = at + 1
    while start < len(tokens) and tokens[start].kind in ("small", "of", "slash", "or") and start - at <= _MOST_BETWEEN:
        start += 1
    if kind == "and" and start < len(tokens) and _may_mark(tokens[start]) and _is_mark(tokens[at - 1]):
        return (start, start + 1, kind)
    end = _end_of_compound(tokens, start) if start < len(tokens) else None
    if end is None or (kind == "and" and not _alike(tokens[last[0] : at], tokens[start:end])):
        return None
    return (start, end, kind)


def _end_of_range(tokens: Sequence[Token], at: int) -> _Compound | None:
    """Return the last marking of a range: "X1 to X4", "L1–L3"."""
    token, before = tokens[at], tokens[at - 1]
    marks = {"marking", "number"}
    if at + 1 >= len(tokens) or before.kind not in marks or tokens[at + 1].kind not in marks:
        return None
    word = any(match.concept == "range" for match in spot("connective", token.text))
    dots = token.kind == "colon" and "." in token.text
    return (at + 1, at + 2, "and") if word or dots or token.kind in ("dash", "hyphen") else None


def _alike(one: Sequence[Token], other: Sequence[Token]) -> bool:
    """Tell whether two compounds are of one kind, so that "and" may join them."""
    naming = {"terminal", "role", "marking"}
    kinds = [{token.kind for token in part} & _THINGS for part in (one, other)]
    conductors = [any(token.kind == "conductor" or _names_conductor(token) for token in part) for part in (one, other)]
    return all(kind & naming and not kind & {"other", "fastener"} for kind in kinds) and not (
        conductors[0] and not conductors[1]
    )


def _as_thing(compounds: list[_Compound], tokens: Sequence[Token], text: str) -> Thing:
    start, last = tokens[compounds[0][0]].start, tokens[compounds[-1][1] - 1].end
    parts = [tokens[first:last] for first, last, _ in compounds]
    kinds = [_kind_of(part) if len(parts) == 1 or not _is_code(part[0]) else "terminal" for part in parts]
    kind = kinds[0]
    for more, (_, _, joint) in zip(kinds[1:], compounds[1:], strict=True):
        if kind == "screw" or (joint == "and" and kind == "role"):
            kind = more
    if kind == "terminal" and any(k == "other" and c[2] == "of" for k, c in zip(kinds, compounds, strict=True)):
        last = tokens[compounds[0][1] - 1].end  # "ground screw of the housing": the head names it
    printed = " ".join(text[start:last].split())
    members = [" ".join(text[part[0].start : part[-1].end].split()) for part in parts]
    joints = [joint for _, _, joint in compounds]
    listed = tuple(one for one, joint in zip(members, joints, strict=True) if joint != "of")
    generic = all(map(_is_generic, parts))
    first = compounds[0][0]
    bare = [[token for token in part if token.kind not in _UNREAD] for part in parts]
    end = compounds[-1][1]
    labels = end < len(tokens) and tokens[end].kind == "colon"
    opened = first == 0 and not labels and tokens[first].kind in _UNREAD and all(map(_is_generic, bare))
    marked = all(token.kind in ("marking", "number", "slash", "hyphen") for part in parts for token in part)
    screwed = any(token.kind == "fastener" for part in parts for token in part)
    return Thing(
        kind=kind,
        start=start,
        end=last,
        text=printed,
        generic=generic,
        opened=opened,
        marked=marked,
        screwed=screwed,
        members=listed,
    )


def _kind_of(part: Sequence[Token]) -> ThingKind:
    """Return what the head noun of a compound makes it; a screw alone is nothing but a screw."""
    named = [token for token in part if token.kind in _THINGS]
    if not named:
        return "terminal" if _is_mark(part[-1]) else "unknown"
    if len(part) == 1 and _is_code(part[0]):
        return "unknown"
    kinds = [_kind_of_token(token) for token in named]
    if part[-1].kind == "word" and kinds[-1] == "role":
        return "terminal" if named[-1].kind == "marking" else "unknown"
    if "contact" in kinds:
        kinds = [kind for kind in kinds if kind != "contact"] + ["terminal" if any(map(_is_mark, part)) else "unknown"]
    telling = [kind for kind in kinds if kind != "screw"]
    if not telling:
        return "unknown" if part[0].kind == "word" else "screw"
    if "other" in telling:
        return "other" if not {"terminal"} & set(telling) else "mixed"
    if telling[-1] == "connection":
        return "connection"
    if "conductor" in telling and telling[-1] in ("conductor", "role") and "terminal" not in telling[-1:]:
        return "conductor"
    if "terminal" in telling:
        return "terminal"
    return "terminal" if "screw" in kinds or any(map(_is_mark, part)) else "role"


def _is_code(token: Token) -> bool:
    """Tell whether a marking is of two letters and digits: alone it may as well be a type or a degree ("IP20")."""
    return token.kind == "marking" and token.text[:2].isalpha() and not roles_of_markings(token.text)


def _kind_of_token(token: Token) -> ThingKind | Literal["contact"]:
    if token.kind == "fastener":
        return "screw"
    if token.kind == "marking":
        return "terminal"
    if token.kind == "role":
        return "conductor" if _names_conductor(token) else "role" if _is_bare_role(token) else "terminal"
    if token.kind == "contact":
        return "contact"
    kinds: dict[str, ThingKind] = {"terminal": "terminal", "other": "other", "conductor": "conductor"}
    return kinds.get(token.kind, "connection")


@cache
def _says(kind: Kind, concept: str, text: str) -> bool:
    return any(match.concept == concept for match in spot(kind, text))


def _names_conductor(token: Token) -> bool:
    """Tell whether a role is named by the conductor: "neutral conductor", "Schutzleiter"."""
    return token.kind == "role" and _says("instruction", "conductor", token.text)


def _is_bare_role(token: Token) -> bool:
    """Tell whether a word for a role names neither a terminal nor a conductor: "input", "neutral"."""
    held = _says("tightened", "terminal", token.text) or _says("instruction", "fastener", token.text)
    marked = bool(roles_of_markings(token.text))
    return not (held or marked or _names_conductor(token) or _is_compound_of_terminals(token.text))


def _is_compound_of_terminals(text: str) -> bool:
    return any(match.end - match.start == len(text) for match in spot("heading", text) if match.concept == "terminal")


def _is_generic(part: Sequence[Token]) -> bool:
    """Tell whether a compound is nothing but a general word for terminals, screws, connections or conductors."""
    return all(token.kind in ("fastener", "of", "small") or _is_general_word(token) for token in part)


def _is_general_word(token: Token) -> bool:
    if token.kind not in ("terminal", "connection", "conductor") or spot_roles(token.text):
        return False
    word = fold(token.text)
    whole, begun = _general_words()
    return token.kind in ("connection", "conductor") or word in whole or word.startswith(begun)


@cache
def _general_words() -> tuple[frozenset[str], tuple[str, ...]]:
    """Return the general words for terminals in every language, and the beginnings of those that are inflected."""
    words = [word for lang in languages() for kind, concept in _GENERIC for word in spellings(kind, concept, lang)]
    whole = frozenset(fold(word.strip("*|‖")) for word in words if not word.endswith("*"))
    return whole, tuple(fold(word.rstrip("*")) for word in words if word.endswith("*") and word[0] != "*")
