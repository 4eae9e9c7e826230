"""Words for the role of a terminal in a printed text."""

from __future__ import annotations

from torquary_schema.units import UnitMatch, find_units
from torquary_schema.words import Match, spot


def spot_roles(text: str) -> tuple[Match, ...]:
    """Return the words for a terminal's role, those that are part of a unit left out.

    "N" marks the neutral conductor (IEC 60445), and is the first letter of N·m as well.
    """
    units = find_units(text)
    return tuple(match for match in spot("role", text) if not any(_is_part(match, unit) for unit in units))


def _is_part(match: Match, unit: UnitMatch) -> bool:
    longer = unit.end - unit.start > match.end - match.start
    return longer and unit.start <= match.start and match.end <= unit.end
