"""Case endings that languages hang on a figure or its unit: "1,5 mm²-től 4 mm²-ig", "2,5 Nm:iin", "0.5부터 2.5까지"."""

from __future__ import annotations

import re
from functools import lru_cache

from torquary_schema.units import find_units

_FROM = ("-tól", "-től", ":stä", ":sta", "'den", "'dan", "'ten", "'tan", "-st", "부터", "에서", "から")
"""Hungarian, Finnish, Turkish, Estonian, Korean, Japanese: the lower end of a range."""
_UP_TO = (
    *("-ig", ":iin asti", ":iin saakka", ":een asti", ":een saakka", "'e kadar", "'a kadar", "'ye kadar", "'ya kadar"),
    *("-ni", "까지", "まで"),
)
"""The upper end of a range; alone it bounds a figure."""
_TO = ("-ra", "-re", ":iin", ":een", ":hin", "'e", "'a", "'ye", "'ya")
"""What a screw is tightened to; behind a lower end it is the upper one."""
_OTHERS = (
    *("-rel", "-ral", "-val", "-vel", "-es", "-as", "-os", "-ös", "-nél", "-nál", "-hez", "-hoz", "-höz", "-nyi"),
    *("-nek", "-nak", "-ban", "-ben", "-t", "-ot", "-et", ":n", ":ä", ":a", ":llä", ":lla", ":lle", ":ssä", ":ssa"),
    *("'lik", "'lık", "'luk", "'lük", "'dir", "'dır", "'de", "'da", "'in", "'ın", "'nin", "'nın", "'yi", "'yı"),
)
"""Endings that leave the figure what it is."""
_KINDS = {spelt: kind for kind, all_of in (("from", _FROM), ("up to", _UP_TO), ("to", _TO), ("", _OTHERS))
          for spelt in all_of}  # fmt: skip
_SPELT = (re.escape(one).replace("'", "['’]") for one in sorted(_KINDS, key=len, reverse=True))
_ENDING = re.compile("|".join(one.replace(r"\ ", r"\s+") for one in _SPELT))
_OTHER_END = re.compile(r"\s*\d+(?:[.,]\d+)?\s*\S{0,5}")
"""What stands between the endings of a range: a figure and its unit, of five signs at most (own choice)."""
_BOUND = "以下"
"""A word for "at most" that needs no blank before it, so that a text keeps its length."""


@lru_cache(maxsize=4096)
def spell_endings(text: str) -> str:
    """Return the text, as long as before, with case endings at figures as a dash, a bound or blanks.

    A lower end without its upper one stays as printed: nothing else tells what it means.
    """
    found = [match for match in _ENDING.finditer(text) if _at_figure(text, match)]
    letters = list(text)
    opened: re.Match[str] | None = None
    for match in found:
        kind = _KINDS[" ".join(match[0].replace("’", "'").split())]
        ranged = opened is not None and _OTHER_END.fullmatch(text[opened.end() : match.start()]) is not None
        if ranged and opened is not None and kind in ("up to", "to"):
            letters[opened.start() : opened.end()] = " – ".ljust(opened.end() - opened.start())[: len(opened[0])]
        opened = match if kind == "from" else None
        if kind != "from":
            bounds = kind == "up to" and not ranged
            letters[match.start() : match.end()] = (_BOUND if bounds else "").rjust(match.end() - match.start())
    return "".join(letters)


def _at_figure(text: str, match: re.Match[str]) -> bool:
    """Tell whether an ending hangs on a digit or a unit, and no word goes on behind it."""
    behind = text[match.end() : match.end() + 1]
    if behind.isalpha() and ord(behind) < 0xAC00:
        return False
    units = {unit.end for unit in find_units(text[: match.start()])}
    return match.start() in units or text[match.start() - 1 : match.start()].isdecimal()
