"""Texts that give a torque outright: a figure with its unit."""

from __future__ import annotations

import re

from torquary_ingest.headings.sense import make_sense
from torquary_schema.words import spot

_FIGURE_END = re.compile(r"[\d½¼¾⅛⅜⅝⅞]\s*[\])]?\s*$")
# Words that say the torque is not one to set with a driver. "hand_tight" is absent: such a text gives no figure.
_EXCUSED = frozenset(
    {
        "tool_range",
        "motor_torque",
        "output_torque",
        "starting_torque",
        "wavelength",
        "operating_torque",
        "breaking_torque",
        "loosening_torque",
        "prevailing_torque",
        "test_torque",
        "pipe_fitting",
    }
)


def states_torque(text: str) -> bool:
    """Tell whether the text gives a figure with a torque unit that is not a known false friend."""
    units = [unit for unit in make_sense(text).units if unit.kind == "torque" and unit.certain]
    if not any(_FIGURE_END.search(text[: unit.start]) for unit in units):
        return False
    return not any(match.concept in _EXCUSED for match in spot("false_friend", text))
