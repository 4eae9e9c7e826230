"""A page as a reader sees it: live words, rules, shades and pictures. Lengths in points from the top left."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document.table import Doubt, Mark, Table
from torquary_ingest.document.taught import TaughtHeading
from torquary_schema.values import Box, Finding


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A visible straight line (stroke, hairline rectangle or row of dashes): horizontal or vertical.

    For a horizontal rule `start`/`end` are x and `at` is y; for a vertical one the other way round.
    """

    horizontal: bool
    at: float
    start: float
    end: float
    thickness: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """A filled area that is not the page's ground (zebra rows, headings). `colour` is grey 0 to 1."""

    box: Box
    colour: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A raster picture placed on the page."""

    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A page that was read as a picture, upright and straightened: packed grey levels (0 black, 255 white).

    `wide` is the pixels of a row, rows from the top; `scale` pixels a point; `packed` is compressed by zlib.
    """

    packed: bytes
    wide: int
    scale: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page. `number` counts from 1 in the file. Only what a reader sees is in `words`.

    `seen` is the picture of a page that has no live text: its lengths are those of the page turned upright
    and straightened.

    `tables` is filled by openers of files that are tables already (CSV); None asks the table finder.
    """

    number: int
    width: float = 0.0
    height: float = 0.0
    words: tuple[Word, ...] = ()
    rules: tuple[Rule, ...] = ()
    shades: tuple[Shade, ...] = ()
    pictures: tuple[Picture, ...] = ()
    tables: tuple[Table, ...] | None = None
    findings: tuple[Finding, ...] = ()
    seen: Seen | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """An opened file. `pages` holds the pages that can bear a figure; `page_count` counts all of them.

    `taught` are headings that a layout profile explains for this document.
    """

    file: str
    kind: str
    pages: tuple[Page, ...]
    page_count: int
    digest: str = ""
    title: str = ""
    findings: tuple[Finding, ...] = ()
    taught: tuple[TaughtHeading, ...] = ()
