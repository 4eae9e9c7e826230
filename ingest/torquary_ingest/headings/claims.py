"""Texts that give a torque outright: a figure with its unit."""

from __future__ import annotations

import re

from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_schema.units import find_units
from torquary_schema.words import spot

_SIZE_BEFORE = re.compile(
    r"(?:\d\s*[x×]\s*)?\d[\d.,/]*(?:\s*(?:[-–—…~÷]|\.{2,3}|to|bis|à|a)\s*\d[\d.,/]*)?\s*$", re.IGNORECASE
)
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


def take_size(clause: str) -> tuple[str, str]:
    """Return the one conductor size that a clause gives beside its torque, and the clause without it.

    Several sizes stay where they are: which torque goes with which is for the reader of figures to say.
    """
    found: list[tuple[int, int]] = []
    for unit in find_units(clause):
        if unit.kind in ("area", "gauge"):
            figure = _SIZE_BEFORE.search(clause[: unit.start])
            if figure is not None:
                found.append((_start_of_limit(clause, figure.start()), unit.end))
    if len(found) != 1:
        return "", clause
    return clause[slice(*found[0])], cut_out(clause, found)


def _start_of_limit(clause: str, start: int) -> int:
    """Return where a limit printed before a size begins ("up to 4 mm²", "≤ 4 mm²"): it belongs to the size."""
    for match in spot("connective", clause):
        if match.concept in ("max", "min") and match.end <= start and not clause[match.end : start].strip(" .:"):
            return match.start
    return start
