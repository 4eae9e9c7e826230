"""Whether a text holds a figure, and whether it ends in one: digits and printed fractions."""

from __future__ import annotations

import re

from torquary_schema.glyphs import FRACTIONS

_DIGIT = rf"[\d{FRACTIONS}]"
_HAS = re.compile(_DIGIT)
_ENDS = re.compile(rf"{_DIGIT}\s*%?\s*[\[(\])]?\s*$")


def has_figure(text: str) -> bool:
    """Tell whether a text has a digit or a printed fraction."""
    return _HAS.search(text) is not None


def ends_in_figure(text: str) -> bool:
    """Tell whether a text ends in a figure, a bracket or per cent sign behind it allowed: what follows is its unit."""
    return _ENDS.search(text) is not None
