"""Notes: the text that belongs to a mark, and whether it changes the figure it hangs on."""

from __future__ import annotations

import re
from collections.abc import Iterable

from torquary_ingest.document import Document, Mark, Table
from torquary_ingest.document.lines import set_lines
from torquary_ingest.lexis.note_marks import lower
from torquary_schema.units import find_units
from torquary_schema.words import Kind, spot

_OPENING = re.compile(
    r"^\s*[(\[]?(?P<mark>[*※]\d{1,2}(?![.,]?\d)|\d{1,2}|[a-z](?![^\W\d_])|[*†‡§#]{1,4})"
    r"[)\].:]?(?=\s|\D)\s*(?P<text>\S.*)$",
    re.IGNORECASE,
)
_NUMBER = re.compile(r"(?:(?<=\s)|^)(?P<number>\d{1,2})\)\s")
_DECIMAL = r"\d{1,3}[.,]\d{1,2}"
_BARE = re.compile(rf"(?<![\w.,-]){_DECIMAL}(?:\s*[-–]\s*{_DECIMAL})?(?=\s*(?:[;)\]]|[.,](?:\s|$)|$))")
"""A decimal figure or range that ends a clause and has no unit: beside a torque, one in the torque's unit."""
_STRANDING: tuple[Kind, ...] = ("stranding", "ferrule", "material")

Notes = dict[tuple[int, str], str]


def fold_mark(text: str) -> str:
    """Return a note mark in the form in which marks are compared: "¹)" and "1" are the same."""
    return lower(text).strip(" ()[].:,").lower().replace("※", "*")


def collect_notes(document: Document, tables: Iterable[Table]) -> Notes:
    """Return the notes by (page, mark). A note of several lines is joined."""
    notes: Notes = {}
    tables = tuple(tables)
    for page in document.pages:
        here = [table for table in tables if table.page == page.number]
        for table in here:
            _gather(notes, page.number, table.below)
        _gather(notes, page.number, [line.text for line in set_lines(page, here)])
    for passed in document.passed:
        _gather(notes, passed.number, passed.lines)
    return notes


def _gather(notes: Notes, page: int, lines: Iterable[str]) -> None:
    current: tuple[int, str] | None = None
    for line in (part for whole in lines for part in _part_notes(whole)):
        opening = _OPENING.match(lower(line))
        if opening:
            current = (page, fold_mark(opening["mark"]))
            if current in notes:
                current = None
            else:
                notes[current] = opening["text"].strip()
        elif current is not None and line.strip()[:1].islower():
            notes[current] += " " + line.strip()
        else:
            current = None


def _part_notes(line: str) -> list[str]:
    """Return the notes of a line that numbers several in order: "1) Solid or stranded. 2) Flexible."."""
    starts = [match for match in _NUMBER.finditer(lower(line))]
    numbers = [int(match["number"]) for match in starts]
    counted = len(starts) > 1 and numbers == list(range(numbers[0], numbers[0] + len(numbers)))
    if not counted or lower(line)[: starts[0].start()].strip():
        return [line]
    ends = [*(match.start() for match in starts[1:]), len(line)]
    return [line[match.start() : end].strip() for match, end in zip(starts, ends, strict=True)]


def note_of(notes: Notes, page: int | None, mark: Mark) -> str | None:
    """Return the note's text from the mark's own page, else from the nearest later or earlier page."""
    key = fold_mark(mark.text)
    if key not in {known for _, known in notes} and re.fullmatch(r"\*\d{1,2}", key):
        key = key[1:]  # "*1" at the figure, "1)" before the note
    pages = sorted((p for p, m in notes if m == key), key=lambda p: (abs(p - (page or 0)), p))
    return notes[(pages[0], key)] if pages else None


def changes_value(text: str) -> bool:
    """Tell whether a note may change the figure it hangs on: it names a torque, a size, a figure or a limit of use."""
    if any(unit.kind in ("torque", "area", "gauge", "force") for unit in find_units(text)) and re.search(r"\d", text):
        return True
    if _BARE.search(text):
        return True
    if re.search(r"\d\s*(?:%|percent|prozent|pour ?cent)", text, re.IGNORECASE):
        return True
    limits = {match.concept for match in spot("connective", text)}
    return bool(limits & {"only", "except"}) and not _only_kind(text)


def _only_kind(text: str) -> bool:
    """ "solid only" says which conductor is meant; that is kept with the conductor and changes no figure."""
    return any(spot(kind, text) for kind in _STRANDING)
