"""The title of a document: the largest words printed at the head of its first page."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Page, Word


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
    return " ".join(word.text for word in _first_lines(words, largest))[:200]


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
