"""Text longer than its cell that hangs out over the frame: it belongs to the cell that it begins in."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Word
from torquary_ingest.tables.filling import runs_on
from torquary_schema.values import Box

CLEAR = 0.5
"""Shares of the font size: a word that begins this far inside a frame begins in it."""


def words_within(box: Box, words: Sequence[Word]) -> list[Word]:
    """Return the words of a frame: those that lie in it, without what hangs in from the left, with what hangs out.

    What hangs out over the right edge stands over the neighbour's text or the margin; it is the frame's all the
    same, with the words that go on from it.
    """
    level = [w for w in words if box.top <= w.box.middle[1] <= box.bottom]
    inside = [w for w in level if box.holds(w.box.middle) and not _hangs_in(w, box, level)]
    out = [w for w in level if _hangs_out(w, box, inside)]
    over = [w for w in inside if w.turn == 0 and w.box.x1 > box.x1 + 1]
    while True:
        more = [w for w in level if w.box.x0 >= box.x1 and w not in out and any(runs_on(o, w) for o in (*over, *out))]
        if not more:
            break
        out += more
    mine = {id(w) for w in (*inside, *out)}
    return [w for w in words if id(w) in mine]


def _hangs_out(word: Word, box: Box, inside: Sequence[Word]) -> bool:
    """Tell whether a word lies for the most part outside, and begins inside or goes on from a text there."""
    if word.turn != 0 or not box.x0 <= word.box.x0 < box.x1 < word.box.middle[0]:
        return False
    return word.box.x0 <= box.x1 - CLEAR * word.size or any(runs_on(w, word) for w in inside)


def _hangs_in(word: Word, box: Box, level: Sequence[Word]) -> bool:
    """Tell whether a word crosses the left edge and goes on from a text that lies outside."""
    crosses = word.turn == 0 and word.box.x0 < box.x0 - 1 and word.box.x1 > box.x0
    return crosses and any(w.box.middle[0] < box.x0 and runs_on(w, word) for w in level if w is not word)
