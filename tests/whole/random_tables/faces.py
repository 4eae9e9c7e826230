"""Fonts of the system that print what the standard fonts of PDF cannot; a script without one is left out."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFError, TTFont

# By name: where distributions keep the font (packages fonts-dejavu-core, fonts-nanum, fonts-sawarabi-gothic,
# fonts-ipafont-gothic), and the languages that it is for.
FACES = {
    "DejaVuSans": (("dejavu/DejaVuSans.ttf",), ("ru", "cs", "pl", "tr", "de", "en")),
    "NanumGothic": (("nanum/NanumGothic.ttf",), ("ko",)),
    "SawarabiGothic": (("sawarabi-gothic/sawarabi-gothic-medium.ttf",), ("ja", "zh")),
    "IPAGothic": (("ipafont-gothic/ipag.ttf", "fonts-japanese-gothic.ttf"), ("ja", "zh")),
}
_FOLDERS = (Path("/usr/share/fonts/truetype"), Path("/usr/share/fonts/opentype"))


@cache
def faces() -> tuple[str, ...]:
    """Names of the fonts that are here, ready for use."""
    return tuple(name for name in FACES if _register(name) is not None)


@cache
def _register(name: str) -> TTFont | None:
    for path in (folder / part for folder in _FOLDERS for part in FACES[name][0]):
        if path.exists():
            try:
                font = TTFont(name, str(path))
            except TTFError:
                continue
            registerFont(font)
            return font
    return None


def prints(name: str, text: str) -> bool:
    """Tell whether the font has a glyph for each letter of the text."""
    font = _register(name)
    return font is not None and all(ord(letter) in font.face.charToGlyph for letter in text)
