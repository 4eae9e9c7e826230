"""Glyph names: which characters the codes of a font stand for where the file or the font's program names its glyphs.

Names are read by the Adobe Glyph List Specification for New Fonts: a suffix behind "." says nothing, "_" joins parts,
"uni20AC" and "u20AC" are numbers. A name that says nothing ("g12") leaves its code without a character.
"""

from __future__ import annotations

import re
from contextlib import suppress
from typing import Any

from pdfminer.encodingdb import name2unicode
from pdfminer.pdfexceptions import PDFException
from pdfminer.pdffont import PDFSimpleFont
from pdfminer.pdftypes import PDFStream, resolve1
from pdfminer.psparser import PSLiteral

from torquary_ingest.openers.pdf.font_programs import read_cff_encoding, read_glyph_names

_NUMBERED = re.compile(r"^[A-Za-z]{1,5}0*(\d{1,3})$")
"""A name that gives a code's number again ("a49"): the characters stay those of the encoding beneath."""

_PARSER_FAULTS = (PDFException, LookupError, ValueError, TypeError, AttributeError, AssertionError)


def name_codes(font: Any, spec: Any) -> None:
    """Give a simple font the characters that its glyphs' names stand for, in place of the parser library's guesses.

    The library keeps the standard character where it does not know a name, and does not read the encodings that
    compact programs bring.
    """
    if not isinstance(font, PDFSimpleFont):
        return
    encoding = resolve1(spec.get("Encoding"))
    based = isinstance(encoding, PSLiteral) or (isinstance(encoding, dict) and "BaseEncoding" in encoding)
    named = {} if based else read_cff_encoding(_program(spec, "Type1C"))
    named |= _read_differences(encoding)
    if named:
        font.cid2unicode = {**font.cid2unicode, **{code: _read(code, name, font) for code, name in named.items()}}


def name_glyphs(font: Any, spec: Any) -> dict[int, str]:
    """Return the characters by code of a font whose codes are glyph numbers, as far as its program names its glyphs.

    `spec` is that of the descendant, with the encoding of the font above it, as the parser library makes them.
    """
    placed = resolve1(spec.get("CIDToGIDMap"))
    codes = _name(resolve1(spec.get("Encoding")))
    if codes not in ("Identity-H", "Identity-V") or (placed is not None and _name(placed) != "Identity"):
        return {}
    names = read_glyph_names(_program(spec, "TrueType", "CIDFontType0C", "OpenType"))
    read = {glyph: read_name(name) for glyph, name in names.items()}
    return {glyph: text for glyph, text in read.items() if text}


def read_name(name: str) -> str:
    """Return the characters that a glyph's name stands for; "" for a name that says nothing."""
    try:
        return name2unicode(name)
    except (KeyError, ValueError):
        return ""


def _read(code: int, name: str, font: PDFSimpleFont) -> str:
    numbered = _NUMBERED.match(name)
    kept = font.cid2unicode.get(code, "") if numbered and int(numbered.group(1)) == code else ""
    return read_name(name) or kept


def _read_differences(encoding: Any) -> dict[int, str]:
    """Return the names that an encoding gives its codes (ISO 32000-1, 9.6.6.1)."""
    differences = resolve1(encoding.get("Differences")) if isinstance(encoding, dict) else None
    named: dict[int, str] = {}
    code = 0
    for part in differences if isinstance(differences, list) else []:
        found = resolve1(part)
        if isinstance(found, int):
            code = found
        elif isinstance(found, PSLiteral):
            named[code] = _name(found)
            code += 1
    return named


def _name(value: Any) -> str:
    name = value.name if isinstance(value, PSLiteral) else ""
    return name if isinstance(name, str) else name.decode("latin-1")


def _program(spec: Any, *kinds: str) -> bytes:
    """Return the font program that a font brings, if it is of one of the kinds; b"" otherwise."""
    descriptor = resolve1(spec.get("FontDescriptor"))
    if not isinstance(descriptor, dict):
        return b""
    for key in ("FontFile2", "FontFile3"):
        stream = resolve1(descriptor.get(key))
        if isinstance(stream, PDFStream):
            kind = "TrueType" if key == "FontFile2" else _name(resolve1(stream.get("Subtype")))
            with suppress(*_PARSER_FAULTS):
                return bytes(stream.get_data()) if kind in kinds else b""
    return b""
