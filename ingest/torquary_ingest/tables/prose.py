"""Words of a page that stand in running text: no table is looked for among them."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Chunk, Line

PROSE_WORDS = 7
"""A chunk with fewer words is no line of prose."""


MORE = 2
"""Texts more on its line than on that of the prose above from which a line is a row (own choice)."""


def find_prose(lines: Sequence[Line]) -> set[int]:
    """Identities of the words that stand in running text: long chunks stacked left-aligned and close.

    Lines that hold a figure by itself are rows, however long their labels.
    """
    chunks = [(c, len(line.chunks)) for line in lines if not _holds_figure(line) for c in line.chunks]
    chunks.sort(key=lambda one: (one[0].box.top, one[0].box.x0))
    prose: set[int] = set()
    for i, (upper, beside) in enumerate(chunks):
        for lower, beside_lower in chunks[i + 1 : i + 60]:
            if lower.box.top - upper.box.bottom > 1.4 * upper.size:
                break
            if beside_lower < beside + MORE and _runs_on(upper, lower):
                prose.update(id(w) for c in (upper, lower) for w in c.words)
    return prose


def _holds_figure(line: Line) -> bool:
    """Tell whether a figure stands by itself beside other texts of the line."""
    return len(line.chunks) > 1 and any(is_figure(c.text) for c in line.chunks[1:])


def _runs_on(upper: Chunk, lower: Chunk) -> bool:
    """Tell whether `lower` continues `upper` as running text."""
    if lower.box.top < upper.box.middle[1] or len(upper.words) < PROSE_WORDS:
        return False
    letters = sum(c.isalpha() for w in upper.words for c in w.text)
    if letters < 0.6 * sum(len(w.text) for w in upper.words) or upper.box.width < 18 * upper.size:
        return False
    return abs(upper.box.x0 - lower.box.x0) < 3 * upper.size and lower.box.x1 < upper.box.x1 + 6 * upper.size
