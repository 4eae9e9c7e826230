"""The text of an item cut into sentences; a full stop behind an abbreviation ends none."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from torquary_ingest.clauses.markers import BULLET
from torquary_schema.units import find_units
from torquary_schema.words import KINDS, all_spellings, concepts, fold

_ITEM = rf"(?<!\d)\n(?:{BULLET})\s+|\n(?:{BULLET})\s+(?=\D)"
"""A bullet at the head of a line; a dash between two figures parts the ends of a range."""
_END = re.compile(rf"(?<=[.!?])\s+(?=[A-ZÀ-ÞА-Я\u0370-\u03ff(])|(?<=[。！？])|{_ITEM}")
_LAST_WORD = re.compile(r"[^\s(]+$")
_INCHES = re.compile(r"\d\s?in\.$", re.IGNORECASE)


def cut_sentences(text: str) -> Iterator[tuple[int, str]]:
    """Yield each sentence of a text with its offset, blanks at its ends left out."""
    start = 0
    for end in _END.finditer(text):
        if end[0].strip() == "" and _abbreviates(text[start : end.start()]):
            continue
        yield from _trimmed(text, start, end.start())
        start = end.end()
    yield from _trimmed(text, start, len(text))


def _trimmed(text: str, start: int, end: int) -> Iterator[tuple[int, str]]:
    piece = text[start:end]
    if piece.strip():
        yield start + len(piece) - len(piece.lstrip()), piece.strip()


def _abbreviates(text: str) -> bool:
    """Tell whether a text ends in an abbreviation: "Max.", "Nr.", "Fig.", a letter, the number of a step."""
    last = _LAST_WORD.search(text)
    word = last[0].rstrip(".") if last is not None else ""
    if not word or text[-1:] != ".":
        return False
    if len(word) == 1 or text.strip().rstrip(".").isdigit():
        return True
    if _ends_in_unit(text[: last.start()] if last is not None else ""):
        return False
    return fold(word) in abbreviations() or _INCHES.search(text) is not None


def _ends_in_unit(text: str) -> bool:
    """Tell whether a text ends in a quantity's unit: what is short behind it ("1.0 N·m max.") ends the sentence."""
    bare = text.rstrip()
    return any(unit.end == len(bare) and unit.kind == "torque" for unit in find_units(bare))


@cache
def abbreviations() -> frozenset[str]:
    """Return the words of all vocabularies that are printed with a full stop, folded."""
    words = (word for kind in KINDS for word in all_spellings(kind, *concepts(kind)))
    return frozenset(
        fold(word.split()[-1]) for word in words if word.endswith(".") and len(word) > 1
    )
