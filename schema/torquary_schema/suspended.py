"""Words that are cut because the next one ends alike: "ein-/mehrdrähtig", "ein-, mehr- und feindrähtig".

Where the common end is a word of its own, no hyphen tells: "tek / çok telli", "tek ve çok telli".
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

_CUT = re.compile(r"(?<![^\W\d_])([^\W\d_]{2,})[-‐‑]\s*(?:,|/|&|\+|,?\s(?!\d)\w{1,5}\s)\s*\Z")
"""A word cut at a hyphen, and a sign or one short word ("und", "oder", "eller") before the next."""

_BARE = re.compile(r"(?<![^\W\d_])([^\W\d_]{2,})(?:\s*([,/&+])|\s([^\W\d_]{1,6}))\s*\Z")
"""A word and a sign or joining word before the next, which has an end of its own."""

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


def find_shared(
    text: str, found: Sequence[Span], concept_of: Callable[[str], str | None], joints: frozenset[str]
) -> Iterator[Span]:
    """Yield the words before one of several words that was found, whose form with all but the first of them is known.

    `joints` are the words for "and" and "or", folded.
    """
    for start, end, _ in found:
        _, *behind = text[start:end].split()
        before = _BARE.search(text[:start]) if behind else None
        if before is not None and (before[2] or before[3].casefold() in joints):
            concept = concept_of(" ".join((before[1], *behind)))
            if concept:
                yield before.start(1), before.end(1), concept


def _concept_of_whole(beginning: str, word: str, concept_of: Callable[[str], str | None]) -> str | None:
    ends = (word[at:] for at in range(1, len(word) - _SHORTEST_END + 1))
    return next((concept for end in ends if (concept := concept_of(beginning + end))), None)
