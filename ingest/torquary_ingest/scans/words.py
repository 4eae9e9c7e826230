"""Words of a picture: the recogniser's lines split at their blanks, each with box, size and certainty."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from statistics import median, median_low

from torquary_ingest.document import Doubt, Mark, Word
from torquary_ingest.lexis.figures import has_figure
from torquary_ingest.lexis.note_marks import split_tail
from torquary_ingest.scans.pieces import Piece, Run
from torquary_ingest.witness.habits import fold_reading
from torquary_ingest.witness.page_recogniser import SeenText
from torquary_schema.values import Box

PROPOSAL = "read from a picture: compare it with the picture, then accept or correct it"

_CAPITAL = 0.718
_SMALL = 0.523
_BELOW = 0.207
"""Shares of the type size: height of capitals and figures, of letters like x, and of what hangs below the line
(Helvetica's metrics; other text faces differ by a few hundredths)."""

_ALIKE = 0.12
"""Share by which sizes that are measured from ink may differ and be one."""

_RAISED = 0.2
_SMALL_MARK = 0.62
"""Shares of the type size: a note mark's feet stand so far above the baseline, and it is no taller."""

_TALL = re.compile(r"[0-9A-ZÄÖÜÉÈÀbdfhklßtij/()\[\]|²³½¼¾%&#\u3400-\u9fff\uac00-\ud7af\u3040-\u30ff\u0590-\u05ff]")
_EXPONENTS = {"2": "²", "3": "³"}
_EXPONENT_READ = re.compile(r"(?<![A-Za-z])(?:mm|cm|in|m)[²³]\)?$")
_PLAIN_SIGN = re.compile(r"[0-9a-z]")
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
    measured = [_measure(piece, seen.text) for piece, seen, _ in pieces]
    sizes = [size for _, size in measured if size is not None]
    common = median(sizes) if sizes else 10 * scale
    words: list[Word] = []
    for (piece, seen, also), (baseline, size) in zip(pieces, measured, strict=True):
        size = common if size is None or abs(size - common) < _ALIKE * common else size
        tokens = seen.text.split()
        others = also.split() if also and fold_reading(also) != fold_reading(seen.text) else []
        for at, (token, runs) in enumerate(zip(tokens, _part(piece, tokens), strict=True)):
            other = (others[at] if len(others) == len(tokens) else also) if others else token
            differs = has_figure(token) and fold_reading(other) != fold_reading(token)
            text, marks, runs = _split_marks(token, runs, baseline, size)
            box = Box(
                x0=runs[0].x0 / scale,
                top=(baseline - _CAPITAL * size) / scale,
                x1=runs[-1].x1 / scale,
                bottom=(baseline + _BELOW * size) / scale,
            )
            words.append(
                Word(
                    text=text,
                    box=box,
                    size=size / scale,
                    baseline=baseline / scale,
                    marks=tuple(Mark(text=mark) for mark in marks),
                    doubts=(Doubt(code="scanned_figure", message=PROPOSAL),),
                    sure=round(seen.sure, 3),
                    also=other if differs else "",
                )
            )
    return tuple(words)


def _measure(piece: Piece, text: str) -> tuple[float, float | None]:
    """Return the baseline (y) and the type size, in pixels; no size where only dashes or points stand.

    Most letters stand on the baseline, so that the middle one of their feet is it.
    """
    if not _ROUND.search(text):
        return (piece.y0 + piece.y1) / 2 + 0.25 * piece.line, None
    baseline = float(median_low(run.y1 for run in piece.runs))
    return baseline, (baseline - piece.y0) / (_CAPITAL if _TALL.search(text) else _SMALL)


def _part(piece: Piece, tokens: Sequence[str]) -> list[list[Run]]:
    """Return the runs of each token: the widest blanks of the ink part them."""
    wanted = len(tokens) - 1
    gaps = [after.x0 - before.x1 for before, after in pairwise(piece.runs)]
    cuts = sorted(sorted(range(len(gaps)), key=lambda at: -gaps[at])[:wanted])
    if len(cuts) < wanted:
        return _part_evenly(piece, tokens)
    ends = [at + 1 for at in cuts]
    return [list(piece.runs[start:end]) for start, end in zip([0, *ends], [*ends, len(piece.runs)], strict=True)]


def _part_evenly(piece: Piece, tokens: Sequence[str]) -> list[list[Run]]:
    """Return a stretch for each token by its share of the letters: their ink hangs together."""
    step = (piece.x1 - piece.x0) / max(len(" ".join(tokens)), 1)
    parts, at = [], float(piece.x0)
    for token in tokens:
        parts.append([Run(round(at), piece.y0, max(round(at + len(token) * step), round(at) + 1), piece.y1)])
        at += (len(token) + 1) * step
    return parts


def _split_marks(
    token: str, runs: list[Run], baseline: float, size: float
) -> tuple[str, tuple[str, ...], list[Run]]:
    """Part a token from note marks: raised signs, or small figures whose feet stand well above the baseline.

    A raised 2 or 3 behind a unit of length is its exponent.
    """
    if _EXPONENT_READ.search(token):
        return token, (), runs
    text, marks = split_tail(token)
    if marks or len(runs) != len(token):
        return text, marks, runs
    raised = 0
    for run in reversed(runs):
        small = run.y1 - run.y0 < _SMALL_MARK * size
        if not (small and run.y1 < baseline - _RAISED * size and _PLAIN_SIGN.match(token[len(token) - 1 - raised])):
            break
        raised += 1
    if not 0 < raised < len(token):
        return text, marks, runs
    before, mark = token[:-raised], token[-raised:]
    if mark in _EXPONENTS and before.endswith(("mm", "cm", "in")):
        return before + _EXPONENTS[mark], (), runs
    return before, (mark,), runs[:-raised]
