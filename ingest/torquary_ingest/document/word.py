"""A word as printed, with the note marks that hang on it and the doubts about it. Lengths in points."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_schema.values import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """A reason to hold whatever is read from here: a key of `finding_codes.json` and one line of text."""

    code: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A raised or lowered note mark hanging on a word: "1", "*", "a)". Never part of the number."""

    text: str
    box: Box | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """Characters that stand together on one baseline.

    `turn` is the clockwise angle in degrees at which the word is printed: 0, 90, 180 or 270; its text is
    in reading order all the same. `size` is the font size in points, `baseline` the y of the baseline
    (for turn 0). `marks` are raised note marks behind the word. `doubts` say why it may not be trusted.
    `spread` is how far its ink reaches beyond the outlines of its font (left, up, right, down, in points; left and
    up negative), where it is drawn again beside itself or stroked for a bold look.
    `bars` are drawn strokes that its text has as "/" (fractions set one figure over the other).
    `sure` is the recogniser's certainty (0 to 1) of a word read from a picture, None for live text; `also` is
    what it read there at another scale, "" if the same.
    """

    text: str
    box: Box
    size: float
    baseline: float = 0.0
    turn: int = 0
    bold: bool = False
    font: str = ""
    marks: tuple[Mark, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    spread: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    bars: tuple[Box, ...] = ()
    sure: float | None = None
    also: str = ""
