"""Whether a text holds a figure, and whether it ends in one: digits and printed fractions."""

from __future__ import annotations

import re

from torquary_schema.glyphs import FRACTIONS

_UNSPACED = r"\u3005-\u30ff\u3400-\u9fff\uac00-\ud7a3"
"""Letters of scripts that stand at a figure without a blank: kana, han, hangul."""

BEGINS = rf"(?:(?<![\w.,/])|(?<=[{_UNSPACED}]))"
"""Where a figure may begin: no letter, digit or mark before it that it is part of."""

NO_NAME = r"(?<!\b[A-Z])(?<!\d)(?<!\d[.,])"
"""Where a figure may begin that is not the number of a marking or a thread ("L1", "M4"); one in "MAX2.5" is."""

WORD_BEGINS = rf"(?:(?<!\w)|(?<=[{_UNSPACED}]))"
WORD_ENDS = rf"(?:(?!\w)|(?=[{_UNSPACED}]))"
"""Where a number or code of its own may begin and end."""

_DIGIT = rf"[\d{FRACTIONS}]"
_HAS = re.compile(_DIGIT)
_ENDS = re.compile(rf"(?:{NO_NAME}\d+(?:[.,]\d+)*|[{FRACTIONS}])\s*%?\s*[\[(\])]?\s*$")


def has_figure(text: str) -> bool:
    """Tell whether a text has a digit or a printed fraction."""
    return _HAS.search(text) is not None


def ends_in_figure(text: str) -> bool:
    """Tell whether a text ends in a figure, a bracket or per cent sign behind it allowed: what follows is its unit.

    The number of a marking or a thread ("L1", "M4") is no figure.
    """
    return _ENDS.search(text) is not None
