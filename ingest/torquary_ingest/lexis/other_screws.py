"""Words for screws that are no terminal's: covers, mounting, glands."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_schema.roles import spot_roles
from torquary_schema.words import Match, spot


def other_screws(text: str) -> list[Match]:
    """Return the words for screws that are no terminal's; a word inside the name of a terminal or torque is none.

    "Frame earth" is a terminal, though a frame is an enclosure; Spanish "par de fijación" is any tightening torque.
    """
    names = [*spot_roles(text), *(m for m in spot("heading", text) if m.concept.startswith("torque"))]
    names += [match for match in spot("torque_kind", text) if match.concept == "tightening"]
    found = (match for match in spot("purpose", text) if match.concept != "electrical_terminal")
    return [match for match in found if not _is_inside(match, names)]


def _is_inside(match: Match, names: Sequence[Match]) -> bool:
    return any(
        name.start <= match.start and match.end <= name.end and len(name.printed) > len(match.printed)
        for name in names
    )
