"""How the cells of an `.xlsx` are set: number format, strike-through, the colour of print and ground."""

from __future__ import annotations

from dataclasses import dataclass

from lxml import etree

from torquary_ingest.openers.colours import BLACK, WHITE, Colour, alike
from torquary_ingest.openers.workbook.archive import Archive, attribute, local
from torquary_ingest.openers.workbook.formats import BUILT_IN, is_date, is_date_number
from torquary_ingest.openers.workbook.xlsx_colours import read_colour, read_theme

_SMALLEST = 3.0
"""Points; smaller print is not read by eye (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """How a font is set: struck out, its colour (None: not stated), too small to be read."""

    struck: bool = False
    ink: Colour | None = None
    tiny: bool = False


_BLACK = Face(ink=BLACK)


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """One cell format: the number format's code, whether it shows a date, its font, and the colours of its ground.

    `grounds` are several where a pattern is drawn; `filling` repeats the text over the width of the cell.
    """

    code: str = "General"
    date: bool = False
    face: Face = _BLACK
    grounds: tuple[Colour, ...] = (WHITE,)
    filling: bool = False

    def blind(self, ink: Colour | None) -> bool:
        """Tell whether print of a colour (None: the font's own) may be taken for its ground."""
        return any(alike(ink or self.face.ink, ground) for ground in self.grounds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What a conditional format changes: its font, its grounds (none: left as they are), the number format."""

    face: Face
    grounds: tuple[Colour, ...]
    code: str

    def hides(self, style: Style) -> bool:
        """Tell whether a cell of the style may no longer show as it does where the condition holds."""
        ink = self.face.ink or style.face.ink
        blind = any(alike(ink, ground) for ground in self.grounds or style.grounds)
        return bool(self.code) or self.face.struck or self.face.tiny or blind


PLAIN = Style()


@dataclass(frozen=True, slots=True, kw_only=True)
class Styles:
    """The cell formats and the changes of conditional formats, each by its number; the colours of the theme."""

    cells: tuple[Style, ...] = ()
    changes: tuple[Change, ...] = ()
    theme: tuple[str, ...] = ()

    def cell(self, number: int) -> Style:
        """Return the format of a number; the plain one where there is none."""
        return self.cells[number] if number < len(self.cells) else PLAIN


def read_styles(archive: Archive, name: str, theme_name: str) -> Styles:
    """Return the formats; none when the part is missing."""
    theme = read_theme(archive.tree(theme_name) if theme_name and archive.has(theme_name) else None)
    if not archive.has(name):
        return Styles(theme=theme)
    parts = {local(part): part for part in archive.tree(name)}
    codes = {_number(one, "numFmtId"): attribute(one, "formatCode") for one in parts.get("numFmts", ())}
    faces = [read_face(font, theme) for font in parts.get("fonts", ())]
    grounds = [_read_grounds(fill, theme) for fill in parts.get("fills", ())]
    return Styles(
        cells=tuple(_read_format(one, codes, faces, grounds) for one in parts.get("cellXfs", ())),
        changes=tuple(read_change(one, theme) for one in parts.get("dxfs", ())),
        theme=theme,
    )


def _read_format(
    element: etree._Element, codes: dict[int, str], faces: list[Face], grounds: list[tuple[Colour, ...]]
) -> Style:
    number, font, fill = (_number(element, name) for name in ("numFmtId", "fontId", "fillId"))
    known = codes.get(number) or BUILT_IN.get(number)
    dated = is_date(known) if known else is_date_number(number)
    face = faces[font] if font < len(faces) else Face()
    placed = child(element, "alignment")
    # A number without a code that we know is not guessed at: "?" is a format that nothing understands.
    return Style(
        code=known or "?",
        date=dated,
        face=Face(struck=face.struck, ink=face.ink or BLACK, tiny=face.tiny),
        grounds=(grounds[fill] if fill < len(grounds) else ()) or (WHITE,),
        filling=placed is not None and attribute(placed, "horizontal") == "fill",
    )


def read_change(element: etree._Element, theme: tuple[str, ...]) -> Change:
    """Return what a conditional format changes."""
    font, fill, code = (child(element, name) for name in ("font", "fill", "numFmt"))
    return Change(
        face=read_face(font, theme) if font is not None else Face(),
        grounds=_read_grounds(fill, theme, changed=True) if fill is not None else (),
        code=attribute(code, "formatCode") if code is not None else "",
    )


def read_face(font: etree._Element, theme: tuple[str, ...]) -> Face:
    """Return how a font, or a run of text, is set."""
    size = child(font, "sz")
    return Face(
        struck=flag(child(font, "strike")),
        ink=read_colour(child(font, "color"), theme),
        tiny=size is not None and _is_tiny(attribute(size, "val")),
    )


def _read_grounds(fill: etree._Element, theme: tuple[str, ...], *, changed: bool = False) -> tuple[Colour, ...]:
    """Return the colours of a fill. In a conditional format a plain fill has its colour where patterns have theirs."""
    pattern = child(fill, "patternFill")
    if pattern is None:
        stops = (read_colour(colour, theme) for colour in fill.iter("{*}color"))
        return tuple(colour for colour in stops if colour is not None)
    kind = attribute(pattern, "patternType")
    if kind == "none" or (not kind and not changed):
        return ()
    front, back = (read_colour(child(pattern, name), theme) for name in ("fgColor", "bgColor"))
    if kind == "solid" and not changed:
        return (front or BLACK,)
    return tuple(colour for colour in (front, back) if colour is not None)


def flag(element: etree._Element | None) -> bool:
    """Tell whether a switch such as <strike/> is on; it is unless it says 0 or false."""
    return element is not None and attribute(element, "val") not in ("0", "false", "off")


def child(element: etree._Element, name: str) -> etree._Element | None:
    """Return the first child of a name, whatever its namespace."""
    return next((one for one in element if local(one) == name), None)


def _is_tiny(text: str) -> bool:
    try:
        return float(text) < _SMALLEST
    except ValueError:
        return False


def _number(element: etree._Element, name: str) -> int:
    text = attribute(element, name)
    return int(text) if text.isdecimal() and len(text) < 10 else 0
