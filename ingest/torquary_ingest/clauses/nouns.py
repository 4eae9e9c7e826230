"""The things that a sentence speaks of, each with all words of its name and what its head noun makes it."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.clauses.heads import (
    THINGS,
    ThingKind,
    is_bare_role,
    is_code,
    is_designation,
    is_generic,
    is_mark,
    is_unread_word,
    kind_of,
    may_mark,
    names_conductor,
    range_words,
)
from torquary_ingest.clauses.owners import (
    NO_TERMINALS,
    heed_owners,
    is_clamping,
    without_attributes,
)
from torquary_ingest.clauses.thing import Element, Thing
from torquary_ingest.clauses.tokens import Token
from torquary_schema.words import fold

_UNREAD = ("word", "type")
_TYPED = ("other", "role", "contact")
_MOST_BEFORE = 3
"""Words not known before a noun at most that belong to its name: "high current relay terminal block"."""
_NUMBERED = ("terminal", "role", "contact", "number", "hyphen")
_JOINTS = {"of": "of", "and": "and", "or": "and", "comma": "and"}
_SMALL = ("small", "of", "slash", "or")
_MOST_BETWEEN = 2
"""Small words behind "of" or "and" at most that still join two names: "and from the", "and/or"."""


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
    return heed_owners(found)


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
    if first >= len(tokens) or tokens[first].kind not in THINGS:
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
    if token.kind in THINGS and not (token.kind == "connection" and before.kind != "connection"):
        return 1
    typed = before.kind in _TYPED and is_designation(token)  # "end bracket KX-2"
    if typed or (token.kind == "number" and may_mark(token) and before.kind in _NUMBERED):
        return 1
    follows = tokens[at + 1] if at + 1 < len(tokens) else None
    return 2 if follows is not None and _joins(before, token, follows) else 0


def _joins(before: Token, token: Token, follows: Token) -> bool:
    """Tell whether a token ties the next one to a compound: "styk sygnalizacyjny 11", "L1/L2", "earth-bar"."""
    if is_mark(follows) and (
        (before.kind == "contact" and token.kind == "word")
        or (before.kind in ("marking", "number") and token.kind in ("slash", "hyphen"))
    ):
        return True
    glued = before.end == token.start and token.end == follows.start
    return token.kind == "hyphen" and glued and follows.kind in ("word", *THINGS)


def _with_head(tokens: Sequence[Token], end: int) -> int:
    """Return the token behind a role with the unread noun that follows it: "power supply module" is the module.

    So is the marking behind that: "comando esterno S1".
    """
    behind = end
    while behind < len(tokens) and tokens[behind].kind == "word" and behind - end < _MOST_BEFORE:
        behind += 1
    if end < behind < len(tokens) and tokens[behind].kind == "marking":
        behind += 1
    return behind if tokens[end - 1].kind == "role" and is_bare_role(tokens[end - 1]) else end


def _joined_behind(
    tokens: Sequence[Token], last: _Compound, compounds: list[_Compound]
) -> _Compound | None:
    """Return the compound that is joined to the last one by "of", by "and", a comma, or the sign of a range."""
    at = last[1]
    if at >= len(tokens):
        return None
    kind = _JOINTS.get(tokens[at].kind, "")
    if not kind:
        return _end_of_range(tokens, at)
    start = _behind_small(tokens, at)
    if start >= len(tokens):
        return None
    if kind == "and" and _marks_alone(tokens, start) and is_mark(tokens[at - 1]):
        return (start, start + 1, kind)
    end = _end_of_compound(tokens, start)
    head = tokens[last[0] : at]
    if end is None and kind == "of" and kind_of(head) == "terminal" and not any(map(is_mark, head)):
        end = _end_of_attribute(tokens, start)
    if end is None or (kind == "and" and not _alike(tokens[last[0] : at], tokens[start:end])):
        return None
    return (start, end, kind)


def _end_of_attribute(tokens: Sequence[Token], at: int) -> int | None:
    """Return the token behind unread words that tell which terminals are meant: "bornes de tensión"; None for none."""
    end = at
    while end < len(tokens) and tokens[end].kind == "word" and end - at < _MOST_BEFORE:
        end += 1
    return end if end > at else None


def _marks_alone(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a token is a further marking of a list and heads no name of its own: "1, 3, 5, N"."""
    lone = tokens[at].kind == "marking" and _end_of_compound(tokens, at) == at + 1
    return may_mark(tokens[at]) or lone


def _behind_small(tokens: Sequence[Token], at: int) -> int:
    """Return the first token behind a joining word and the small words that follow it: "and from the"."""
    start = at + 1
    while start < len(tokens) and tokens[start].kind in _SMALL and start - at <= _MOST_BETWEEN:
        start += 1
    return start


