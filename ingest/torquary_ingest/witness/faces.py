"""Tells what character a glyph shows from its shape, against the fourteen standard faces of a PDF."""

from __future__ import annotations

import ctypes
import functools
from typing import TYPE_CHECKING, cast

from torquary_ingest.witness.shapes import COLUMNS, ROWS, Shape, name_mark
from torquary_ingest.witness.view import PageView
from torquary_schema.values import Box

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

FACES = tuple(
    f"{family}{style}"
    for family, styles in (
        ("Helvetica", ("", "-Bold", "-Oblique", "-BoldOblique")),
        ("Times", ("-Roman", "-Bold", "-Italic", "-BoldItalic")),
        ("Courier", ("", "-Bold", "-Oblique", "-BoldOblique")),
    )
    for style in styles
)
SIGNS = "0123456789+±/()÷×~%#&½¼¾<>=:;\"'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz²³°µ"

DASHES = "-‐‑‒–—−─"
_ALIKE = ("0Oo", "1Il|i", "5Ss", "2Zz", "cC", "vV", "wW", "xX", "uU", "pP", "kK", "8B", "9gq", "6bG", "2²", "3³", "4A", "7T", "1!", "×xX", "µu", ":;")
"""Characters whose shapes differ, in some face, in size or place alone."""

_SURE, _SURE_BY = 0.80, 0.04
_CONTRARY, _CONTRARY_BY = 0.86, 0.22
_STEP, _SIZE = 40, 24.0


@functools.cache
def _kin(char: str) -> frozenset[str]:
    return frozenset(char).union(*(group for group in _ALIKE if char in group))


def fold_mark(char: str) -> str:
    """Map the many code points of one mark to one: every dash to "-", every raised dot to "·"."""
    if char in DASHES:
        return "-"
    return "·" if char in "·∙⋅•‧" else char


def judge_shape(shape: Shape, char: str) -> tuple[bool | None, str]:
    """Tell whether a shape shows `char`: True, False (it clearly shows another), None (cannot tell).

    The second value is the character that the shape resembles most. False is said of figures and the
    marks of figures alone, for these are what a wrong map changes without a trace.
    """
    char = fold_mark(char)
    mark = name_mark(shape)
    if mark or char in ".,-·":
        return _judge_mark(shape, char, mark)
    if char not in SIGNS:
        return None, ""
    scores = _score(shape)
    own_places, figure_places = _places(char)
    own = float(scores[own_places].max())
    scores[own_places] = -1.0
    best = int(scores.argmax())
    if own >= _SURE and own >= scores[best] + _SURE_BY:
        return True, char
    if not char.isdecimal():
        scores[~figure_places] = -1.0
        best = int(scores.argmax())
    name = _templates()[0][best]
    if scores[best] >= _CONTRARY and own <= scores[best] - _CONTRARY_BY:
        return False, name
    return None, name if scores[best] > own else char


def _score(shape: Shape) -> NDArray[numpy.float32]:
    _, grids, aspects = _templates()
    return cast("NDArray[numpy.float32]", grids @ shape.grid - 0.30 * abs(aspects - shape.aspect).clip(0, 1.5))


@functools.cache
def _places(char: str) -> tuple[NDArray[numpy.bool_], NDArray[numpy.bool_]]:
    """Where the templates show `char` (or what is drawn alike), and where they show a figure."""
    import numpy as np

    names = _templates()[0]
    kin = _kin(char)
    return np.array([name in kin for name in names]), np.array([name.isdecimal() for name in names])


def _judge_mark(shape: Shape, char: str, mark: str) -> tuple[bool | None, str]:
    if mark == char:
        return True, char
    if mark and (char.isdecimal() or (char in ".,-" and {mark, char} != {".", ","})):
        return False, mark
    if char in ".,-·" and shape.high > 0.5 and shape.pieces == 1 and shape.wide > 0.25:
        scores = _score(shape)
        best = int(scores.argmax())
        name = _templates()[0][best]
        return (False, name) if scores[best] >= _CONTRARY else (None, name)
    return None, mark


@functools.cache
def _templates() -> tuple[tuple[str, ...], NDArray[numpy.float32], NDArray[numpy.float32]]:
    """Characters, their grids (one a row) and aspects in every standard face, drawn by pypdfium2 itself."""
    import numpy as np

    from torquary_ingest.witness.ink import read_shape

    names, grids, aspects = [], [], []
    for char, glyph_shape in _draw_faces(read_shape):
        names.append(char)
        grids.append(glyph_shape.grid)
        aspects.append(glyph_shape.aspect)
    return tuple(names), np.array(grids, np.float32).reshape(-1, ROWS * COLUMNS), np.array(aspects, np.float32)


def _draw_faces(read_shape):  # type: ignore[no-untyped-def]
    import pypdfium2
    import pypdfium2.raw as pdfium

    across = 32
    down = -(-len(SIGNS) // across)
    document = pypdfium2.PdfDocument.new()
    page = document.new_page(across * _STEP, down * len(FACES) * _STEP)
    high = page.get_height()
    places = []
    for at, face in enumerate(FACES):
        for index, char in enumerate(SIGNS):
            piece = pdfium.FPDFPageObj_NewTextObj(document, face.encode(), _SIZE)
            units = (ctypes.c_ushort * 2)(ord(char), 0)
            pdfium.FPDFText_SetText(piece, units)
            row, column = at * down + index // across, index % across
            pdfium.FPDFPageObj_Transform(piece, 1, 0, 0, 1, column * _STEP + 8, high - row * _STEP - 28)
            pdfium.FPDFPage_InsertObject(page, piece)
            places.append((char, row, column))
    page.gen_content()
    view = PageView(page)
    view.prepare(Box(x0=0, top=0, x1=page.get_width(), bottom=high))
    for char, row, column in places:
        x, y = column * _STEP, row * _STEP
        cell = Box(x0=x + 2, top=y + 2, x1=x + _STEP - 2, bottom=y + _STEP - 2)
        glyphs = view.glyphs(cell)
        shape = read_shape(view.picture(cell), glyphs[0]) if len(glyphs) == 1 else None
        if shape is not None:
            yield char, shape
    view.close()
    document.close()
