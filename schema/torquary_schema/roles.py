"""Words for the role of a terminal in a printed text."""

from __future__ import annotations

import re
from collections.abc import Iterable

from torquary_schema.units import UnitMatch, find_units
from torquary_schema.vocabulary import role_of_marking, vocabulary
from torquary_schema.words import Match, spot

_CODE = r"(?:\d/)?[A-Z]{1,2}\d{0,2}[+-]?"
_NUMBER = r"\d{2,3}"
_AND = r",? (?:and|und|et|ed?|y|en|og|och|ja|a|i|ve|и) "
_THREAD = re.compile(r"M\d{1,2}")
_SERIES = re.compile(
    rf"(?<![\w.,])(?:{_NUMBER}(?:(?:, ?|{_AND}){_NUMBER})+|{_CODE}(?:(?:, ?| ?/ ?|{_AND}| ){_CODE})+)$"
)
"""Markings one after the other: letters joined by commas, strokes or blanks, numbers by commas alone."""

_POLES = ("+", "-", "−", "+/-", "+/−", "(+)", "(-)", "(−)")


def spot_roles(text: str) -> tuple[Match, ...]:
    """Return the words for a terminal's role, those that are part of a unit left out.

    "N" marks the neutral conductor (IEC 60445), and is the first letter of N·m as well.
    """
    units = find_units(text)
    found = (match for match in spot("role", text) if not _ends_a_type(match, text))
    return tuple(match for match in found if not any(_is_part(match, unit) for unit in units))


def is_terminal(text: str) -> bool:
    """Tell whether a text is nothing but a terminal: a marking ("L2") or a word for its role ("neutral")."""
    return role_of_marking(text) is not None or any(match.printed == text for match in spot("role", text))


def _ends_a_type(match: Match, text: str) -> bool:
    """Tell whether a single letter stands behind a hyphen or point in a longer word: the L of "GB-L" marks nothing."""
    before = text[max(match.start - 2, 0) : match.start]
    return len(match.printed) == 1 and len(before) > 1 and before[-1] in "-–.'’" and before[0].isalnum()


def _is_part(match: Match, unit: UnitMatch) -> bool:
    longer = unit.end - unit.start > match.end - match.start
    return longer and unit.start <= match.start and match.end <= unit.end


def role_of_label(label: str) -> str | None:
    """Return the one role that a terminal's label names, by its words or as a marking; None for none or several."""
    found = narrowest(match.concept for match in spot_roles(label))
    if not found:
        return role_of_marking(label)
    return found[0] if len(found) == 1 else None


def narrowest(roles: Iterable[str]) -> tuple[str, ...]:
    """Return the roles, without those that only say less than another: "phase, line side" is the supply side."""
    found = tuple(dict.fromkeys(roles))
    wider = {wide for role in found for wide in vocabulary("role")[role].wider}
    return tuple(role for role in found if role not in wider)


def ends_in_markings(text: str) -> bool:
    """Tell whether a text ends in markings of several terminals: "Alarm contact 11, 12, 14", "Contact 13-14"."""
    words = text.split()
    last = words[-1] if len(words) > 1 else ""
    return _find_series(text) is not None or last in _POLES or (bool(last) and role_of_marking(last) is not None)


def is_marking(text: str) -> bool:
    """Tell whether a text is nothing but markings of terminals: "L1", "A1, A2", "13, 14"; a lone code is none.

    "M5" may as well be a thread, "16" a rated current, "S2" a type, "230/400" a voltage.
    """
    series = _find_series(text)
    return role_of_marking(text) is not None or (series is not None and series.start() == 0)


def _find_series(text: str) -> re.Match[str] | None:
    found = _SERIES.search(text.strip())
    return None if found is None or _THREAD.search(found[0]) else found
