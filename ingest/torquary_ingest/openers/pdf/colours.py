"""Colours of the file's colour spaces as red, green and blue, as far as visibility needs them."""

from __future__ import annotations

from torquary_ingest.openers.pdf.paint import Colour

ALIKE = 0.09
"""Two colours nearer than this in every channel cannot be told apart on paper (common practice)."""


def read_colour(value: object, space: str) -> Colour | None:
    """Return red, green, blue for a colour operand in the named space; None for patterns and the unknown.

    Separation and DeviceN count ink, so 0 is white; four components are read as CMYK.
    """
    parts = value if isinstance(value, tuple | list) else (value,)
    if not parts or not all(isinstance(part, int | float) for part in parts):
        return None
    numbers = [min(1.0, max(0.0, float(part))) for part in parts if isinstance(part, int | float)]
    if space in ("Indexed", "Pattern"):
        return None
    if space in ("Separation", "DeviceN"):
        light = 1.0 - max(numbers)
        return (light, light, light)
    if space == "Lab" and isinstance(parts[0], int | float):
        light = min(1.0, max(0.0, float(parts[0]) / 100))
        return (light, light, light)
    if len(numbers) == 1:
        return (numbers[0], numbers[0], numbers[0])
    if len(numbers) == 3:
        return (numbers[0], numbers[1], numbers[2])
    if len(numbers) == 4:
        cyan, magenta, yellow, black = numbers
        return ((1 - cyan) * (1 - black), (1 - magenta) * (1 - black), (1 - yellow) * (1 - black))
    return None


def look_alike(first: Colour | None, second: Colour | None) -> bool:
    """Tell whether a mark of one colour on a ground of the other would be invisible."""
    if first is None or second is None:
        return False
    red, green, blue = first
    return abs(red - second[0]) < ALIKE and abs(green - second[1]) < ALIKE and abs(blue - second[2]) < ALIKE


def grey_of(colour: Colour | None) -> float:
    """Return the lightness, 0 black to 1 white (ITU-R BT.601 weights); an unknown colour counts as middle grey."""
    if colour is None:
        return 0.5
    return 0.299 * colour[0] + 0.587 * colour[1] + 0.114 * colour[2]
