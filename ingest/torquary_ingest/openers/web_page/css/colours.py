"""Colours of CSS (CSS Color 4): how far two of them are apart, and whether one is seen through."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import tinycss2
from tinycss2 import color5
from tinycss2.ast import Node


@dataclass(frozen=True, slots=True)
class Colour:
    """Red, green, blue and opacity, each 0 to 1."""

    red: float
    green: float
    blue: float
    alpha: float = 1.0

    def over(self, ground: Colour) -> Colour:
        """Return the colour that shows where this one is laid over an opaque ground."""
        a = self.alpha
        mixed = (
            mine * a + below * (1 - a)
            for mine, below in ((self.red, ground.red), (self.green, ground.green), (self.blue, ground.blue))
        )
        return Colour(*mixed)


WHITE = Colour(1, 1, 1)
BLACK = Colour(0, 0, 0)


def read_colour(value: Sequence[Node] | str, current: Colour | None) -> Colour | None:
    """Return the colour of a value, `current` for "currentcolor"; None where it is none, or cannot be told."""
    text = value if isinstance(value, str) else tinycss2.serialize(value).strip()
    try:
        colour = color5.parse_color(text)
        if colour is None or colour == "currentcolor":
            return current if colour else None
        red, green, blue = colour.to("srgb").coordinates
    except (AttributeError, ValueError, TypeError, NotImplementedError):
        return None
    if None in (red, green, blue):
        red, green, blue = red or 0.0, green or 0.0, blue or 0.0
    return Colour(*(min(1.0, max(0.0, float(part))) for part in (red, green, blue)), alpha=float(colour.alpha or 0.0))


def contrast(one: Colour, other: Colour) -> float:
    """Return the contrast ratio of two opaque colours, 1 to 21 (WCAG 2.2, relative luminance)."""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: Colour) -> float:
    parts = (colour.red, colour.green, colour.blue)
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
