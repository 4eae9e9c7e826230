"""Doubts about how the cells of a reading are printed: what hangs on them, their size, brackets that may be notes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal

from torquary_ingest.document import Doubt, Mark, Reading
from torquary_ingest.figures.values import TorqueFigure
from torquary_ingest.normalise.notes import Notes, note_of
from torquary_schema.glyphs import fold_glyphs
from torquary_schema.places import FIRST_LIST
from torquary_schema.roles import spot_roles

_STANDS_ON = ("torque", "conductor", "terminal", "unit")
_BRACKETED = re.compile(r"\s*\((\d)\)\s*[#\d]")
_DECIMAL = re.compile(r"\d+[.,]\d+(?:\W+\d+(?:[.,]\d+)?)?|\d+\W+\d+[.,]\d+")
_RANGE = re.compile(r"(\d+(?:[.,]\d+)?)\s*[-–—…]\s*(\d+(?:[.,]\d+)?)")
_LARGEST = 1000
"""The largest size of conductors in use (mm², IEC 60228; kcmil beyond it are printed with their unit)."""

_DEVICES = ("device", "model", "series", "family")
_SIDES = re.compile(r", | – ")
"""What joins a figure with its limit, or a lowest with a highest one, that were printed apart."""
_MARK_LENGTH = 2
_MARK_SIZE = 0.75
"""Share of the type size of its row below which a text of so few letters may be a mark."""


def print_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield the doubts that hang on the print of the cells a setting stands on."""
    for entry in reading.entries:
        if entry.field.startswith(_STANDS_ON):
            yield from entry.cell.doubts


def size_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield a doubt for a torque of one or two digits set far smaller than its row: a note mark without a figure."""
    row = max((word.size for entry in reading.entries for word in entry.cell.words), default=0)
    for entry in reading.entries:
        text, words = entry.cell.text.strip(), entry.cell.words
        short = entry.field.startswith("torque") and len(text) <= _MARK_LENGTH and text.isalnum()
        if short and words and max(word.size for word in words) < _MARK_SIZE * row:
            message = f"{text!r} is set smaller than its row and may be a note mark; look at the sheet"
            yield Doubt(code="number_unreadable", message=message)


def bracket_doubts(reading: Reading, notes: Notes) -> Iterator[Doubt]:
    """Yield a doubt where a number in brackets before a size, read as a count, is the mark of a note as well."""
    for entry in reading.entries:
        found = _BRACKETED.match(entry.cell.text) if entry.field.startswith("conductor") else None
        mark = Mark(text=found[1]) if found else None
        if mark is not None and note_of(notes, reading.place.page, mark) is not None:
            message = f"({mark.text}) may be a number of conductors or the mark of a note; look at the sheet"
            yield Doubt(code="note_unresolved", message=message)


def askew_doubts(reading: Reading, label: str) -> Iterator[Doubt]:
    """Yield a doubt where a bare figure heads the torques or stands in a name: print of another row or column.

    The number of an article ("71.0025", "4100-16") under a heading of its own is none.
    """
    headings = [entry.heading for entry in reading.entries if entry.field in ("qualifier", "terminal")]
    devices = [entry.cell.text for entry in reading.entries if entry.field in _DEVICES]
    beside = [text for text in _names_beside(reading, label) if text not in devices]
    figures = [text for text in (*headings, *beside) if _DECIMAL.fullmatch(text.strip())]
    for figure in [*figures, *filter(_is_range, devices)][:1]:
        message = f"{figure!r} stands where a name belongs: the table may have been read askew; look at the sheet"
        yield Doubt(code="terminal_missing", message=message)


def _names_beside(reading: Reading, label: str) -> Iterator[str]:
    """Yield the texts of which a name is made behind its first."""
    cells = [entry.cell.text for entry in reading.entries if entry.field == "terminal"]
    yield from label.split(" / ")[1:]
    yield from cells if len(cells) > 1 else ()


def _is_range(text: str) -> bool:
    """Tell whether a text is a range of sizes or currents: two numbers, the second larger. "10-2201" is an article."""
    found = _RANGE.fullmatch(text.strip())
    low, high = (Decimal(one.replace(",", ".")) for one in found.groups()) if found else (0, 0)
    return low < high <= _LARGEST


def other_heading_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield a doubt where a size stands under the name of one terminal and the torque under that of another."""
    torque = next((entry.heading for entry in reading.entries if entry.field.startswith("torque")), "")
    roles = {match.concept for match in spot_roles(torque)}
    for entry in reading.entries:
        named = {match.concept for match in spot_roles(entry.heading)} if entry.field.startswith("conductor") else set()
        if roles and named and roles.isdisjoint(named):
            message = f"the size stands under {entry.heading!r}, the torque under {torque!r}; look which size is for it"
            yield Doubt(code="condition_unread", message=message)


def apart_doubts(reading: Reading, figures: Iterable[TorqueFigure]) -> Iterator[Doubt]:
    """Yield a doubt where the figure of a line or sentence is put together from words that stand apart in print.

    What names a terminal or gives a size is taken out of a line before its torque is read.
    """
    if reading.place.table is not None and reading.place.table < FIRST_LIST:
        return
    torques = [entry for entry in reading.entries if entry.field.startswith("torque")]
    printed = {_squeeze(reading.place.text), *(_squeeze(" ".join(w.text for w in e.cell.words)) for e in torques)}
    for figure in figures:
        parts = map(_squeeze, _SIDES.split(figure.torque.printed))
        if not all(any(part in text for text in printed) for part in parts):
            message = f"{figure.torque.printed!r} does not stand together in the line; read it from the sheet"
            yield Doubt(code="number_unreadable", message=message)


def _squeeze(text: str) -> str:
    return "".join(fold_glyphs(text).text.split())
