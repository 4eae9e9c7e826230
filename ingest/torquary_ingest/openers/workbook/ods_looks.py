"""The styles of an `.ods` (OpenDocument 1.3, part 3, 16): struck, raised, hidden; print that may not be seen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from lxml import etree

from torquary_ingest.openers.colours import BLACK, WHITE, Colour, alike, read_hex
from torquary_ingest.openers.lengths import INCHES, POINTS_PER_INCH
from torquary_ingest.openers.workbook.archive import attribute, local

_SMALLEST = 3.0
_LENGTH = re.compile(r"(\d*\.?\d+)([a-z]+)")
_LEAST = 5.0
"""Points: a row or column of less shows no figure (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What a style says: struck out, raised, a table that does not show, a number format, colours, sizes.

    `ink` and `ground` are None where not stated, `tiny` print too small to be read, `gone` text that is not shown.
    `slight` is a row or column next to nothing, `zero` one of no size. `maps` are names of styles that stand in
    its place on a condition, `code` is the name of its number format.
    """

    struck: bool = False
    raised: bool = False
    hidden: bool = False
    formatted: bool = False
    ink: Colour | None = None
    ground: Colour | None = None
    tiny: bool = False
    gone: bool = False
    slight: bool = False
    zero: bool = False
    maps: tuple[str, ...] = ()
    code: str = ""

    def blind(self) -> bool:
        """Tell whether print may be taken for its ground, or is too small to be read."""
        return self.tiny or alike(self.ink or BLACK, self.ground or WHITE)


PLAIN = Look()


@dataclass(slots=True)
class Looks:
    """All styles by name, and the colours that each number format gives, on conditions too."""

    named: dict[str, Look] = field(default_factory=dict)
    colours: dict[str, tuple[Colour, ...]] = field(default_factory=dict)

    def read(self, root: etree._Element) -> None:
        """Add the styles of a part."""
        for part in root:
            if local(part) not in ("styles", "automatic-styles"):
                continue
            for style in part:
                if local(style) == "style":
                    self.named[attribute(style, "name")] = self._read_look(style)
                elif local(style).endswith("-style"):
                    self._read_format(style)

    def of(self, element: etree._Element) -> Look:
        """Return the look of the style that an element names."""
        return self.named.get(attribute(element, "style-name"), PLAIN)

    def unseen(self, look: Look) -> str:
        """Return why it cannot be told whether print of the look shows; "" if it does."""
        if look.blind():
            return "stands in the colour of its ground, or is too small"
        if any(alike(colour, look.ground or WHITE) for colour in self.colours.get(look.code, ())):
            return "has a number format that may print it in the colour of its ground"
        if any(self.may_hide(name, look) for name in look.maps):
            return "has a conditional format that may hide it"
        return ""

    def may_hide(self, name: str, look: Look) -> bool:
        """Tell whether a style, put in place of a look on a condition, hides what it shows or changes how."""
        other = self.named.get(name)
        if other is None:
            return True
        both = replace(look, ink=other.ink or look.ink, ground=other.ground or look.ground, tiny=other.tiny)
        return both.blind() or other.struck or other.gone or (bool(other.code) and other.code != look.code)

    def _read_look(self, style: etree._Element) -> Look:
        look = self.named.get(attribute(style, "parent-style-name"), PLAIN)
        code = attribute(style, "data-style-name")
        if code:
            look = replace(look, formatted=True, code=code)
        for part in style:
            kind = local(part)
            if kind == "text-properties":
                look = _with_text(look, part)
            elif kind == "table-cell-properties":
                look = replace(look, ground=_ground(attribute(part, "background-color"), look.ground))
            elif kind == "table-properties" and attribute(part, "display") == "false":
                look = replace(look, hidden=True)
            elif kind in ("table-row-properties", "table-column-properties"):
                size = _points(attribute(part, "row-height") or attribute(part, "column-width"))
                look = replace(look, zero=size == 0, slight=size is not None and 0 < size < _LEAST)
            elif kind == "map":
                look = replace(look, maps=(*look.maps, attribute(part, "apply-style-name")))
        return look

    def _read_format(self, style: etree._Element) -> None:
        """Take the colours of a number format; those that it maps to on conditions stand before it in the file."""
        name = attribute(style, "name")
        inks = [read_hex(attribute(one, "color")) for one in style if local(one) == "text-properties"]
        mapped = [attribute(one, "apply-style-name") for one in style if local(one) == "map"]
        found = (*inks, *(colour for other in mapped for colour in self.colours.get(other, ())))
        self.colours[name] = tuple(colour for colour in found if colour is not None)


def conditional_areas(table: etree._Element) -> Iterator[tuple[tuple[int, int, int, int], str]]:
    """Yield the areas (first and last row and column) of a table's conditional formats with the style of each."""
    for one in table.iter("{*}conditional-format"):
        areas = [_read_area(text) for text in attribute(one, "target-range-address").split()]
        for entry in one:
            for area in areas:
                if local(entry) in ("condition", "date-is"):
                    yield area, attribute(entry, "apply-style-name") or attribute(entry, "style")


def _read_area(text: str) -> tuple[int, int, int, int]:
    ends = [re.fullmatch(r"\$?([A-Z]+)\$?(\d+)", end.rsplit(".", 1)[-1]) for end in text.split(":")]
    places = [(int(end[2]), _column(end[1])) for end in ends if end]
    if len(places) < len(ends) or not places:
        return (1, 1, 2**21, 2**15)  # whole rows or columns: nothing there is certain
    return (*places[0], *places[-1])


def _column(letters: str) -> int:
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - 64
    return column


def _with_text(look: Look, part: etree._Element) -> Look:
    through = attribute(part, "text-line-through-style") or attribute(part, "text-line-through-type")
    position = attribute(part, "text-position")
    raised = position.startswith("super") or (position[:1].isdigit() and not position.startswith("0"))
    size = _points(attribute(part, "font-size"))
    auto = attribute(part, "use-window-font-color") == "true"
    return replace(
        look,
        struck=through not in ("", "none") if through else look.struck,
        raised=raised or look.raised,
        ink=None if auto else read_hex(attribute(part, "color")) or look.ink,
        tiny=size < _SMALLEST if size is not None else look.tiny,
        gone=look.gone or attribute(part, "display") in ("none", "condition"),
    )


def _ground(text: str, otherwise: Colour | None) -> Colour | None:
    return None if text == "transparent" else read_hex(text) or otherwise


def _points(text: str) -> float | None:
    found = _LENGTH.fullmatch(text)
    if found is None or found[2] not in INCHES:
        return None
    return float(found[1]) * INCHES[found[2]] * POINTS_PER_INCH
