"""Words for the role of a terminal in a printed text."""

from __future__ import annotations

from collections.abc import Iterable

from torquary_schema.units import UnitMatch, find_units
from torquary_schema.vocabulary import role_of_marking, vocabulary
from torquary_schema.words import Match, spot


def spot_roles(text: str) -> tuple[Match, ...]:
    """Return the words for a terminal's role, those that are part of a unit left out.

    "N" marks the neutral conductor (IEC 60445), and is the first letter of N·m as well.
    """
    units = find_units(text)
    return tuple(match for match in spot("role", text) if not any(_is_part(match, unit) for unit in units))


def is_terminal(text: str) -> bool:
    """Tell whether a text is nothing but a terminal: a marking ("L2") or a word for its role ("neutral")."""
    return role_of_marking(text) is not None or any(match.printed == text for match in spot("role", text))


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
