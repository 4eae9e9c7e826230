"""Colours of print on its ground, for files that say how their text is set: are the two told apart?"""

from __future__ import annotations

from dataclasses import dataclass

ALIKE = 1.25
"""Contrast ratio below which a text may be taken for its ground (common practice; WCAG 2.2 asks for 4.5)."""


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


def read_hex(text: str) -> Colour | None:
    """Return the colour of six hexadecimal digits, the last of what is given ("FF112233", "#112233"); or None."""
    digits = text.strip().lstrip("#")[-6:]
    try:
        return Colour(*(int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))) if len(digits) == 6 else None
    except ValueError:
        return None


def contrast(one: Colour, other: Colour) -> float:
    """Return the contrast ratio of two opaque colours, 1 to 21 (WCAG 2.2, relative luminance)."""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def alike(ink: Colour | None, ground: Colour | None) -> bool:
    """Tell whether a text may be taken for its ground; a colour that is not known (None) is told from all others."""
    return ink is not None and ground is not None and contrast(ink, ground) < ALIKE


def _luminance(colour: Colour) -> float:
    parts = (colour.red, colour.green, colour.blue)
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
