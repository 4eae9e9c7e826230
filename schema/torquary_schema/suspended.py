"""Words that are cut at a hyphen because the next one ends alike: "ein-/mehrdrähtig", "ein-, mehr- und feindrähtig"."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

_CUT = re.compile(r"(?<![^\W\d_])([^\W\d_]{2,})[-‐‑]\s*(?:,|/|&|\+|,?\s(?!\d)\w{1,5}\s)\s*\Z")
"""A word cut at a hyphen, and a sign or one short word ("und", "oder", "eller") before the next."""

_SHORTEST_END = 4
"""Letters of a common end at least: shorter ones are inflections."""

Span = tuple[int, int, str]


def find_suspended(text: str, found: Sequence[Span], concept_of: Callable[[str], str | None]) -> Iterator[Span]:
    """Yield the words cut before one that was found, whose whole form is known: (start, end, concept).

    `concept_of` tells the concept of a whole spelling, None for an unknown one.
    """
    waiting = [(start, text[start:end].split()[0]) for start, end, _ in found]
    while waiting:
        start, word = waiting.pop()
        cut = _CUT.search(text[:start])
        concept = cut and _concept_of_whole(cut[1], word, concept_of)
        if cut and concept:
            waiting.append((cut.start(1), word))
            yield cut.start(1), cut.end(1), concept


def _concept_of_whole(beginning: str, word: str, concept_of: Callable[[str], str | None]) -> str | None:
    ends = (word[at:] for at in range(1, len(word) - _SHORTEST_END + 1))
    return next((concept for end in ends if (concept := concept_of(beginning + end))), None)
