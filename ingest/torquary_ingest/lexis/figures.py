"""Whether a text holds a figure, and whether it ends in one: digits and printed fractions."""

from __future__ import annotations

import re

from torquary_schema.glyphs import FRACTIONS

_DIGIT = rf"[\d{FRACTIONS}]"
_HAS = re.compile(_DIGIT)
_ENDS = re.compile(rf"{_DIGIT}\s*%?\s*[\[(\])]?\s*$")
_BEGINS = re.compile(rf"\s*[<>≤≥±~≈+−–-]?\s*{_DIGIT}")


def has_figure(text: str) -> bool:
    """Tell whether a text has a digit or a printed fraction."""
    return _HAS.search(text) is not None


def begins_with_figure(text: str) -> bool:
    """Tell whether a text begins with a figure, a sign of its side or bound before it allowed: "≤ 2.5"."""
    return _BEGINS.match(text) is not None


def ends_in_figure(text: str) -> bool:
    """Tell whether a text ends in a figure, a bracket or per cent sign behind it allowed: what follows is its unit."""
    return _ENDS.search(text) is not None
