"""The ink of a text: its colour on its ground, its size, its indent. What it inherits goes on to what is in it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import tinycss2

from torquary_ingest.openers.colours import ALIKE, BLACK, WHITE, Colour, contrast
from torquary_ingest.openers.web_page.css.cascade import Styles
from torquary_ingest.openers.web_page.css.colours import read_colour
from torquary_ingest.openers.web_page.css.declarations import words_of
from torquary_ingest.openers.web_page.css.lengths import ROOT, Scale, evaluate

UNSEEN = "unseen"

#: CSS Fonts 4, 2.5: sizes by name, in sizes of medium.
_NAMED_SIZES = {
    "xx-small": 0.6, "x-small": 0.75, "small": 8 / 9, "medium": 1.0, "large": 1.2, "x-large": 1.5, "xx-large": 2.0,
    "xxx-large": 3.0,
}  # fmt: skip
_SAME = 1.03
"""Contrast ratio below which two colours are one (common practice)."""

_SMALLEST = 3.0
_FAR = 999.0
_LITTLE = 100.0
_HANGING = 2.2
"""Sizes of type by which a first line may hang out to the left (common practice)."""

_RESET = ("initial", "unset", "revert", "revert-layer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """What a text inherits of its look. `ground` is what it stands on; `pictured` if an image lies between."""

    em: float = ROOT
    colour: Colour = BLACK
    fill: Colour | None = None
    ground: Colour = WHITE
    pictured: bool = False
    hidden: bool = False
    indent: float = 0.0
    shadowed: bool = False
    unknown: bool = False

    def seen(self) -> str:
        """Return "unseen", why it cannot be told whether text of this look shows, or ""."""
        if self.hidden or self.em <= 0 or self.indent <= -_FAR:
            return UNSEEN
        if self.unknown:
            return "its colour cannot be told"
        colour = self.fill or self.colour
        apart = contrast(colour.over(self.ground), self.ground)
        if apart < _SAME or colour.alpha <= 0:
            return "it may stand in the colour of its ground" if self.pictured or self.shadowed else UNSEEN
        if apart < ALIKE:
            return "it stands almost in the colour of its ground"
        if self.em < _SMALLEST:
            return "it is set too small to be read"
        moved = self.indent > _LITTLE or self.indent < -_HANGING * self.em
        return "it is indented out of its place" if moved else ""


PLAIN = Ink()


def inherit(ink: Ink, styles: Styles, rem: float) -> Ink:
    """Return the look of an element's text from its parent's and what is declared for it."""
    em = _size(styles, ink.em, rem)
    colour = _colour(styles, "color", ink.colour, ink.colour)
    found = replace(ink, em=em, colour=colour)
    if "text-fill-color" in styles:
        found = replace(found, fill=_colour(styles, "text-fill-color", ink.fill or colour, colour))
    named = "text-fill-color" if "text-fill-color" in styles else "color"
    if named in styles and _word(styles, named) != "inherit":
        told = _word(styles, named) in _RESET or read_colour(styles[named], colour) is not None
        found = replace(found, unknown=not told)
    visibility = _word(styles, "visibility")
    if visibility in ("hidden", "collapse", "visible", "initial"):
        found = replace(found, hidden=visibility in ("hidden", "collapse"))
    if "text-indent" in styles:
        value = words_of(styles["text-indent"])
        found = replace(found, indent=evaluate(value[:1], Scale(em=em, rem=rem, whole=1000.0)) or 0.0)
    if "text-shadow" in styles:
        found = replace(found, shadowed=_word(styles, "text-shadow") not in ("none", *_RESET))
    return _on_ground(found, styles)


def _on_ground(ink: Ink, styles: Styles) -> Ink:
    ground = read_colour(styles.get("background-color", ()), ink.colour)
    if ground is not None and ground.alpha > 0:
        solid = ground.alpha >= 1
        ink = replace(ink, ground=ground.over(ink.ground), pictured=ink.pictured and not solid)
    image = _word(styles, "background-image")
    if image not in ("", "none", *_RESET) or "text" in _word(styles, "background-clip"):
        ink = replace(ink, pictured=True)
    return ink


def _size(styles: Styles, parent: float, rem: float) -> float:
    word = _word(styles, "font-size")
    if not word or word in ("inherit", "unset", "revert", "revert-layer"):
        return parent
    if word in _NAMED_SIZES or word == "initial":
        return ROOT * _NAMED_SIZES.get(word, 1.0)
    if word in ("smaller", "larger"):
        return parent / 1.2 if word == "smaller" else parent * 1.2
    size = evaluate(styles["font-size"], Scale(em=parent, rem=rem, whole=parent))
    return parent if size is None or size < 0 else size


def _colour(styles: Styles, name: str, otherwise: Colour, current: Colour) -> Colour:
    word = _word(styles, name)
    if word == "initial":
        return BLACK
    return (read_colour(styles[name], current) if word and word not in ("inherit", *_RESET) else None) or otherwise


def _word(styles: Styles, name: str) -> str:
    value = styles.get(name)
    return tinycss2.serialize(value).strip().lower() if value else ""
