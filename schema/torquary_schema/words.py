"""Printed words in many languages and the concepts they stand for.

The words are in `words/<language>.json`: kind → concept → list of spellings; `concepts.json` lists the
kinds and says what each concept means. Capitals, accents and punctuation do not matter, and a hyphen or a
line end inside a spelling is understood. In a spelling
    *querschnitt   stands for every word that ends so (compounds),
    dokrec*        for every word that begins so (inflections),
    |do.|          for the whole text of a cell and nothing less,
    =câblé=        for the word with these accents ("câble" is another word) and signs ("t/m": "TM" is another word).
The concept "-" of a kind lists what only looks like a word of it ("cu manșon" is "with a sleeve", no copper).
A spelling made of signs only ("≤"), or with a plus or minus in front, is looked for as it stands. Within
one kind a spelling has one concept; two word files that disagree are an error when they are loaded.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Literal, get_args
from unicodedata import normalize

from torquary_schema.folding import Folded, Gap, fold, fold_with_places, script_of
from torquary_schema.suspended import find_shared, find_suspended
from torquary_schema.word_index import STEM_KEY, Index, add

__all__ = ["KINDS", "Kind", "Match", "concepts", "fold", "languages", "spellings", "spot"]

Kind = Literal[
    "heading",
    "role",
    "stranding",
    "material",
    "ferrule",
    "family",
    "clamp",
    "drive",
    "purpose",
    "connective",
    "false_friend",
    "note_word",
    "document_word",
    "torque_kind",
    "tightened",
    "machine",
    "statement",
    "handling",
    "instruction",
]
KINDS: tuple[Kind, ...] = get_args(Kind)

_FOLDER = Path(__file__).parent / "words"
_SUSPENDED: tuple[Kind, ...] = ("stranding", "material", "role")
"""Kinds whose words are cut at a hyphen before one that ends alike: "ein-/mehrdrähtig"."""

_MARKING_LETTERS = 3
_NO_WORD = "-"
_SIGNED: tuple[Kind, ...] = ("material", "role")
_SIGN_LETTERS = 2
"""Letters of a sign ("Al", "Cu", "PE"): printed small before a word it is a small word of some language."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A known word found in a text. `start` and `end` are offsets in the text as given."""

    concept: str
    start: int
    end: int
    printed: str


@cache
def _load(name: str) -> dict[str, dict[str, dict[str, list[str]]]]:
    loaded: dict[str, dict[str, dict[str, list[str]]]] = json.loads((_FOLDER / name).read_text("utf-8"))
    return loaded


@cache
def languages() -> tuple[str, ...]:
    """Return the language codes that have a word file, sorted."""
    return tuple(sorted(entry.name[:-5] for entry in _FOLDER.iterdir() if entry.name.endswith(".json")))


@cache
def concepts(kind: Kind) -> dict[str, str]:
    """Return the concepts of a kind, each with its meaning; KeyError for an unknown kind."""
    text = Path(__file__).with_name("concepts.json").read_text("utf-8")
    known: dict[str, dict[str, str]] = json.loads(text)
    return known[kind]


def spellings(kind: Kind, concept: str, language: str) -> tuple[str, ...]:
    """Return the printed spellings of a concept in one language, as in its word file."""
    return tuple(_load(f"{language}.json").get(kind, {}).get(concept, ()))


def all_spellings(kind: Kind, *named: str) -> tuple[str, ...]:
    """Return the printed spellings of these concepts in every language, by language and concept."""
    return tuple(word for language in languages() for concept in named for word in spellings(kind, concept, language))


@cache
def _index(kind: Kind) -> Index:
    index, known = Index(), concepts(kind)
    for language in languages():
        for concept, printed_words in _load(f"{language}.json").get(kind, {}).items():
            if concept not in known and concept != _NO_WORD:
                raise ValueError(f"{language}.json: {kind} has no concept {concept!r}")
            for printed in printed_words:
                add(index, printed, concept)
    lengths: dict[str, set[int]] = {}
    for phrase in (*index.phrases, *index.accented):
        lengths.setdefault(phrase[:2], set()).add(len(phrase))
    index.openings = {opening: sorted(known, reverse=True) for opening, known in lengths.items()}
    return index


@lru_cache(maxsize=20_000)
def spot(kind: Kind, text: str) -> tuple[Match, ...]:
    """Return the known words of one kind in the text, longest first served, in order, never overlapping.

    A word must stand alone in scripts that part words; a digit may touch it ("Torque1", "PH2") unless it
    is a single letter. KeyError for an unknown kind.
    """
    index = _index(kind)
    if (whole := _whole(index, text)) is not None:
        return (whole,)
    folded = fold_with_places(text)
    found = _find_phrases(index, folded, text, kind) + _find_stems(index, folded, text)
    spans = [(folded.starts[first], folded.ends[last - 1], concept) for first, last, concept in found]
    if kind in _SUSPENDED:
        spans += find_suspended(text, spans, index.concept_of)
    if kind == "stranding":
        spans += find_shared(text, spans, index.concept_of, _joints())
    if kind == "connective":
        spans = [span for span in spans if not _is_marking(text, *span)]
    if kind in _SIGNED:
        spans = [span for span in spans if not _is_preposition(text, *span[:2])]
        spans = [_sign_within(text, span, spans, index) or span for span in spans]
    spans += _find_signs(index, text)
    return _choose(text, spans)


def _whole(index: Index, text: str) -> Match | None:
    """Return the word that is the whole text; None if it is none."""
    stripped = text.strip()
    concept = index.whole_signs.get(stripped) or (index.whole.get(fold(text)) if index.whole else None)
    if concept is None or not stripped:
        return None
    start = text.index(stripped)
    return Match(concept=concept, start=start, end=start + len(stripped), printed=stripped)


