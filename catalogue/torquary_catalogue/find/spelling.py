"""Words that nobody knows: the nearest known words and printed names are offered, and never taken."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from torquary_catalogue.find.question import Question
from torquary_catalogue.find.words import fold
from torquary_catalogue.store import Catalogue

_MOST = 3
_LEAST_LETTERS = 4
"""Words shorter than this have too many neighbours to offer one."""

# Distance counts letters changed, left out, added or swapped; a word of eight letters may have three.
_NEAREST = """
SELECT w.word, min(damerau_levenshtein(w.word, $word)) AS away, max(w.known) AS known
FROM (SELECT spelling AS word, 1 AS known FROM known_word WHERE NOT contains(spelling, ' ') AND kind <> 'wish'
      UNION ALL
      SELECT DISTINCT w.word, 0 AS known
      FROM sheet_word AS w JOIN sheet AS h ON h.number = w.sheet_number WHERE h.state = 'read') AS w
WHERE abs(len(w.word) - len($word)) <= 2 AND w.word <> $word AND NOT regexp_matches(w.word, '[0-9_]')
GROUP BY w.word
HAVING away <= CASE WHEN len($word) < 5 THEN 1 WHEN len($word) < 8 THEN 2 ELSE 3 END
ORDER BY away, known DESC, jaro_winkler_similarity(w.word, $word) DESC, w.word LIMIT 3"""
# ":" comes after "9": the words are sorted, and only those of these letters before a figure are looked at.
_TYPES = """
SELECT DISTINCT w.word FROM sheet_word AS w JOIN sheet AS h ON h.number = w.sheet_number
WHERE h.state = 'read' AND w.word >= $letters || '0' AND w.word < $letters || ':'
    AND regexp_matches(w.word, '^[^0-9_]+[0-9][0-9p]*$') ORDER BY len(w.word), w.word LIMIT 6"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A question that may have been meant: its `words`, where `instead` stands in place of `word`."""

    word: str
    instead: str
    words: str


def offer_spellings(catalogue: Catalogue, question: Question, strange: Sequence[str]) -> tuple[Offer, ...]:
    """Return questions with the nearest known words or printed names in place of those that are not known."""
    offers: list[Offer] = []
    words = question.typed or question.words or ""
    for word in strange:
        near = list(_find_near(catalogue, word))
        if near:
            offers += [Offer(word=word, instead=one, words=_put(catalogue, words, word, one)) for one in near[:_MOST]]
            words = _put(catalogue, words, word, near[0])
    if len({offer.word for offer in offers}) > 1:
        first, last = offers[0], offers[-1]
        offers.insert(0, Offer(word=f"{first.word} … {last.word}", instead="", words=words))
    return tuple(offers)


def _find_near(catalogue: Catalogue, word: str) -> Iterator[str]:
    letters = re.match(r"[^\W\d_]+(?=[0-9])", word)
    if letters:
        yield from (row["word"] for row in catalogue.rows(_TYPES, {"letters": letters[0]}))
    if len(word) >= _LEAST_LETTERS and not letters:
        yield from (row["word"] for row in catalogue.rows(_NEAREST, {"word": word}))


def _put(catalogue: Catalogue, words: str, word: str, instead: str) -> str:
    """Return the words as typed with one in place of another; a type may have been typed with a blank."""
    typed = words.split()
    for length in (1, 2):
        for at in range(len(typed) - length + 1):
            if "".join(fold(catalogue, " ".join(typed[at : at + length]))) == word:
                return " ".join([*typed[:at], instead, *typed[at + length :]])
    return f"{words} {instead}"
