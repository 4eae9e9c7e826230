"""Headings that a program wrote: names of fields all in small letters, words tied by strokes ("main_torque_nm")."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from torquary_schema.units import UnitMatch

_IDENTIFIER = re.compile(r"[a-z][a-z0-9]*(?:_[a-z0-9]+)+")
_CAPITALS = {"nm": "Nm", "ncm": "Ncm"}
"""Units of torque without their capitals, which such a name cannot have; a prefix m or M is left in doubt."""


def with_capitals(text: str, units: tuple[UnitMatch, ...]) -> Iterator[UnitMatch]:
    """Yield the units of a heading; in a field's name a torque's unit is meant with its capitals."""
    for unit in units:
        meant = _CAPITALS.get(unit.printed) if unit.kind == "torque" and not unit.certain else None
        whole = unit.end == len(text) and _IDENTIFIER.fullmatch(text)
        yield replace(unit, printed=meant, certain=True) if meant and whole else unit
