"""What a printed text looks like: a figure, a leader, a list mark. No meaning beyond that."""

from __future__ import annotations

import re
from functools import lru_cache

from torquary_schema.units import find_units

_FIGURE = re.compile(r"[\d.,:/×x%°$€£¥±≤≥<>~≈()\[\]+*#'\"″′\u2010-\u2015\u2212\u00bc-\u00be\u2150-\u215e\s-]+")
# A figure or range with its unit: a short word behind it, with signs but no second word ("2 ... 2,5 Nm", "10 lb-in").
_QUANTITY = re.compile(r"[<>≤≥±]?\s*\d[\d.,\s…–-]*(?<=\d)\s?[^\W\d]{1,3}(?:[·.-][^\W\d]{1,3})?[²³]?")
_YEAR = re.compile(r"(?<!\d)(?:19|20)\d\d(?!\d)")
_LEADER = re.compile(r"(?:[.…_·•]\s?){3,}")
_DASHES = re.compile(r"[-_=\u2010-\u2015\u2500-\u257f]{5,}")
_LIST_MARK = re.compile(r"[•●▪■◆►➢✓\u2013\u2022\uf0b7-]|\(?(?:\d{1,2}|[a-z]|[ivx]{1,4})[.)]|\d+(?:\.\d+)+\.?")
_NOTHING = frozenset({"-", "–", "—", "*", "…", "..", "n/a", "na", "n.a.", "nil", "ref.", "x"})


@lru_cache(maxsize=8192)
def is_figure(text: str) -> bool:
    """Tell whether the text is a figure, several, or what stands for a missing one (a dash)."""
    text = text.strip()
    if not text:
        return False
    if text.lower() in _NOTHING:
        return True
    digits = sum(c.isdigit() for c in text)
    if not digits:
        return False
    share = digits / sum(not c.isspace() for c in text)
    figure = _FIGURE.fullmatch(text) or _QUANTITY.fullmatch(text)
    return figure is not None or _has_long_unit(text) or share >= (0.7 if text[0].isalpha() else 0.5)


def _has_long_unit(text: str) -> bool:
    """Tell whether the text is a figure with one of the longer units that we know behind it: "0.2–0.25 daNm"."""
    units = find_units(text)
    return bool(units) and units[-1].end == len(text) and _FIGURE.fullmatch(text[: units[-1].start]) is not None


@lru_cache(maxsize=8192)
def is_year(text: str) -> bool:
    """Tell whether the text names a year or a span of years, or a day of one."""
    return _YEAR.search(text) is not None


@lru_cache(maxsize=8192)
def is_leader(text: str) -> bool:
    """Tell whether the text is a row of dots that leads the eye."""
    return _LEADER.fullmatch(text) is not None


@lru_cache(maxsize=8192)
def is_dashes(text: str) -> bool:
    """Tell whether the text is a rule made of dashes."""
    return _DASHES.fullmatch(text) is not None


@lru_cache(maxsize=8192)
def is_list_mark(text: str) -> bool:
    """Tell whether the text begins an item of a list."""
    return _LIST_MARK.fullmatch(text.strip()) is not None
