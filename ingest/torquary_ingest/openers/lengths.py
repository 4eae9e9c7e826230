"""Lengths as style sheets and OpenDocument files write them, in points and in pixels of a screen."""

from __future__ import annotations

POINTS_PER_INCH = 72
"""A point is the 72nd part of an inch (CSS Values 4, 6.2)."""

PIXELS_PER_INCH = 96
"""A pixel of a style sheet is the 96th part of an inch (CSS Values 4, 6.2)."""

_CENTIMETRES_PER_INCH = 2.54

INCHES = {
    "in": 1.0,
    "cm": 1 / _CENTIMETRES_PER_INCH,
    "mm": 1 / (10 * _CENTIMETRES_PER_INCH),
    "q": 1 / (40 * _CENTIMETRES_PER_INCH),
    "pt": 1 / POINTS_PER_INCH,
    "pc": 12 / POINTS_PER_INCH,
    "px": 1 / PIXELS_PER_INCH,
}
"""Absolute units of length in inches, by their spelling (CSS Values 4, 6.2)."""
