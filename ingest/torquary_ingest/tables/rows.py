"""Rows of a table without a full grid: bands of words, and which bands are one row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from statistics import median

from torquary_ingest.document import Word
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.wording import text_of
from torquary_schema.units import find_units
from torquary_schema.words import spot

Extent = tuple[int, int]
"""First and last column (from 0) that a piece of text reaches over."""

LABEL: Extent = (0, 0)
"""The column in which rows are named."""


@dataclass(slots=True, kw_only=True)
class Band:
    """Words that share a strip across the table, by the columns they reach over."""

    top: float
    bottom: float
    pieces: dict[Extent, list[Word]] = field(default_factory=dict)

    def add(self, extent: Extent, words: Sequence[Word]) -> None:
        """Add words to what stands there already."""
        self.pieces.setdefault(extent, []).extend(words)
        self.top = min(self.top, *(w.box.top for w in words))
        self.bottom = max(self.bottom, *(w.box.bottom for w in words))

    def text(self, extent: Extent) -> str:
        """What is printed in these columns."""
        return text_of(self.pieces.get(extent, []))

    @property
    def middle(self) -> float:
        """Half its height, in points from the page's top."""
        return (self.top + self.bottom) / 2

    def copy(self) -> Band:
        """A band of the same words that can grow by itself."""
        return Band(top=self.top, bottom=self.bottom, pieces={e: list(w) for e, w in self.pieces.items()})

    def absorb(self, other: Band) -> None:
        """Take over another band's words."""
        for extent, words in other.pieces.items():
            self.add(extent, words)


def join_rows(bands: Sequence[Band], fences: Sequence[float]) -> list[Band]:
    """Join bands that are lines of one row. No row reaches over a fence (a rule's or a shade's edge)."""
    if fences and _fences_are_rows(bands, fences):
        return _by_fences(bands, fences)
    usual = _usual_gap(bands)
    rows: list[Band] = []
    for i, band in enumerate(bands):
        following = bands[i + 1] if i + 1 < len(bands) else None
        if rows and not fenced(rows[-1], band, fences) and _continues(rows[-1], band, following, usual):
            rows[-1].absorb(band)
        else:
            rows.append(band)
    return rows


def fenced(upper: Band, lower: Band, fences: Sequence[float]) -> bool:
    """Tell whether a fence runs between the middles of two bands."""
    return any(upper.middle < f < lower.middle for f in fences)


def _slot(band: Band, fences: Sequence[float]) -> int:
    return sum(f < band.middle for f in fences)


def _fences_are_rows(bands: Sequence[Band], fences: Sequence[float]) -> bool:
    """Tell whether the fences part nearly every row: hardly any strip between them holds two full bands."""
    strips: dict[int, list[Band]] = {}
    for band in bands:
        strips.setdefault(_slot(band, fences), []).append(band)
    if len(strips) < 3 and len(strips) < len(bands):
        return False
    return sum(_crowded(strip) for strip in strips.values()) <= 0.2 * len(strips)


def _crowded(strip: Sequence[Band]) -> bool:
    """Tell whether more than one row stands between two fences."""
    return sum(len(b.pieces) > 1 for b in strip) > 1 and _stacked(strip) and not _run_on(strip)


def _run_on(strip: Sequence[Band]) -> bool:
    """Tell whether each full band of a strip goes on from the one above: a figure, size or range broken off there."""
    return all(
        any(_goes_on(upper.text(extent), lower.text(extent)) for extent in lower.pieces)
        for upper, lower in pairwise(band for band in strip if len(band.pieces) > 1)
    )


def _goes_on(upper: str, lower: str) -> bool:
    """Tell a unit alone under its figure, and a text under one that breaks off behind a figure."""
    if not any(c.isdigit() for c in upper):
        return False
    return unfinished(upper) or (is_figure(upper) and _is_unit(lower.strip()))


def _is_unit(text: str) -> bool:
    """Tell whether a text is one unit and nothing else."""
    return any(unit.start == 0 and unit.end == len(text) for unit in find_units(text))


def _stacked(strip: Sequence[Band]) -> bool:
    """Tell whether the bands of a strip read as rows of their own: figures below figures."""
    columns: dict[Extent, int] = {}
    for band in strip:
        for extent in band.pieces:
            if is_figure(band.text(extent)):
                columns[extent] = columns.get(extent, 0) + 1
    return any(count > 1 for count in columns.values()) or all(len(b.pieces) > 2 for b in strip)


