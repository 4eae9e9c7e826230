"""Fonts as the file describes them: whether their characters are known, whether they carry their own shapes."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from pdfminer.pdffont import PDFCIDFont, PDFSimpleFont, PDFUnicodeNotDefined
from pdfminer.pdfinterp import PDFResourceManager
from pdfminer.pdftypes import PDFStream, resolve1
from pdfminer.psparser import PSLiteral, literal_name

from torquary_ingest.openers.pdf.filters import StreamChecks
from torquary_ingest.openers.pdf.glyph_names import name_codes, name_glyphs
from torquary_ingest.openers.pdf.letters import is_unreadable
from torquary_ingest.openers.pdf.sign_faces import name_signs, read_symbol

UNREADABLE = "\ufffd"
"""Stands for a glyph whose font does not say which character it is."""

_WINDOWS, _SECOND_HYPHEN = "WinAnsiEncoding", 0xAD


class FontShelf(PDFResourceManager):
    """Keeps each font with the dictionary that it was made from, which the parser library drops."""

    def __init__(self) -> None:
        super().__init__(caching=True)
        self._mute: dict[int, bool] = {}
        self._embedded: dict[int, bool] = {}
        self._kept: list[Any] = []
        self._faults: dict[int, str] = {}
        self.streams = StreamChecks()
        self._named: dict[int, dict[int, str]] = {}

    def get_font(self, objid: Any, spec: Any) -> Any:
        """Return the font of the dictionary; fonts are kept, so that their identity can serve as a key."""
        fault = self._find_fault(spec)
        font = super().get_font(objid, spec)
        if id(font) not in self._mute:
            self._kept.append(font)
            self._faults[id(font)] = fault
            self._mute[id(font)] = _has_no_map(font, spec)
            self._embedded[id(font)] = _is_embedded(spec)
            if self._mute[id(font)]:
                self._named[id(font)] = name_glyphs(font, spec)
            name_codes(font, spec)
            name_signs(font, spec, embedded=self._embedded[id(font)])
            _name_hyphen(font, spec)
            self._teach(font)
        return font

    def _find_fault(self, spec: Any) -> str:
        """Return what is damaged of a font, in words; its streams are looked at before they are decoded."""
        if "Subtype" not in spec:
            return "is missing"
        if "ToUnicode" not in spec:
            return ""
        letters = resolve1(spec["ToUnicode"])
        if isinstance(letters, PDFStream):
            return "has a damaged Unicode map" if self.streams.find_fault(letters) else ""
        return "" if isinstance(letters, PSLiteral) else "has lost its Unicode map"

    def find_fault(self, font: Any) -> str:
        """Return what is damaged of a font, in words; "" if nothing is."""
        return self._faults.get(id(font), "")

    def _teach(self, font: Any) -> None:
        """Have the font itself say the characters of its codes as they are known here, and each width once found."""
        mapped = font.to_unichr
        font.to_unichr = cache(lambda code: self._find_character(font, mapped, code))
        font.char_width = cache(font.char_width)

    def _find_character(self, font: Any, mapped: Callable[[int], str], code: int) -> str:
        if self.is_mute(id(font)):
            return self._named[id(font)].get(code, UNREADABLE)
        try:
            text = mapped(code)
        except PDFUnicodeNotDefined:
            text = ""
        if (not text or is_unreadable(text)) and code in getattr(font, "cid2unicode", ()):
            # A map that says nothing of a code leaves it to the name of its glyph.
            text = font.cid2unicode[code] or text
        return read_symbol(UNREADABLE if text in ("", "\0") else text, font_name(font))

    def is_mute(self, key: int) -> bool:
        """Tell whether the file has no map of the font's codes: its glyphs' names alone may say their characters."""
        return self._mute.get(key, False)

    def is_embedded(self, key: int) -> bool:
        """Tell whether the font brings its own shapes, which may be other than its characters say."""
        return self._embedded.get(key, False)


def _name_hyphen(font: Any, spec: Any) -> None:
    """Give a simple font in Windows' encoding its second hyphen, which the parser library takes for a blank."""
    encoding = resolve1(spec.get("Encoding"))
    if isinstance(font, PDFSimpleFont) and "ToUnicode" not in spec and literal_name(encoding) == _WINDOWS:
        font.cid2unicode = {**font.cid2unicode, _SECOND_HYPHEN: "-"}


def font_name(font: Any) -> str:
    """Return the name that the file gives the font, "" if none."""
    return str(getattr(font, "fontname", "") or "")


def _has_no_map(font: Any, spec: Any) -> bool:
    """Tell a font whose codes are glyph numbers and that has no Unicode map.

    Its characters are known by the names that the embedded program gives its glyphs, or not at all: the program's
    table of characters is that of a subset.
    """
    if not isinstance(font, PDFCIDFont) or "ToUnicode" in spec:
        return False
    return font.cidcoding in ("Adobe-Identity", "Adobe-UCS") or font.unicode_map is None


def _is_embedded(spec: Any) -> bool:
    inner = resolve1(spec.get("DescendantFonts"))
    if isinstance(inner, list) and inner:
        spec = resolve1(inner[0])
    descriptor = resolve1(spec.get("FontDescriptor")) if isinstance(spec, dict) else None
    if isinstance(descriptor, dict) and any(key in descriptor for key in ("FontFile", "FontFile2", "FontFile3")):
        return True
    return isinstance(spec, dict) and "CharProcs" in spec


def names_mute_font(resources: Any) -> bool:
    """Tell whether a page's resources name a font whose codes are glyph numbers and that has no Unicode map."""
    fonts = resolve1(resources.get("Font")) if isinstance(resources, dict) else None
    return isinstance(fonts, dict) and any(_is_mute(resolve1(font)) for font in fonts.values())


def _is_mute(spec: Any) -> bool:
    if not isinstance(spec, dict) or "ToUnicode" in spec:
        return False
    inner = resolve1(spec.get("DescendantFonts"))
    below = resolve1(inner[0]) if isinstance(inner, list) and inner else None
    system = resolve1(below.get("CIDSystemInfo")) if isinstance(below, dict) else None
    return isinstance(system, dict) and resolve1(system.get("Ordering")) in (b"Identity", b"UCS")
