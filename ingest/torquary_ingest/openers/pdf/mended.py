"""Words with glyphs of unknown character (ligatures and figures without Unicode), mended by the picture of the page.

A ligature between letters that the picture confirms is proved; what else was mended stays held, for a person to
compare.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from torquary_ingest.document import Doubt, Word
from torquary_ingest.openers.pdf.letters import is_unreadable
from torquary_ingest.witness.recogniser import load_recogniser
from torquary_schema.values import Box

LIGATURES = frozenset(
    ("ff", "fi", "fl", "ffi", "ffl", "ft", "fft", "fj", "tt", "ti", "tti", "Th", "ct", "st", "ch", "ck")
)
"""Letters that typefaces draw as one glyph (common practice)."""

MOST = 80
"""Words of a page that are looked at: a page with more is better read by eye."""

LEAST_KNOWN = 3
"""Letters of a word that the picture must confirm before its ligature counts as proved."""

EDGES = (0.12, 0.45)
"""Ground round a word in parts of its size: it is read with each, and the readings must agree."""

CODE = "character_unreadable"

Look = Callable[[Sequence[tuple[Box, int]]], list[Any]]
"""From boxes on the page and the clockwise turns of their text to grey pictures that read from left to right."""


def mend_words(words: Sequence[Word], look: Look) -> list[Word]:
    """Return the words, those with unknown glyphs as the picture reads them; without a recogniser as they are."""
    broken = [at for at, word in enumerate(words) if _is_broken(word)][:MOST]
    recogniser = load_recogniser() if broken else None
    if recogniser is None:
        return list(words)
    readings = [recogniser.read(look([_around(words[at], edge) for at in broken])) for edge in EDGES]
    mended = list(words)
    for at, seen in zip(broken, zip(*readings, strict=True), strict=True):
        mended[at] = _mend(words[at], [text.replace(" ", "") for text in seen])
    return mended


def _is_broken(word: Word) -> bool:
    unknown = any(doubt.code == CODE for doubt in word.doubts)
    return unknown and any(letter.isalnum() for letter in word.text)


def _around(word: Word, edge: float) -> tuple[Box, int]:
    by, box = edge * word.size + 0.5, word.box
    return Box(x0=box.x0 - by, top=box.top - by, x1=box.x1 + by, bottom=box.bottom + by), word.turn


def _mend(word: Word, seen: Sequence[str]) -> Word:
    """Return the word with what every reading shows in place of its unknown glyphs; as it is where they differ."""
    pattern = "".join("(.{1,3})" if is_unreadable(part) else re.escape(part) for part in word.text)
    found = re.fullmatch(pattern, seen[0])
    if found is None or len(set(seen)) > 1:
        return word
    others = tuple(doubt for doubt in word.doubts if doubt.code != CODE)
    known = sum(letter.isalpha() and not is_unreadable(letter) for letter in word.text)
    if known >= LEAST_KNOWN and LIGATURES.issuperset(found.groups()):
        return replace(word, text=seen[0], doubts=others)
    doubt = Doubt(code=CODE, message=f"a glyph in {seen[0]!r} has no known character and was read from the picture")
    return replace(word, text=seen[0], doubts=(*others, doubt))
