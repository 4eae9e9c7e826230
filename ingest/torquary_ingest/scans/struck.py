"""Words of a picture that a line runs through: they are struck out, and the line is no rule of a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from torquary_ingest.document import Doubt, Rule, Word

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_HIGHEST, _LOWEST = 0.60, 0.10
"""Shares of the type size above the baseline between which a line strikes text out; rules of a table lie outside."""

_BEYOND = 0.1
"""Shares of the type size by which a line reaches beyond a single letter."""

_BARRED = "4AEFHeft"
"""Characters with a bar of their own, which may meet the next one's in a coarse picture."""

_DARK = 120
"""Grey level: the blanks between letters of a coarse picture are grey, a line through them is not."""

_WHOLE = 0.96


def mark_struck(
    words: Sequence[Word], rules: Sequence[Rule], level: NDArray[numpy.uint8], scale: float
) -> tuple[tuple[Word, ...], tuple[Rule, ...]]:
    """Return the words, those with a line through them with a doubt, and the rules without such lines.

    `level` is the picture on white ground, the rules not yet taken out; `scale` its pixels a point.
    """
    import numpy as np

    ink = np.where(level < _DARK, 255, 0).astype(np.uint8)
    struck = [word for word in words if _is_struck(word, ink, scale)]
    doubted = {id(word): _doubt(word) for word in struck}
    kept = [rule for rule in rules if not any(_runs_through(rule, word) for word in struck)]
    return tuple(doubted.get(id(word), word) for word in words), tuple(kept)


def _is_struck(word: Word, ink: NDArray[numpy.uint8], scale: float) -> bool:
    import cv2
    import numpy as np

    letters = [letter for letter in word.text if letter.isalnum()]
    if not letters or all(letter in _BARRED for letter in letters):
        return False
    beyond = 0.0 if len(word.text) > 1 else _BEYOND * word.size
    top, bottom = (max(0, round((word.baseline - share * word.size) * scale)) for share in (_HIGHEST, _LOWEST))
    left, right = max(0, round((word.box.x0 - beyond) * scale)), max(0, round((word.box.x1 + beyond) * scale))
    part = ink[top:bottom, left:right]
    if part.size < 9:
        return False
    # A line that still slants by a pixel or two goes on in the next row.
    thick = cv2.dilate(part, np.ones((3, 1), np.uint8))
    return bool((np.count_nonzero(thick, axis=1) >= _WHOLE * thick.shape[1]).any())


def _doubt(word: Word) -> Word:
    message = f"a line runs through {word.text!r}: it may be struck out"
    return replace(word, doubts=(*word.doubts, Doubt(code="text_struck_out", message=message)))


def _runs_through(rule: Rule, word: Word) -> bool:
    if not rule.horizontal:
        return False
    above = word.baseline - rule.at
    across = min(rule.end, word.box.x1) - max(rule.start, word.box.x0)
    return _LOWEST * word.size <= above <= _HIGHEST * word.size and across > 0.5 * word.box.width
