"""Conditional formats of an `.xlsx` (ECMA-376 part 1, 18.3.1.18): which cells they may hide.

Whether a condition holds is not worked out: it may look at other cells, other sheets, the day.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from lxml import etree

from torquary_ingest.openers.workbook.archive import attribute, local
from torquary_ingest.openers.workbook.styles import Change, Face, Style, Styles, child, read_change
from torquary_ingest.openers.workbook.xlsx_colours import read_colour

Area = tuple[int, int, int, int]
_HIDDEN = Change(face=Face(struck=True), grounds=(), code="")


@dataclass(slots=True)
class Conditional:
    """The conditional formats of a worksheet: areas (first and last row and column) with what may change there."""

    areas: list[tuple[Area, Change]] = field(default_factory=list)

    def hides(self, row: int, column: int, style: Style) -> bool:
        """Tell whether a conditional format may hide a cell of the style at a place."""
        return any(
            top <= row <= bottom and left <= column <= right and change.hides(style)
            for (top, left, bottom, right), change in self.areas
        )

    def add(self, element: etree._Element, areas: list[Area], styles: Styles) -> None:
        """Add the rules of a <conditionalFormatting> that is for the areas."""
        for rule in element:
            if local(rule) == "cfRule":
                self.areas += [(area, change) for change in _changes(rule, styles) for area in areas]


def _changes(rule: etree._Element, styles: Styles) -> Iterator[Change]:
    number = attribute(rule, "dxfId")
    if number.isdecimal() and int(number) < len(styles.changes):
        yield styles.changes[int(number)]
    own = child(rule, "dxf")
    if own is not None:
        yield read_change(own, styles.theme)
    for part in rule:
        if local(part) in ("dataBar", "iconSet") and attribute(part, "showValue") in ("0", "false"):
            yield _HIDDEN
        elif local(part) == "colorScale":
            colours = (read_colour(colour, styles.theme) for colour in part if local(colour) == "color")
            grounds = tuple(colour for colour in colours if colour is not None)
            yield Change(face=Face(), grounds=grounds, code="")
