"""Which kind of torque a printed text speaks of: one to tighten with, or one of a machine, tool or test.

Only a tightening torque is ever a setting. "Rated" and "nominal" torques are a machine's as a rule; a text that
says no more than "torque" says nothing of its kind.
"""

from __future__ import annotations

from torquary_schema.words import Match, spot

TIGHTENING = "tightening"
RATED = "rated_torque"
_NO_TORQUE_TO_SET = ("wavelength", "pipe_fitting", "tool_range")


def tightening_words(text: str) -> tuple[Match, ...]:
    """Return the words of a text that speak of tightening: "Tightening torque", "serrer à"."""
    return tuple(match for match in spot("torque_kind", text) if match.concept == TIGHTENING)


def names_rated_torque(text: str) -> bool:
    """Tell whether a text speaks of a rated or nominal torque."""
    return any(match.concept == RATED for match in spot("torque_kind", text))


def names_other_torque(text: str) -> bool:
    """Tell whether a text speaks of a torque that no screw is set to: of a motor, a tool, a test, or no torque."""
    kinds = {match.concept for match in spot("torque_kind", text)} - {TIGHTENING, RATED}
    return bool(kinds) or any(match.concept in _NO_TORQUE_TO_SET for match in spot("false_friend", text))


def names_machine(text: str) -> bool:
    """Tell whether a text gives a speed or a moment of inertia: the torques beside it are a machine's."""
    return bool(spot("machine", text))
