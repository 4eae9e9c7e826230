"""Words and signs that stand in cells of figures, by kind, as `phrases.json` lists them."""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.resources import files


@cache
def phrases(kind: str) -> tuple[str, ...]:
    """Return the spellings of a kind of `phrases.json`, folded to lower case, the longest first."""
    return tuple(sorted({p.casefold() for p in _phrase_table()[kind]}, key=len, reverse=True))


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
