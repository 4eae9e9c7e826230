"""Colours of CSS (CSS Color 4)."""

from __future__ import annotations

from collections.abc import Sequence

import tinycss2
from tinycss2 import color5
from tinycss2.ast import Node

from torquary_ingest.openers.colours import Colour


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
    red, green, blue = (min(1.0, max(0.0, float(part))) for part in (red, green, blue))
    return Colour(red, green, blue, alpha=float(colour.alpha or 0.0))