@cache
def _joints() -> frozenset[str]:
    """Return the words for "and" and "or" in every language, in small letters."""
    return frozenset(word.casefold() for word in all_spellings("connective", "and", "or"))


def _choose(text: str, spans: list[tuple[int, int, str]]) -> tuple[Match, ...]:
    taken: list[tuple[int, int, str]] = []
    for start, end, concept in sorted(spans, key=lambda span: (span[0] - span[1], span[0])):
        if all(end <= other[0] or start >= other[1] for other in taken):
            taken.append((start, end, concept))
    return tuple(
        Match(concept=concept, start=start, end=end, printed=text[start:end])
        for start, end, concept in sorted(taken)
        if concept != _NO_WORD
    )


def _is_marking(text: str, start: int, end: int, concept: str) -> bool:
    """Tell whether a short word in capitals with a digit at it is a marking: "DO1" is an output, "TM2" a strip."""
    word, beside = text[start:end], text[max(start - 1, 0) : start] + text[end : end + 1]
    short = len(word) <= _MARKING_LETTERS and word.lower() != concept
    return short and word.isupper() and any(map(str.isdigit, beside))


def _is_preposition(text: str, start: int, end: int) -> bool:
    """Tell whether a sign is printed small before another word: "al borne", "cu manșon", "pe bornele"."""
    small = end - start <= _SIGN_LETTERS and text[start:end].islower()
    return small and text[end : end + 1] == " " and text[end + 1 : end + 2].isalpha()


def _sign_within(
    text: str, span: tuple[int, int, str], spans: list[tuple[int, int, str]], index: Index
) -> tuple[int, int, str] | None:
    """Return the sign with which words of no kind begin, where the last of them joins it to another one: "Cu o Al"."""
    start, end, concept = span
    joined = any(one[0] == end + 1 and one[1] - one[0] <= _SIGN_LETTERS and text[one[0]].isupper() for one in spans)
    sign = text[start:end].split()[0]
    own = index.concept_of(sign) if concept == _NO_WORD and joined and text[start].isupper() else None
    return (start, end, own) if own else None


def _parts(folded: Folded, at: int, *, strict: bool) -> bool:
    """Tell whether a word may begin or end between characters at-1 and at."""
    if at in (0, len(folded.text)) or folded.gaps[at] >= Gap.BROKEN:
        return True
    before, after = script_of(folded.text[at - 1]), script_of(folded.text[at])
    if "unspaced" in (before, after):
        return True
    return before != after and not strict


def _find_phrases(index: Index, folded: Folded, printed: str, kind: Kind) -> list[tuple[int, int, str]]:
    found: list[tuple[int, int, str]] = []
    text = folded.text
    for first in folded.begins:
        lengths = index.openings.get(text[first : first + 2], ())
        if len(text) - first > 1 and text[first] in index.openings:
            lengths = (*lengths, *index.openings[text[first]])
        for length in lengths:
            hit = _hit(index, folded, printed, first, first + length)
            if hit is None or first + length > len(text):
                continue
            strict = length == 1 and kind != "drive"
            if not _parts(folded, first, strict=strict) or not _parts(folded, first + length, strict=strict):
                continue
            inner = (i for i in range(1, length) if folded.gaps[first + i] == Gap.BLANK)
            if all(i in hit[1] for i in inner):
                found.append((first, first + length, hit[0]))
                break
    return found


def _hit(index: Index, folded: Folded, printed: str, first: int, last: int) -> tuple[str, frozenset[int]] | None:
    """Return the concept of a phrase and where it may have blanks; one with its own accents is served first."""
    accents = index.accented.get(folded.text[first:last])
    if accents and last <= len(folded.text):
        as_printed = normalize("NFC", printed[folded.starts[first] : folded.ends[last - 1]]).lower()
        if as_printed in accents:
            return accents[as_printed], frozenset(range(1, last - first))  # signs inside are printed as they must be
    return index.phrases.get(folded.text[first:last])


def _find_stems(index: Index, folded: Folded, printed: str) -> list[tuple[int, int, str]]:
    if not index.stems:
        return []
    found: list[tuple[int, int, str]] = []
    for first, last in _word_spans(printed):
        word = folded.text[first:last]
        keys = {"", word[:STEM_KEY], word[-STEM_KEY:]}
        for stem, leading, trailing, concept in (one for key in keys for one in index.stems.get(key, ())):
            if _fits(word, stem, leading=leading, trailing=trailing):
                found.append((first, last, concept))
    return found


def _fits(word: str, stem: str, *, leading: bool, trailing: bool) -> bool:
    if leading and trailing:
        return stem in word
    return word.endswith(stem) if leading else word.startswith(stem)


# A text is asked about once for each kind of word.
@lru_cache(maxsize=4_096)
def _word_spans(printed: str) -> frozenset[tuple[int, int]]:
    """Return the runs of letters, both as parted by hyphens at line ends and as joined over them."""
    folded = fold_with_places(printed)
    spans: set[tuple[int, int]] = set()
    for parting in (Gap.BROKEN, Gap.LOOSE):
        first: int | None = None
        for at in range(len(folded.text) + 1):
            inside = at < len(folded.text) and script_of(folded.text[at]) == "letter"
            if first is not None and (not inside or folded.gaps[at] >= parting):
                spans.add((first, at))
                first = None
            if inside and first is None:
                first = at
    return frozenset(spans)


def _find_signs(index: Index, text: str) -> list[tuple[int, int, str]]:
    found: list[tuple[int, int, str]] = []
    for sign, concept in index.signs.items():
        start = text.find(sign)
        while start >= 0:
            found.append((start, start + len(sign), concept))
            start = text.find(sign, start + len(sign))
    return found
