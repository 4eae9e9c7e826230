"""The faces of signs, Symbol and ZapfDingbats: their codes stand for signs of their own, not for letters.

A page that names one of them without saying which characters its codes are means the face's own table (ISO 32000-1,
annex D.6). Read as letters, "≤ 1.8" says "£ 1.8" and a tick is the figure 4.
"""

from __future__ import annotations

from typing import Any

from pdfminer.encodingdb import EncodingDB
from pdfminer.pdffont import PDFSimpleFont
from pdfminer.pdftypes import resolve1

_SIGNS = {
    0x20: " ", 0x25: "%", 0x28: "(", 0x29: ")", 0x2A: "*", 0x2B: "+", 0x2C: ",", 0x2D: "−", 0x2E: ".", 0x2F: "/",
    0x3A: ":", 0x3B: ";", 0x3C: "<", 0x3D: "=", 0x3E: ">", 0x5B: "[", 0x5D: "]", 0x7E: "∼", 0xA2: "′", 0xA3: "≤",
    0xA4: "/", 0xA5: "∞", 0xAB: "↔", 0xAC: "←", 0xAD: "↑", 0xAE: "→", 0xAF: "↓", 0xB0: "°", 0xB1: "±", 0xB2: "″",
    0xB3: "≥", 0xB4: "×", 0xB7: "•", 0xB8: "÷", 0xB9: "≠", 0xBB: "≈", 0xBC: "…", 0xC6: "∅", 0xD7: "⋅",
}  # fmt: skip
_FIGURES = {code: chr(code) for code in range(0x30, 0x3A)}
_GREEK = dict(zip(range(0x41, 0x5B), "ΑΒΧΔΕΦΓΗΙϑΚΛΜΝΟΠΘΡΣΤΥςΩΞΨΖ", strict=True))
_SMALL_GREEK = dict(zip(range(0x61, 0x7B), "αβχδεφγηιϕκλµνοπθρστυϖωξψζ", strict=True))
SYMBOL = _SIGNS | _FIGURES | _GREEK | _SMALL_GREEK

# Unicode took this face over in its own order; a few of its signs stood elsewhere already.
_TAKEN = {
    0x25: "☎", 0x2A: "☛", 0x2B: "☞", 0x48: "★", 0x6C: "●", 0x6E: "■", 0x73: "▲", 0x74: "▼", 0x75: "◆", 0x77: "◗",
    0xA8: "♣", 0xA9: "♦", 0xAA: "♥", 0xAB: "♠", 0xD5: "→", 0xD6: "↔", 0xD7: "↕",
} | {code: chr(0x2460 + code - 0xAC) for code in range(0xAC, 0xB6)}  # fmt: skip
_DINGBATS = (
    {0x20: " "}
    | {code: chr(0x2701 + code - 0x21) for code in range(0x21, 0x7F)}
    | {code: chr(0x2761 + code - 0xA1) for code in (*range(0xA1, 0xF0), *range(0xF1, 0xFF))}
    | _TAKEN
)
_DINGBAT_WIDTH = 790.0
"""What most signs of ZapfDingbats take, in thousandths of the font size; the parser keeps no width by code."""


def name_signs(font: Any, spec: Any, *, embedded: bool) -> None:
    """Give a font of a sign face that brings no shapes and no map of its own the face's table of signs."""
    if embedded or not isinstance(font, PDFSimpleFont) or "ToUnicode" in spec:
        return
    face = str(getattr(font, "basefont", "")).rpartition("+")[2]
    if face == "Symbol":
        font.cid2unicode = SYMBOL | _renamed(font, spec)
    elif face == "ZapfDingbats":
        font.cid2unicode = _DINGBATS | _renamed(font, spec)
        font.widths = {}
        font.default_width = _DINGBAT_WIDTH


def _renamed(font: PDFSimpleFont, spec: Any) -> dict[int, str]:
    """Return the codes that the file itself names, beside the face's own."""
    encoding = resolve1(spec.get("Encoding"))
    differences = resolve1(encoding.get("Differences")) if isinstance(encoding, dict) else None
    if not isinstance(differences, list):
        return {}
    plain = EncodingDB.get_encoding("StandardEncoding")
    named = EncodingDB.get_encoding("StandardEncoding", differences)
    return {code: text for code, text in named.items() if plain.get(code) != text}


def read_symbol(text: str, font: str) -> str:
    """Return the sign that a private character of a Symbol face stands for; other text as it is.

    Embedded as a TrueType font, the face keeps its signs in a private block, by the same codes.
    """
    if len(text) == 1 and "\uf020" <= text <= "\uf0ff" and "symbol" in font.lower():
        return SYMBOL.get(ord(text) - 0xF000, text)
    return text
