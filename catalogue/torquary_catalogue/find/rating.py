"""The rating of a device as people type it: `32A`, `63 amp`, and with its tripping characteristic `B32`, `C16`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

AMPS = re.compile(
    r"(?<![\w.,/])(?P<amps>[0-9]{1,4}(?:[.,][0-9])?)(?:\s*A|a|\s*(?:amps?|ampere|ampère|amperes|amperios|amper|ampère?s))(?!\w)"
)
CURVE = re.compile(r"(?<![\w.,/-])(?P<curve>[BCDKZbcdkz])(?:(?<=[A-Z])\s)?(?P<amps>[0-9]{1,3})(?![\w.,/])")
RATED = frozenset(
    (1, 2, 3, 4, 6, 8, 10, 13, 15, 16, 20, 25, 30, 32, 35, 40, 45, 50, 60, 63, 70, 80, 90, 100, 110, 125)
)
"""Rated currents of circuit-breakers with a characteristic (IEC 60898-1, from memory): "B9" is a type."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rating:
    """A rated current (amperes), with its characteristic ("b") or None; where it stands in the text."""

    amps: Decimal
    curve: str | None
    start: int
    end: int
    typed: str


def find_ratings(text: str) -> tuple[Rating, ...]:
    """Return the ratings that stand in the text, in order."""
    curves = [match for match in CURVE.finditer(text) if int(match["amps"]) in RATED]
    found = [_read(match, match["curve"].lower()) for match in curves]
    found += [_read(match, None) for match in AMPS.finditer(text)]
    return tuple(sorted(found, key=lambda one: one.start))


def _read(match: re.Match[str], curve: str | None) -> Rating:
    amps = Decimal(match["amps"].replace(",", "."))
    return Rating(amps=amps, curve=curve, start=match.start(), end=match.end(), typed=match[0].strip())
