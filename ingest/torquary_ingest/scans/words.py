"""Words of a picture: the recogniser's lines split at their blanks, each with box, size and certainty."""

from __future__ import annotations

import re
from collections.abc import Sequence
from statistics import median

from torquary_ingest.document import Doubt, Word
from torquary_ingest.scans.pieces import Piece
from torquary_ingest.witness.habits import fold_reading
from torquary_ingest.witness.page_recogniser import SeenText
from torquary_schema.values import Box

PROPOSAL = "read from a picture: compare it with the picture, then accept or correct it"

_CAPITAL = 0.72
_SMALL = 0.53
_BELOW = 0.21
"""Shares of the type size: height of capitals and figures, of letters like x, and of what hangs below the line
(common to text faces; common practice)."""

_TALL = re.compile(r"[0-9A-ZÄÖÜÉÈÀbdfhklßtij/()\[\]|²³½¼¾%&#\u3400-\u9fff\uac00-\ud7af\u3040-\u30ff\u0590-\u05ff]")
_HANGING = re.compile(r"[gjpqyQ,;()\[\]|/ß]")
_ROUND = re.compile(r"[a-zA-Z0-9]")


def tidy(text: str) -> str:
    """Undo habits of the recogniser that no print has: I for the l of a pound, full-width signs, a CJK blank."""
    text = text.replace("\u3000", " ").translate(_PLAIN)
    text = re.sub(r"(?<![A-Za-z])[I1|](?=b(?:s|f)?\b)", "l", text)
    return " ".join(text.split())


_PLAIN = str.maketrans(
    {"，": ",", "。": ".", "：": ":", "（": "(", "）": ")", "；": ";", "℃": "°C", "丨": "|", "～": "~"}
)


def make_words(pieces: Sequence[tuple[Piece, SeenText, str]], scale: float) -> tuple[Word, ...]:
    """Return the words; each piece comes with what was read and what was read at another scale ("" if not).

    `scale` is pixels a point; the words' boxes are in points.
    """
    sizes = [size for piece, seen, _ in pieces if (size := _size(piece, seen.text)) is not None]
    common = median(sizes) if sizes else 10 * scale
    words: list[Word] = []
    for piece, seen, also in pieces:
        tokens = seen.text.split()
        size = _size(piece, seen.text) or common
        if abs(size - common) < 0.12 * common:
            size = common
        baseline = piece.y1 - (_BELOW * size if _HANGING.search(seen.text) else 0)
        if not _ROUND.search(seen.text):
            baseline = (piece.y0 + piece.y1) / 2 + 0.3 * size
        others = also.split() if also and fold_reading(also) != fold_reading(seen.text) else []
        for at, (token, (x0, x1)) in enumerate(zip(tokens, _spans(piece, tokens), strict=True)):
            box = Box(
                x0=x0 / scale,
                top=(baseline - (_CAPITAL + 0.04) * size) / scale,
                x1=x1 / scale,
                bottom=(baseline + _BELOW * size) / scale,
            )
            other = (others[at] if len(others) == len(tokens) else also) if others else token
            words.append(
                Word(
                    text=token,
                    box=box,
                    size=size / scale,
                    baseline=baseline / scale,
                    doubts=(Doubt(code="scanned_figure", message=PROPOSAL),),
                    sure=round(seen.sure, 3),
                    also=other if has_figure(token) and fold_reading(other) != fold_reading(token) else "",
                )
            )
    return tuple(words)


def has_figure(text: str) -> bool:
    """Tell whether a text holds a figure."""
    return any(char.isdigit() or char in "½¼¾⅛⅜⅝⅞" for char in text)


def _size(piece: Piece, text: str) -> float | None:
    """Return the type size in pixels that the ink's height speaks for; None where only dashes or points stand."""
    high = piece.y1 - piece.y0
    if not _ROUND.search(text) and not _TALL.search(text):
        return None
    share = (_CAPITAL if _TALL.search(text) else _SMALL) + (_BELOW if _HANGING.search(text) else 0)
    return high / share


def _spans(piece: Piece, tokens: Sequence[str]) -> list[tuple[float, float]]:
    """Return where each token begins and ends: the widest blanks of the ink part them."""
    wanted = len(tokens) - 1
    cuts = sorted(sorted(piece.gaps, key=lambda gap: gap[0] - gap[1])[:wanted])
    if len(cuts) < wanted:
        return _even_spans(piece, tokens)
    starts = [float(piece.x0), *(float(end) for _, end in cuts)]
    ends = [*(float(start) for start, _ in cuts), float(piece.x1)]
    return list(zip(starts, ends, strict=True))


def _even_spans(piece: Piece, tokens: Sequence[str]) -> list[tuple[float, float]]:
    step = (piece.x1 - piece.x0) / max(len(" ".join(tokens)), 1)
    spans, at = [], float(piece.x0)
    for token in tokens:
        spans.append((at, at + len(token) * step))
        at += (len(token) + 1) * step
    return spans
