"""Words and signs that stand in cells of figures, by kind: `phrases.json` and the connectives of all languages."""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.resources import files

from torquary_schema.words import all_spellings

_CONNECTIVES = {"MIN": "min", "MAX": "max", "BETWEEN": "from", "DASH": "range", "AND": "and"}
"""Kinds to which the connectives of all word files belong too, by their concept there."""


@cache
def phrases(kind: str) -> tuple[str, ...]:
    """Return the spellings of a kind, folded to lower case, the longest first."""
    own = {p.casefold() for p in _phrase_table()[kind]}
    if kind in _CONNECTIVES:
        known = (word.strip("|=").casefold() for word in all_spellings("connective", _CONNECTIVES[kind]))
        own |= {word for word in known if word.rstrip(".")[-1:].isalpha()} - _taken_otherwise(kind)
    return tuple(sorted(own, key=len, reverse=True))


def _taken_otherwise(kind: str) -> set[str]:
    """Return the words that the grammar takes otherwise: "bis zu" as a dash of a range, "or more" behind a figure."""
    kinds = {"MAX": ("DASH", "PREFIX_MAX", "LESS"), "MIN": ("MORE",)}.get(kind, ())
    return {p.casefold() for one in kinds for p in _phrase_table()[one]}


@cache
def _phrase_table() -> dict[str, list[str]]:
    loaded: dict[str, list[str]] = json.loads((files("torquary_ingest.figures") / "phrases.json").read_text("utf-8"))
    return loaded


@cache
def phrase_pattern(kind: str) -> re.Pattern[str]:
    """Return a pattern for the spellings of a kind, where they are words of their own."""

    def spell(phrase: str) -> str:
        pattern = re.escape(phrase).replace("\\ ", r"\s+")
        if phrase[-1].isalpha() and ord(phrase[-1]) < 0x3000:
            pattern += r"(?:\.(?!\d))?(?![^\W\d_])"
        return pattern

    return re.compile("|".join(spell(p) for p in phrases(kind)), re.IGNORECASE)
