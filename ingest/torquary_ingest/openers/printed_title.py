"""The title of a document: the largest words printed at the head of its first page."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from torquary_ingest.document import Page, Word

_WIDE = 4
"""Type sizes between two columns of text at least, as where lines are set."""


def find_printed_title(pages: Sequence[Page], noted: str = "") -> str:
    """Return the printed title, "" when none stands out; the title `noted` in the file only if it is printed too."""
    if not pages:
        return ""
    words = [word for word in pages[0].words if word.turn == 0 and not _is_doubtful(word)]
    if not words:
        return ""
    printed = " ".join(word.text for word in words)
    if noted and noted in printed:
        return noted
    largest = max(word.size for word in words)
    usual = sorted(word.size for word in words)[len(words) // 2]
    if largest < 1.1 * usual:
        return ""
    found = _first_lines(words, largest)
    # Titles side by side stand over columns of their own: none is the sheet's.
    return "" if any(_far_apart(*pair) for pair in pairwise(found)) else " ".join(word.text for word in found)[:200]


def _far_apart(left: Word, right: Word) -> bool:
    """Tell whether a wide blank parts two words of one line: over four times the type size."""
    level = abs(left.baseline - right.baseline) < left.size
    return level and right.box.x0 - left.box.x1 > _WIDE * left.size


def _is_doubtful(word: Word) -> bool:
    """Tell a word that its print makes doubtful; a scanned title is one all the same."""
    return any(doubt.code != "scanned_figure" for doubt in word.doubts)


def _first_lines(words: list[Word], size: float) -> list[Word]:
    """Return the words of the largest size that stand together: lines not far below one another."""
    large = sorted(
        (word for word in words if word.size >= 0.97 * size), key=lambda word: (round(word.baseline), word.box.x0)
    )
    kept = large[:1]
    for word in large[1:]:
        if word.baseline - kept[-1].baseline > 1.8 * size:
            break
        kept.append(word)
    return kept
