"""What a word speaks of: a torque, tightening, a terminal, a conductor; in every language of the words data.

Words count as words, whole, by their beginnings and ends as the data say, or as long parts of a text run together.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from torquary_ingest.openers.pdf.letters import runs_leftwards
from torquary_schema.words import Kind, all_spellings

NOTHING, TORQUE, TIGHTENING, TERMINAL, CONDUCTOR, VARIANT = 0, 1, 2, 4, 8, 16
"""What a word speaks of; a text may speak of several, as a sum."""

_SOUGHT: tuple[tuple[int, Kind, tuple[str, ...]], ...] = (
    (TORQUE, "heading", ("torque", "torque_min", "torque_max")),
    (TIGHTENING, "torque_kind", ("tightening",)),
    (TERMINAL, "tightened", ("terminal",)),
    (CONDUCTOR, "material", ("copper", "aluminium")),
    (CONDUCTOR, "stranding", ("solid", "stranded", "flexible", "extra_flexible")),
    (CONDUCTOR, "ferrule", ("with", "without", "either")),
    (CONDUCTOR, "handling", ("no_retightening", "retighten", "no_power_tool")),
    (VARIANT, "instruction", ("variant",)),
)
ASKS, OF_SCREWS = TORQUE | TIGHTENING, TORQUE | TIGHTENING | TERMINAL

WORD = re.compile(r"[^\W\d_]+")
_UNSPACED = re.compile(r"[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af]")
_DROPPED = str.maketrans({"ł": "l", "đ": "d", "ı": "i", "æ": "ae", "œ": "oe"})

_LONG = 6
"""Letters from which a word is known within another: texts are run together."""


def words_of(text: str) -> str:
    """Return the words of a text in small letters, each between blanks."""
    return f" {' '.join(WORD.findall(plain(text)))} "


def say(line: str, next_line: str) -> int:
    """Return what the words of a line speak of; a spelling of several words may end on the next line."""
    words = WORD.findall(plain(line))
    said = NOTHING
    for word in set(words):
        said |= says(word)
        for phrase, meaning in phrases_by_word().get(word, ()):
            if f" {phrase} " in words_of(f"{line} {next_line}"):
                said |= meaning
    return said


@lru_cache(maxsize=8192)
def plain(text: str) -> str:
    """Return a text in small letters without accents."""
    if text.isascii():
        return text.lower()
    parts = unicodedata.normalize("NFKD", text)
    bare = "".join(part for part in parts if not 0x300 <= ord(part) <= 0x36F)
    return unicodedata.normalize("NFKC", bare).casefold().translate(_DROPPED)


@lru_cache(maxsize=20_000)
def says(word: str) -> int:
    """Return what one plain word speaks of; one with its letters doubled, as bold is imitated, speaks like a single."""
    if len(word) >= 4 and word[::2] == word[1::2]:
        return says(word[::2])
    found = NOTHING
    for meaning, spellings in _spellings().items():
        if spellings.says(word):
            found |= meaning
    return found


@dataclass(frozen=True, slots=True)
class _Spellings:
    """Single words of one meaning: whole, by their beginning, by their end, by what they hold."""

    whole: frozenset[str]
    begin: tuple[str, ...]
    end: tuple[str, ...]
    within: Mapping[str, tuple[str, ...]]
    unspaced: tuple[str, ...]

    def says(self, word: str) -> bool:
        if word in self.whole or word.startswith(self.begin) or word.endswith(self.end):
            return True
        if _UNSPACED.search(word):
            return any(part in word for part in self.unspaced)
        openings = (word[at : at + _LONG] for at in range(len(word) - _LONG + 1))
        return any(part in word for opening in openings for part in self.within.get(opening, ()))


@cache
def _spellings() -> dict[int, _Spellings]:
    known: dict[int, tuple[str, ...]] = {}
    for meaning, kind, concepts in _SOUGHT:
        known[meaning] = (*known.get(meaning, ()), *all_spellings(kind, *concepts))
    return {meaning: _arrange(spellings) for meaning, spellings in known.items()}


def _arrange(spellings: Sequence[str]) -> _Spellings:
    joined = {spelling: "".join(WORD.findall(plain(spelling))) for spelling in spellings}
    mirrored = {f"{spelling}<": word[::-1] for spelling, word in joined.items() if runs_leftwards(word)}
    known = {spelling: word for spelling, word in (joined | mirrored).items() if word}
    return _Spellings(
        whole=frozenset(known.values()),
        begin=tuple(word for spelling, word in known.items() if spelling.endswith("*")),
        end=tuple(word for spelling, word in known.items() if spelling.startswith("*")),
        within=_by_opening(word for word in set(known.values()) if len(word) >= _LONG),
        unspaced=tuple({word for word in known.values() if _UNSPACED.search(word) and len(word) > 1}),
    )


def _by_opening(words: Iterable[str]) -> Mapping[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for word in words:
        found[word[:_LONG]] = (*found.get(word[:_LONG], ()), word)
    return found


@cache
def phrases_by_word() -> dict[str, tuple[tuple[str, int], ...]]:
    """Return by their first word the spellings of several words of which none says by itself what they say."""
    found: dict[str, list[tuple[str, int]]] = {}
    for meaning, kind, concepts in _SOUGHT:
        for phrase, words in _of_several(all_spellings(kind, *concepts)):
            if not any(says(word) & meaning for word in words):
                found.setdefault(words[0], []).append((phrase, meaning))
    return {word: tuple(phrases) for word, phrases in found.items()}


def _of_several(spellings: Sequence[str]) -> Iterator[tuple[str, list[str]]]:
    for spelling in spellings:
        words = WORD.findall(plain(spelling))
        if len(words) > 1:
            yield " ".join(words), words
            if runs_leftwards(spelling):
                yield " ".join(word[::-1] for word in reversed(words)), [word[::-1] for word in reversed(words)]