def _end_of_range(tokens: Sequence[Token], at: int) -> _Compound | None:
    """Return the last marking of a range: "X1 to X4", "L1–L3"."""
    token, before = tokens[at], tokens[at - 1]
    marks = {"marking", "number"}
    if at + 1 >= len(tokens) or before.kind not in marks or tokens[at + 1].kind not in marks:
        return None
    word = fold(token.text) in range_words()
    dots = token.kind == "colon" and "." in token.text
    return (at + 1, at + 2, "and") if word or dots or token.kind in ("dash", "hyphen") else None


def _alike(one: Sequence[Token], other: Sequence[Token]) -> bool:
    """Tell whether two compounds are of one kind, so that "and" may join them."""
    naming = {"terminal", "role", "marking"}
    kinds = [{token.kind for token in part} & THINGS for part in (one, other)]
    conductors = [
        any(token.kind == "conductor" or names_conductor(token) for token in part)
        for part in (one, other)
    ]
    return all(kind & naming and not kind & {"other", "fastener"} for kind in kinds) and not (
        conductors[0] and not conductors[1]
    )


def _as_thing(compounds: list[_Compound], tokens: Sequence[Token], text: str) -> Thing:
    parts = [tokens[first:last] for first, last, _ in compounds]
    joints = [joint for _, _, joint in compounds]
    kinds = _kinds_of(parts)
    kind = _kind_of_name(kinds, joints, clamping=is_clamping(parts[0]))
    members = [_print(part, text) for part in parts]
    headed = kind == "terminal" and ("other", "of") in zip(kinds, joints, strict=True)
    last = parts[0] if headed else parts[-1]  # "ground screw of the housing": the head names it
    every = [token for part in parts for token in part]
    return Thing(
        kind=kind,
        start=every[0].start,
        end=last[-1].end,
        text=" ".join(text[every[0].start : last[-1].end].split()),
        generic=all(map(is_generic, parts)),
        opened=_is_opened(compounds, tokens),
        marked=all(token.kind in ("marking", "number", "slash", "hyphen") for token in every),
        screwed=any(token.kind == "fastener" for token in every),
        apart=_cut_apart(parts, text, joints) if kind in ("terminal", "role") else (),
        members=tuple(one for one, joint in zip(members, joints, strict=True) if joint != "of"),
        unread=tuple(one.text for one in filter(is_unread_word, every)),
    )


def _cut_apart(
    parts: Sequence[Sequence[Token]], text: str, joints: Sequence[str]
) -> tuple[tuple[int, int, str], ...]:
    """Return the names of a list with their offsets; none where not each has a word for terminals and a marking."""
    names: list[list[Token]] = []
    for part in parts:
        if names and is_mark(part[0]):
            names[-1] += part
        else:
            names.append(list(part))
    if len(names) < 2 or "of" in joints or not all(map(_is_marked_name, names)):
        return ()
    ends = [(name[0].start, name[-1].end) for name in names]
    return tuple((start, end, " ".join(text[start:end].split())) for start, end in ends)


def _is_marked_name(name: Sequence[Token]) -> bool:
    typed = kind_of(name) == "role" and is_designation(name[-1])
    marked = kind_of(name) == "terminal" and any(map(is_mark, name))
    return not is_mark(name[0]) and (typed or marked)


def _kinds_of(parts: Sequence[Sequence[Token]]) -> list[ThingKind]:
    """Return what each of several compounds in one name is."""
    parts = [without_attributes(part) for part in parts]
    if len(parts) == 1:
        return [kind_of(parts[0])]
    kinds = [_kind_in_list(part) for part in parts]
    if [token.kind for token in parts[0]] == ["contact"] and kinds[1] == "role":
        kinds[0] = "terminal"  # "barra de tierra"
    return kinds


def _print(part: Sequence[Token], text: str) -> str:
    return " ".join(text[part[0].start : part[-1].end].split())


def _kind_in_list(part: Sequence[Token]) -> ThingKind:
    """Return what a compound beside others is; a code among markings is one of them."""
    return "terminal" if is_code(part[0]) else kind_of(part)


def _kind_of_name(
    kinds: Sequence[ThingKind], joints: Sequence[str], *, clamping: bool
) -> ThingKind:
    """Return what joined compounds are: the first is the head, a screw what it is the screw of.

    So is one that is `clamping` what it is of where that is no terminal.
    """
    kind = kinds[0]
    for more, joint in zip(kinds[1:], joints[1:], strict=True):
        owned = clamping and joint == "of" and more in NO_TERMINALS
        if kind == "screw" or owned or (joint == "and" and kind == "role"):
            kind = more
    return kind


def _is_opened(compounds: list[_Compound], tokens: Sequence[Token]) -> bool:
    """Tell whether an unread word opens the sentence and alone tells the name apart; before a colon it is a label."""
    first, end = compounds[0][0], compounds[-1][1]
    if (
        first
        or tokens[0].kind not in _UNREAD
        or (end < len(tokens) and tokens[end].kind == "colon")
    ):
        return False
    bare = (
        [token for token in tokens[at:to] if token.kind not in _UNREAD] for at, to, _ in compounds
    )
    return all(map(is_generic, bare))
