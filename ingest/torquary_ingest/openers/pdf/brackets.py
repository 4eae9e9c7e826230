"""A raised 2 before a bracket: in "(≤ 10 mm²)" the bracket closes the one before, in "mm 2)" it is the note's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from torquary_ingest.document import Word
from torquary_ingest.lexis.note_marks import takes_exponent

Pieces = TypeVar("Pieces")

_EXPONENTS = {"2)": "²)", "3)": "³)"}
_REACH = 1.2
"""Shares of the font size: words of one cell stand no further apart."""


def close_brackets(line: Sequence[tuple[Word, Pieces]]) -> list[tuple[Word, Pieces]]:
    """Return the words, from left to right, with such brackets given back to the unit they stand behind."""
    closed: list[tuple[Word, Pieces]] = []
    before = ""
    last: Word | None = None
    for word, pieces in line:
        before = f"{before} {last.text}" if last is not None and _runs_on(last, word) else ""
        last = _close(word, before)
        closed.append((last, pieces))
    return closed


def _runs_on(last: Word, word: Word) -> bool:
    gap = word.box.x0 - last.box.x1
    return abs(word.baseline - last.baseline) <= 0.3 * word.size and -word.size <= gap <= _REACH * word.size


def _close(word: Word, before: str) -> Word:
    opened = before.count("(") > before.count(")")
    if not opened or not word.marks or not takes_exponent(word.text):
        return word
    exponent = _EXPONENTS.get(word.marks[0].text)
    return word if exponent is None else replace(word, text=word.text + exponent, marks=word.marks[1:])
