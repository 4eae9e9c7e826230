"""The roles of a terminal in a printed text: each that its words and markings name."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator

from torquary_schema.units import UnitMatch, find_units
from torquary_schema.vocabulary import SIDES, roles_of_markings, vocabulary
from torquary_schema.words import Match, fold, spot

_CODE = r"(?:\d/)?[A-Z]{1,2}\d{0,2}[+-]?"
_NUMBER = r"\d{2,3}"
_AND = r",? (?:and|und|et|ed?|y|en|og|och|ja|a|i|ve|и) "
_THREAD = re.compile(r"M\d{1,2}")
_APPROVAL = re.compile(r"c\W{0,2}\w{0,3}\W{0,2}us", re.IGNORECASE)
"""A mark of approval for two countries, letters round a logo ("c … us"): no marking of a terminal (common practice)."""
_SERIES = re.compile(
    rf"(?<![\w.,])(?:{_NUMBER}(?:(?:, ?|{_AND}){_NUMBER})+|{_CODE}(?:(?:, ?| ?/ ?|{_AND}| ){_CODE})+)$"
)
"""Markings one after the other: letters joined by commas, strokes or blanks, numbers by commas alone."""

_POLES_BEFORE_N = re.compile(rf"(?<![\w.,/-])(?:[1-8](?:, ?|{_AND}))+(?=N(?!\w))")
"""Plain numbers in a row with N ("Outgoing 2, N", "1, 3, 5 and N") are the poles of line conductors."""

_OTHER_CIRCUITS = frozenset(
    {
        "coil", "control", "aux", "aux_nc", "aux_no", "aux_nc_late", "aux_no_early", "aux_co", "trip_signal",
        "shunt_release", "undervoltage_release", "measuring", "communication",
    }
)  # fmt: skip
"""Roles of other circuits than the main one, whose sides the roles `SIDES` are: a control input is no supply side."""

_MARKINGS_BEHIND = re.compile(r"\s*\(?\d{1,3}(?:\s*[-–,/]\s*\d{1,3})+\)?$")
"""Numbers of terminals behind a name: "11-12-14", "(95-96)"."""

_MARKINGS = re.compile(r"(?:[A-Z]{1,2}\d{1,2}(?:[-–/]|, ?)){1,5}[A-Z]{1,2}\d{1,2}|(?:\d{1,3}(?:[-–/]|, ?)){1,5}\d{1,3}")
"""Markings of one kind and nothing else: "A1-A2-B1", "11-12-14"; never "TD-40", which is a type."""

_OUTER = " ,;:()[]/"

_POLES = ("+", "-", "−", "+/-", "+/−", "(+)", "(-)", "(−)")


def spot_roles(text: str) -> tuple[Match, ...]:
    """Return the words for a terminal's role, those that are part of a unit left out.

    "N" marks the neutral conductor (IEC 60445), and is the first letter of N·m as well.
    """
    units = find_units(text)
    found = (m for m in spot("role", text) if not (_ends_a_type(m, text) or _counts(m, text) or _is_elided(m, text)))
    return tuple(match for match in found if not any(_is_part(match, unit) for unit in units))


def _is_elided(match: Match, text: str) -> bool:
    """Tell whether a letter is the rest of a word before its apostrophe: "N'utiliser que du cuivre"."""
    behind = text[match.end : match.end + 2]
    return len(match.printed) == 1 and behind[:1] in ("'", "’") and behind[1:].isalpha()


def names_any_terminal(label: str) -> bool:
    """Tell whether a label names no terminal in particular: "", "Terminal", "all terminals"."""
    if roles_of_label(label):
        return False
    general = [match for match in spot("heading", label) if match.concept == "terminal"]
    general += [match for match in spot("statement", label) if match.concept in ("all", "plain")]
    rest = label
    for match in sorted(general, key=lambda match: match.start, reverse=True):
        rest = f"{rest[: match.start]} {rest[match.end :]}"
    return not fold(rest).strip()


def speaks_of_all(text: str) -> bool:
    """Tell whether a text says something of all terminals: "Do not exceed 2 N·m on any terminal", "on no terminal"."""
    heads = [match.start for match in spot("heading", text) if match.concept == "terminal"]
    ends = [match.end for match in spot("statement", text) if match.concept in ("all", "not")]
    return any(end < head and _is_plain(text[end:head]) for end in ends for head in heads)


def _is_plain(text: str) -> bool:
    plain = {match.printed for match in spot("statement", text) if match.concept == "plain"}
    return all(word in plain for word in text.split())


def says_terminal(text: str) -> bool:
    """Tell whether a word for the screws or clamps of terminals stands in a text: "Earth terminal", "lug"."""
    return any(match.concept == "terminal" for match in spot("tightened", text))


def is_terminal(text: str) -> bool:
    """Tell whether a text is nothing but a terminal: a marking ("L2") or a word for its role ("neutral")."""
    return bool(roles_of_markings(text)) or any(match.printed == text for match in spot("role", text))


def tells_which(label: str) -> bool:
    """Tell whether a label names a terminal by its role or marking, not by a general word ("screw terminal")."""
    return bool(spot_roles(label)) or is_marked(label)


def is_marked(text: str) -> bool:
    """Tell whether a text is nothing but markings of terminals, told by the standard or by their form: "A1-A2-B1"."""
    return bool(roles_of_markings(text)) or _MARKINGS.fullmatch(text.strip()) is not None


def names_other_circuit(text: str) -> bool:
    """Tell whether a text is the name of another circuit than the main one, with its markings or none."""
    bare = _MARKINGS_BEHIND.sub("", text).strip()
    return any(match.concept in _OTHER_CIRCUITS and match.end - match.start == len(bare) for match in spot_roles(bare))


def _counts(match: Match, text: str) -> bool:
    """Tell whether an N is the sign for a number: "N° 95" is no neutral."""
    return match.printed.casefold() == "n" and text[match.end : match.end + 1] in ("°", "º")


def _ends_a_type(match: Match, text: str) -> bool:
    """Tell whether a single letter stands behind a hyphen or point in a longer word: the L of "GB-L" marks nothing."""
    before = text[max(match.start - 2, 0) : match.start]
    return len(match.printed) == 1 and len(before) > 1 and before[-1] in "-–.'’" and before[0].isalnum()


def _is_part(match: Match, unit: UnitMatch) -> bool:
    longer = unit.end - unit.start > match.end - match.start
    return longer and unit.start <= match.start and match.end <= unit.end


def roles_of_label(label: str) -> tuple[str, ...]:
    """Return the roles that a terminal's label names, by words and markings, in their order; () for none.

    A side and a conductor are two: "Load side N" is load_out and neutral. Parts joined by " / " say more of one
    terminal, and so do words that no "and" parts: of two that mean the same the narrower stays ("earth terminal PE").
    """
    text = _POLES_BEFORE_N.sub(lambda poles: re.sub(r"\d", "L", poles[0]), label)
    parts = filter(None, map(_roles_of_part, text.split(" / ")))
    return roles_of_markings(text) or join_roles(*parts)


def join_roles(*named: Iterable[str]) -> tuple[str, ...]:
    """Return the roles of one terminal of which several texts say these; those of one text stay as they are."""
    if len(named) == 1:
        return tuple(named[0])
    found = tuple(dict.fromkeys(role for roles in named for role in roles))
    wider = {wide for role in found for wide in _replaced_by(role)}
    other = any(role in _OTHER_CIRCUITS for role in found)
    return tuple(role for role in found if role not in wider and not (other and role in SIDES))


def _replaced_by(role: str) -> tuple[str, ...]:
    """Return the roles that only say less than this one; a line conductor says more than a side alone."""
    wider = vocabulary("role")[role].wider
    return tuple(wide for wide in wider if wide == "main") if role in SIDES else wider


def _roles_of_part(text: str) -> tuple[str, ...]:
    """Return the roles that a text names, those of the things that "and" joins one after the other.

    "Line and neutral" are two: the side is said of its line conductors.
    """
    groups: list[list[tuple[str, ...]]] = [[]]
    for found in _read_along(text):
        if found is None:
            groups.append([])
        else:
            groups[-1].append(found)
    things = [join_roles(*filter(None, group)) for group in groups]
    conductors = any(role not in SIDES for thing in things for role in thing)
    things = [(*thing, "line") if conductors and thing and SIDES.issuperset(thing) else thing for thing in things]
    return tuple(dict.fromkeys(role for thing in things for role in thing))


def _read_along(text: str) -> Iterator[tuple[str, ...] | None]:
    """Yield the roles of each word and of the markings between words, in order, and None for each "and"."""
    words = spot_roles(text)
    ands = [m for m in spot("connective", text) if m.concept == "and" and not _is_inside(m, words)]
    start = 0
    for match in sorted((*words, *ands), key=lambda match: match.start):
        yield _roles_between(text[start : match.start])
        yield (match.concept,) if match in words else None
        start = match.end
    yield _roles_between(text[start:])


def _is_inside(one: Match, others: Iterable[Match]) -> bool:
    return any(other.start < one.end and one.start < other.end for other in others)


def _roles_between(text: str) -> tuple[str, ...]:
    """Return the roles of the markings that a text is, words for terminals left out: "Terminals L1, L2"."""
    for match in reversed(spot("heading", text)):
        if match.concept == "terminal":
            text = f"{text[: match.start]} {text[match.end :]}"
    return roles_of_markings(text.strip(_OUTER))


def may_share_terminal(one: Collection[str], other: Collection[str]) -> bool:
    """Tell whether nothing in their roles tells two terminals apart; in doubt they may be the same.

    Two sides are two terminals, and so are two conductors, unless one of them only says less. A side alone is of a
    line conductor, but may be of any conductor that is printed for the same side.
    """
    sides = SIDES.intersection(one), SIDES.intersection(other)
    conductors = set(one) - SIDES, set(other) - SIDES
    if all(sides) and not sides[0] & sides[1]:
        return False
    if all(sides) and not all(conductors):
        return True
    wider = {role: vocabulary("role")[role].wider for role in {"line", *one, *other}}
    pairs = ((a, b) for a in conductors[0] or {"line"} for b in conductors[1] or {"line"})
    return any(a == b or a in wider[b] or b in wider[a] for a, b in pairs)


def ends_in_markings(text: str) -> bool:
    """Tell whether a text ends in markings of several terminals: "Alarm contact 11, 12, 14", "Contact 13-14"."""
    words = text.split()
    last = words[-1] if len(words) > 1 else ""
    return _find_series(text) is not None or last in _POLES or bool(roles_of_markings(last))


def is_marking(text: str) -> bool:
    """Tell whether a text is nothing but markings of terminals: "L1", "A1, A2", "13, 14"; a lone code is none.

    "M5" may as well be a thread, "16" a rated current, "S2" a type, "230/400" a voltage.
    """
    series = _find_series(text)
    return bool(roles_of_markings(text)) or (series is not None and series.start() == 0)


def _find_series(text: str) -> re.Match[str] | None:
    found = _SERIES.search(text.strip())
    return None if found is None or _THREAD.search(found[0]) or _APPROVAL.fullmatch(text.strip()) else found
