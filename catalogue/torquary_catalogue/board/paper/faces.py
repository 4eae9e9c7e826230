"""The faces that paper is printed in, and texts as markup that each of their signs has a face for.

Latin, Greek and Cyrillic come from a face that is installed with torquary and is embedded.
Japanese, Chinese and Korean come from the faces that readers of PDF files bring for them. A sign
that no face has is written as what it is.
"""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from itertools import groupby
from pathlib import Path
from xml.sax.saxutils import escape

from reportlab.lib.fonts import addMapping
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.cidfonts import UnicodeCIDFont
from reportlab.pdfbase.ttfonts import TTFont

from torquary_catalogue.show.visible import make_visible, put_on_one_line

FACE, BOLD = "Roboto", "Roboto-Bold"
_JAPANESE, _KOREAN = "HeiseiKakuGo-W5", "HYSMyeongJo-Medium"
_WIDE = (
    (0x1100, 0x11FF, _KOREAN),
    (0xAC00, 0xD7AF, _KOREAN),
    (0x2E80, 0x9FFF, _JAPANESE),
    (0xFF00, 0xFFEF, _JAPANESE),
)
"""Ranges of Unicode that the faces of PDF readers for Korean and for Japanese have; Chinese shares
the latter.
"""


@cache
def register_faces() -> frozenset[int]:
    """Make the faces known to reportlab, once; return the signs of the first one."""
    spec = find_spec("font_roboto")
    assert spec is not None
    assert spec.origin is not None
    files = Path(spec.origin).parent / "files"
    first = TTFont(FACE, str(files / "Roboto-Regular.ttf"))
    pdfmetrics.registerFont(first)
    pdfmetrics.registerFont(TTFont(BOLD, str(files / "Roboto-Bold.ttf")))
    for name in (_JAPANESE, _KOREAN):
        pdfmetrics.registerFont(UnicodeCIDFont(name))
    for bold in (0, 1):
        addMapping(FACE, bold, 0, BOLD if bold else FACE)
    return frozenset(first.face.charToGlyph)


def lettering(
    size: float, *, bold: bool = False, indent: float = 0, after: float = 0
) -> ParagraphStyle:
    """Return the style of a paragraph; lengths in points."""
    register_faces()
    face = BOLD if bold else FACE
    return ParagraphStyle(
        f"{face}-{size}",
        fontName=face,
        fontSize=size,
        leading=size * 1.25,
        leftIndent=indent,
        spaceAfter=after,
    )


def mark_up(text: str) -> str:
    """Return a text as the markup of a paragraph, each sign in a face that has it."""
    line = make_visible(put_on_one_line(text))
    named = "".join(sign if _face_of(sign) is not None else f"<U+{ord(sign):04X}>" for sign in line)
    parts = []
    for face, signs in groupby(named, key=_face_of):
        run = escape("".join(signs))
        parts.append(run if face in ("", None) else f'<font name="{face}">{run}</font>')
    return "".join(parts)


def plain(text: str) -> str:
    """Return a text for what is drawn without markup: signs that the first face lacks are written
    as what they are.
    """
    line = make_visible(put_on_one_line(text))
    return "".join(sign if _face_of(sign) == "" else f"<U+{ord(sign):04X}>" for sign in line)


@cache
def _face_of(sign: str) -> str | None:
    """Return the face that a sign needs: "" for the first one, None where no face has it."""
    if ord(sign) in register_faces():
        return ""
    return next((face for low, high, face in _WIDE if low <= ord(sign) <= high), None)
