"""Tells what character a glyph shows from its shape, against a set of common faces."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import TYPE_CHECKING

from torquary_ingest.witness.shapes import Shape, is_high_stroke, is_pair, name_mark

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

FACES_FILE = Path(__file__).with_name("faces.npz")
"""Shapes of `SIGNS` in common faces; made by tests/bench/witness_faces.py, which says which."""

ACCENTED = "ÄÖÜäöüßàáâãåçèéêíóôõúûñ"
"""Letters of words that stand in cells of figures ("2,5 à 50 mm²", "eindrähtig")."""

SIGNS = "0123456789+±/()÷×~%#&½¼¾⅓⅔⅛⅜⅝⅞<>=≤≥:;\"'°ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz²³µ" + ACCENTED

PAIRS = "\"“”„‟″˝〃«»"
"""Marks of two small strokes side by side, as they stand for "the same as above" and for inches."""

_HIGH_STROKES = "'’‘′´`"

DASHES = "-‐‑‒–—−─"
_ALIKE = (
    "0Oo", "1Il|i", "5Ss", "2Zz", "cC", "vV", "wW", "xX", "uU", "pP", "kK", "8B", "9gq", "6bG",
    "×xX", "µu", "2²", "3³", "±+", "<≤", ">≥",
)  # fmt: skip
"""Characters whose shapes differ, in some face, in size, place or a small stroke alone."""

_SURE, _SURE_BY = 0.80, 0.04
_LETTER_SURE, _LETTER_BY = 0.72, 0.0
_CONTRARY, _CONTRARY_BY = 0.86, 0.22
_ASPECT_WEIGHT = 0.30
_FURTHEST = 1.0
"""Difference of aspect beyond which a shape is not compared: its likeness could not be 0.7."""


def fold_mark(char: str) -> str:
    """Map the many code points of one mark to one: every dash to "-", every slash to "/", every raised dot to "·"."""
    if char in DASHES:
        return "-"
    if char in "\u2044\u2215":
        return "/"
    return "·" if char in "·∙⋅•‧" else char


def judge_shape(shape: Shape, char: str) -> tuple[bool | None, str]:
    """Tell whether a shape shows `char`: True, False (it clearly shows another), None (cannot tell).

    The second value is the character that the shape resembles most. False is said of figures and the
    marks of figures alone, for these are what a wrong map changes without a trace.
    """
    char = fold_mark(char)
    if (char in PAIRS and is_pair(shape)) or (char in _HIGH_STROKES and is_high_stroke(shape)):
        return True, char
    mark = name_mark(shape)
    if (mark or char in ".,-·…") and not (mark == "-" and char == "~"):
        return _judge_mark(shape, char, mark)
    if char not in SIGNS:
        return None, ""
    scores = _score(shape)
    own_places, figure_places = _places(char)
    own = float(scores[own_places].max(initial=-1.0))
    scores[own_places] = -1.0
    best = int(scores.argmax())
    figure = float(scores[figure_places].max(initial=-1.0))
    if _is_sure(char, own, float(scores[best]), figure) and not _wrong_size(shape, char):
        return True, char
    if not char.isdecimal():
        scores[~figure_places] = -1.0
        best = int(scores.argmax())
    name = _shapes()[0][best]
    if scores[best] >= _CONTRARY and own <= scores[best] - _CONTRARY_BY:
        return False, name
    return None, name if scores[best] > own else char


def _is_sure(char: str, own: float, best: float, figure: float) -> bool:
    """Tell whether a likeness suffices, against the best other character and the best other figure.

    A figure must stand clear of everything; a sign ("/") or letter of figures, not of an upright letter.
    """
    if char.isalpha():
        return own >= _LETTER_SURE and own >= best + _LETTER_BY
    return own >= _SURE and own >= figure + _SURE_BY and own >= best + (_SURE_BY if char.isdecimal() else -_SURE_BY)


def _wrong_size(shape: Shape, char: str) -> bool:
    """Tell a raised figure from one on the line, where the outlines are the same."""
    return (char in "²³") != (shape.high < 0.52 and shape.low > 0.15) and char in "0123456789²³"


def _judge_mark(shape: Shape, char: str, mark: str) -> tuple[bool | None, str]:
    if mark == char or (mark == "l" and char in "Il|"):
        return True, char
    if mark == "l":
        return (False, mark) if char.isdecimal() and char != "1" else (None, mark)
    if mark and (char.isdecimal() or (char in ".,-" and {mark, char} != {".", ","})):
        return False, mark
    if char in ".,-·" and shape.high > 0.5 and shape.pieces == 1 and shape.wide > 0.25:
        scores = _score(shape)
        best = int(scores.argmax())
        name = _shapes()[0][best]
        return (False, name) if scores[best] >= _CONTRARY else (None, name)
    return None, mark


def know_shapes(chars: str) -> None:
    """Load the known shapes, and where each of these characters stands among them."""
    for char in chars:
        _places(char)


def _score(shape: Shape) -> NDArray[numpy.float32]:
    import numpy as np

    _, grids, aspects = _shapes()
    # What is so much wider or slimmer is never sure, nor a contradiction.
    first, last = np.searchsorted(aspects, (shape.aspect - _FURTHEST, shape.aspect + _FURTHEST))
    scores = np.full(len(aspects), -1.0, np.float32)
    # Not `@`: the threads of a matrix product cost more than they save here, much more on a busy machine.
    likeness = np.einsum("ij,j->i", grids[first:last], shape.grid)
    scores[first:last] = likeness - _ASPECT_WEIGHT * abs(aspects[first:last] - shape.aspect)
    return scores


@functools.cache
def _places(char: str) -> tuple[NDArray[numpy.bool_], NDArray[numpy.bool_]]:
    """Where the known shapes show `char` (or what is drawn alike), and where they show a figure."""
    import numpy as np

    names = _shapes()[0]
    kin = frozenset(char).union(*(group for group in _ALIKE if char in group))
    return np.array([name in kin for name in names]), np.array([name.isdecimal() for name in names])


@functools.cache
def _shapes() -> tuple[str, NDArray[numpy.float32], NDArray[numpy.float32]]:
    """Characters, their grids (one a row, mean 0, length 1) and aspects, these ascending."""
    import numpy as np

    with np.load(FACES_FILE) as kept:
        order = np.argsort(kept["aspects"], kind="stable")
        names = "".join(chr(code) for code in kept["codes"][order])
        grids = kept["grids"][order].astype(np.float32)
        aspects = kept["aspects"][order].astype(np.float32)
    grids -= grids.mean(axis=1, keepdims=True)
    return names, grids / np.linalg.norm(grids, axis=1, keepdims=True), aspects
