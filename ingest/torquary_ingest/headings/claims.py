"""Texts that give a torque outright: a figure with its unit."""

from __future__ import annotations

import re

from torquary_ingest.headings.sense import cut_out, make_sense
from torquary_ingest.lexis.figures import ends_in_figure
from torquary_schema.torque_kinds import names_other_torque
from torquary_schema.units import find_units
from torquary_schema.words import spot

_NUMBER_BEFORE = re.compile(r"(?:\d\s*[x×]\s*)?\d[\d.,/]*\s*$")
_RANGE_SIGN = re.compile(r"(?:[-–—…~〜÷]|\.{2,3})\s*$")


def states_torque(text: str) -> bool:
    """Tell whether the text gives a figure with a torque unit that is not a known false friend."""
    units = [unit for unit in make_sense(text).units if unit.kind == "torque" and unit.certain]
    if not any(ends_in_figure(text[: unit.start]) for unit in units):
        return False
    return not names_other_torque(text)


def take_size(clause: str) -> tuple[str, str]:
    """Return the one conductor size that a clause gives beside its torque, and the clause without it.

    Several sizes stay where they are: which torque goes with which is for the reader of figures to say.
    """
    found: list[tuple[int, int]] = []
    for unit in find_units(clause):
        if unit.kind in ("area", "gauge"):
            start = _start_of_size(clause, unit.start)
            if start is not None:
                found.append((_start_of_limit(clause, start), unit.end))
    if len(found) != 1:
        return "", clause
    return clause[slice(*found[0])], cut_out(clause, found)


def _start_of_size(clause: str, end: int) -> int | None:
    """Return where the size before a unit begins, both ends of a range included; None where no number stands there.

    A size cut in the middle would leave its lower end beside the torque.
    """
    number = _NUMBER_BEFORE.search(clause[:end])
    if number is None:
        return None
    before = clause[: number.start()]
    joined = (m for m in spot("connective", before) if m.concept == "range" and m.end == len(before.rstrip()))
    signs = _RANGE_SIGN.search(before)
    at = signs.start() if signs else next((match.start for match in joined), None)
    lower = _NUMBER_BEFORE.search(clause[:at]) if at is not None else None
    return lower.start() if lower is not None else number.start()


def _start_of_limit(clause: str, start: int) -> int:
    """Return where a limit printed before a size begins ("up to 4 mm²", "≤ 4 mm²"): it belongs to the size."""
    for match in spot("connective", clause):
        if match.concept in ("max", "min") and match.end <= start and not clause[match.end : start].strip(" .:"):
            return match.start
    return start
