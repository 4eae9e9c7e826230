"""Texts of two lines set in the middle of their row: its figures stand half a line below the one, above the other.

They show which lines are one text even where rows stand no further apart than lines.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from torquary_ingest.document import Word
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.rows import Extent

LEADING = 1.45
"""Font sizes from line to line of one text, at the most."""

LEVEL = 0.25
"""Font sizes by which texts on one line may differ in height, those in smaller type too."""

Piece = tuple[Extent, list[Word]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two lines of one text, and the height at which the figures of their row begin."""

    extent: Extent
    words: tuple[Word, ...]
    level: float


def find_pairs(pieces: Sequence[Piece]) -> list[Pair]:
    """Return the texts of two lines between whose lines figures stand half-way, and nothing on either line.

    A line with figures half-way both above and below it may go with either: it is no part of a pair.
    """
    levels = [_top(words) for _, words in pieces if _is_figure(words)]
    columns: dict[Extent, list[list[Word]]] = {}
    for extent, words in pieces:
        columns.setdefault(extent, []).append(words)
    pairs = [
        Pair(extent=extent, words=(*upper, *lower), level=level)
        for extent, texts in columns.items()
        for upper, lower in pairwise(sorted(texts, key=_top))
        for level in _half_way(upper, lower, levels)
    ]
    uses = Counter(id(word) for pair in pairs for word in pair.words)
    return [pair for pair in pairs if all(uses[id(word)] == 1 for word in pair.words)]


def _half_way(upper: Sequence[Word], lower: Sequence[Word], levels: Sequence[float]) -> list[float]:
    """Return the height of figures half-way between two lines: none where figures stand on one of them."""
    first, last, size = _top(upper), _top(lower), max(word.size for word in upper)
    near = LEVEL * size
    beside = any(abs(level - top) <= near for level in levels for top in (first, last))
    if beside or not near < last - first <= LEADING * size or _is_figure(upper) or _is_figure(lower):
        return []
    return [level for level in levels if abs(level - (first + last) / 2) <= near][:1]


def _top(words: Sequence[Word]) -> float:
    return min(word.box.top for word in words)


def _is_figure(words: Sequence[Word]) -> bool:
    return is_figure(" ".join(word.text for word in words))