def _by_fences(bands: Sequence[Band], fences: Sequence[float]) -> list[Band]:
    """One row between two fences, unless the bands there read as rows of their own."""
    strips: dict[int, list[Band]] = {}
    for band in bands:
        strips.setdefault(_slot(band, fences), []).append(band)
    rows: list[Band] = []
    for slot in sorted(strips):
        strip = strips[slot]
        if _crowded(strip):
            rows += join_rows(strip, ())
            continue
        if len(strip) > 1 and _heads_below(strip[0], strip[1]):
            rows.append(strip.pop(0))
        for band in strip[1:]:
            strip[0].absorb(band)
        rows.append(strip[0])
    return rows


def _heads_below(band: Band, following: Band) -> bool:
    """Tell whether a label by itself, in bold over one that is not, names the rows that follow.

    It begins where rows are named, and may run on over the next columns.
    """
    label = following.pieces.get(LABEL, [])
    alone = len(band.pieces) == 1 and min(band.pieces)[0] == LABEL[0] and len(following.pieces) > 1
    words = [word for piece in band.pieces.values() for word in piece]
    return alone and bool(label) and all(w.bold for w in words) and not any(w.bold for w in label)


def _usual_gap(bands: Sequence[Band]) -> float:
    """The usual white between bands with several pieces, in points; 0 when there are too few."""
    full = [len(b.pieces) > 1 for b in bands]
    gaps = [
        b.top - a.bottom for (a, one), (b, two) in pairwise(zip(bands, full, strict=True)) if one and two
    ]
    return median(gaps) if gaps else 0.0


def _continues(row: Band, band: Band, following: Band | None, usual: float) -> bool:
    """Tell whether the band is a further line of the row above it."""
    gap = band.top - row.bottom
    size = max(w.size for words in band.pieces.values() for w in words)
    if gap > 0.9 * size:
        return False
    if _heads_over(row, band):
        return False
    first = band.text(LABEL)
    if first and set(band.pieces) == {LABEL}:
        after = following.top - band.bottom if following else 1e9
        if first[:1].islower() or first[:1] in "(&":
            return gap <= after + 1 or len(row.pieces) == 1
        tight = gap < min(usual, after) - 0.3 * size or (gap < usual - 0.1 * size and _hangs(row, band))
        return len(row.pieces) > 1 and tight
    if first:
        return set(row.pieces) == {LABEL} and (first[:1].islower() or unfinished(row.text(LABEL)))
    if any(a == b and (a, b) not in row.pieces for a, b in band.pieces) and len(row.pieces) < 2:
        return False
    return not any(is_figure(band.text(e)) for e in band.pieces) or _all_break_off(row, band)


def _heads_over(row: Band, band: Band) -> bool:
    """Tell whether a text alone runs from the first column over others that the row above fills one by one.

    It goes on from none of them: a name over the rows that follow.
    """
    reaches = [extent for extent in band.pieces if extent[0] == LABEL[0] < extent[1]]
    if len(band.pieces) != 1 or not reaches or not band.text(reaches[0])[:1].isupper():
        return False
    beneath = [extent for extent in row.pieces if extent[0] <= reaches[0][1]]
    return len(beneath) > 1 and reaches[0] not in row.pieces


def _hangs(row: Band, band: Band) -> bool:
    """Tell whether the band's label is set in from the label above it."""
    if LABEL not in row.pieces:
        return False
    return min(w.box.x0 for w in band.pieces[LABEL]) > min(w.box.x0 for w in row.pieces[LABEL]) + 1.5


def unfinished(text: str) -> bool:
    """Tell whether a text breaks off, so that it must go on in the next line: "0.5 –", "AWG 8 to"."""
    text = text.rstrip()
    if text.endswith(("-", "–", ",", "/", " and", " or", " of", " to", " with", "&")):
        return True
    ties = (match for match in spot("connective", text) if match.concept == "range")
    return any(match.end == len(text) and match.start > 0 and match.printed.islower() for match in ties)  # not "16 A"


def _all_break_off(row: Band, band: Band) -> bool:
    """Tell whether each figure of the band goes on from a text above that breaks off, or stands in brackets under one.

    "9 N·m" over "(80 lbf·in)".
    """
    return all(unfinished(row.text(e)) or _is_bracket(row.text(e), band.text(e)) for e in band.pieces)


def _is_bracket(upper: str, lower: str) -> bool:
    """Tell whether a text is one bracket under a text that has none."""
    closed = lower.startswith("(") and lower.endswith(")") and lower.count("(") == 1
    return closed and bool(upper.strip()) and "(" not in upper
