"""Colours of an `.xlsx` (ECMA-376 part 1, 18.8.19 and 18.8.27): by figures, by palette, or by theme and tint."""

from __future__ import annotations

import colorsys

from lxml import etree

from torquary_ingest.openers.colours import Colour, read_hex
from torquary_ingest.openers.workbook.archive import attribute, local

#: 18.8.27: the palette that numbers stand for, from 0; 64 and 65 are the system's ink and ground.
_PALETTE_DIGITS = (
    "000000 FFFFFF FF0000 00FF00 0000FF FFFF00 FF00FF 00FFFF 000000 FFFFFF FF0000 00FF00 0000FF FFFF00 FF00FF "
    "00FFFF 800000 008000 000080 808000 800080 008080 C0C0C0 808080 9999FF 993366 FFFFCC CCFFFF 660066 FF8080 "
    "0066CC CCCCFF 000080 FF00FF FFFF00 00FFFF 800080 800000 008080 0000FF 00CCFF CCFFFF CCFFCC FFFF99 99CCFF "
    "FF99CC CC99FF FFCC99 3366FF 33CCCC 99CC00 FFCC00 FF9900 FF6600 666699 969696 003366 339966 003300 333300 "
    "993300 993366 333399 333333 000000 FFFFFF"
)
_PALETTE = tuple(_PALETTE_DIGITS.split())

#: 20.1.6.2: the theme that a file without one has; light and dark change places with their numbers.
_THEME = ("FFFFFF", "000000", "E7E6E6", "44546A")
_ORDER = ("lt1", "dk1", "lt2", "dk2", *(f"accent{n}" for n in range(1, 7)), "hlink", "folHlink")
_NAMED = {
    "black": "000000", "white": "FFFFFF", "red": "FF0000", "green": "00FF00", "blue": "0000FF", "yellow": "FFFF00",
    "magenta": "FF00FF", "cyan": "00FFFF",
}  # fmt: skip
_BEFORE_FIRST = 7
"""[Color1] is number 8 of the palette."""


def read_theme(root: etree._Element | None) -> tuple[str, ...]:
    """Return the colours of a theme in the order of their numbers."""
    found: dict[str, str] = {}
    for scheme in root.iter("{*}clrScheme") if root is not None else ():
        for one in scheme:
            for colour in one:
                found[local(one)] = attribute(colour, "lastClr") or attribute(colour, "val")
    return tuple(found.get(name, "") for name in _ORDER) if found else _THEME


def read_colour(element: etree._Element | None, theme: tuple[str, ...]) -> Colour | None:
    """Return the colour that an element states; None for none, an automatic one, or one that is not known."""
    if element is None or attribute(element, "auto") in ("1", "true"):
        return None
    rgb, number, index = (attribute(element, name) for name in ("rgb", "theme", "indexed"))
    if rgb:
        found = read_hex(rgb)
    elif number.isdecimal():
        found = read_hex(theme[int(number)]) if int(number) < len(theme) else None
    else:
        found = read_hex(_PALETTE[int(index)]) if index.isdecimal() and int(index) < len(_PALETTE) else None
    return _tint(found, attribute(element, "tint")) if found else None


def colour_named(name: str) -> Colour | None:
    """Return the colour that a number format names ("white", "color2"); None if it is none."""
    if name.startswith("color") and name[5:].isdecimal():
        at = int(name[5:]) + _BEFORE_FIRST
        return read_hex(_PALETTE[at]) if at < len(_PALETTE) else None
    return read_hex(_NAMED.get(name, ""))


def _tint(colour: Colour, text: str) -> Colour:
    """18.8.19: a tint below 0 darkens, one above lightens."""
    try:
        tint = max(-1.0, min(1.0, float(text or 0)))
    except ValueError:
        return colour
    hue, light, full = colorsys.rgb_to_hls(colour.red, colour.green, colour.blue)
    light = light * (1 + tint) if tint < 0 else light * (1 - tint) + tint
    return Colour(*colorsys.hls_to_rgb(hue, light, full))
