"""How the cells of an `.xlsx` are set: number format, strike-through, print in the colour of the ground."""

from __future__ import annotations

from dataclasses import dataclass

from lxml import etree

from torquary_ingest.openers.workbook.archive import Archive, attribute, local
from torquary_ingest.openers.workbook.formats import BUILT_IN, is_date, is_date_number


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """One cell format: the number format's code, whether it shows a date, and how its font is set."""

    code: str = "General"
    date: bool = False
    struck: bool = False
    white: bool = False


PLAIN = Style()


def read_styles(archive: Archive, name: str) -> tuple[Style, ...]:
    """Return the cell formats by the number that cells give; none when the part is missing."""
    if not archive.has(name):
        return ()
    root = archive.tree(name)
    codes: dict[int, str] = {}
    fonts: list[tuple[bool, bool]] = []
    fills: list[bool] = []
    formats: list[etree._Element] = []
    for part in root:
        kind = local(part)
        if kind == "numFmts":
            codes = {_number(one, "numFmtId"): attribute(one, "formatCode") for one in part}
        elif kind == "fonts":
            fonts = [(_is_struck(font), _is_white(font)) for font in part]
        elif kind == "fills":
            fills = [_is_filled(fill) for fill in part]
        elif kind == "cellXfs":
            formats = list(part)
    return tuple(_read_format(one, codes, fonts, fills) for one in formats)


def _read_format(
    element: etree._Element, codes: dict[int, str], fonts: list[tuple[bool, bool]], fills: list[bool]
) -> Style:
    number, font, fill = (_number(element, name) for name in ("numFmtId", "fontId", "fillId"))
    known = codes.get(number) or BUILT_IN.get(number)
    dated = is_date(known) if known else is_date_number(number)
    struck, white = fonts[font] if font < len(fonts) else (False, False)
    filled = fill < len(fills) and fills[fill]
    # A number without a code that we know is not guessed at: "?" is a format that nothing understands.
    return Style(code=known or "?", date=dated, struck=struck, white=white and not filled)


def flag(element: etree._Element | None) -> bool:
    """Tell whether a switch such as <strike/> is on; it is unless it says 0 or false."""
    return element is not None and attribute(element, "val") not in ("0", "false", "off")


def child(element: etree._Element, name: str) -> etree._Element | None:
    """Return the first child of a name, whatever its namespace."""
    return next((one for one in element if local(one) == name), None)


def _is_struck(font: etree._Element) -> bool:
    return flag(child(font, "strike"))


def _is_white(font: etree._Element) -> bool:
    colour = child(font, "color")
    if colour is None:
        return False
    return attribute(colour, "rgb").upper().endswith("FFFFFF") or attribute(colour, "theme") == "0"


def _is_filled(fill: etree._Element) -> bool:
    pattern = child(fill, "patternFill")
    return pattern is None or attribute(pattern, "patternType") not in ("", "none")


def _number(element: etree._Element, name: str) -> int:
    text = attribute(element, name)
    return int(text) if text.isdecimal() and len(text) < 10 else 0
