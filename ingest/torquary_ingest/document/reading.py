"""What an extractor says: these cells belong together. Nothing is interpreted here."""

from __future__ import annotations

from dataclasses import dataclass, replace

from torquary_ingest.document.table import Cell
from torquary_ingest.document.taught import TaughtHeading
from torquary_ingest.document.word import Doubt
from torquary_schema.values import Finding, Place, ScopeText


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One printed cell in the part it plays.

    `field` is a heading concept of the words data ("torque", "torque_max", "conductor", "terminal", …).
    `heading` holds all heading words that speak for the cell, `unit_printed` the unit that its heading,
    band row or caption states ("" if none; a unit inside the cell itself always wins). `taught` is what a
    layout profile says of the heading. `may_count` tells that the cell is a whole number as all others of its
    column: they may number what they stand under, or count it. `place` is that of a cell in another table than its
    reading's.
    """

    field: str
    cell: Cell
    heading: str = ""
    unit_printed: str = ""
    taught: TaughtHeading | None = None
    may_count: bool = False
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """Entries that a layout ties into one record, with its place and whatever makes it doubtful.

    `scope` holds the printed texts over the entries that speak for all of them, nearest first, each with what it is:
    "heading", "section_row", "caption", "list_heading", "introduction" or "section". `notes` are the texts of the notes
    whose marks hang on the cells.
    """

    place: Place
    entries: tuple[Entry, ...]
    scope: tuple[ScopeText, ...] = ()
    notes: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    findings: tuple[Finding, ...] = ()

    def place_of(self, leading: Entry | None) -> Place:
        """Return where figures stand that are from an entry: `place` is the first torque's, maybe in another unit."""
        first = next((entry for entry in self.entries if entry.field.startswith("torque")), None)
        if leading is None or leading is first or (leading.cell.box is None and self.place.box is not None):
            return self.place
        if leading.place is not None:
            return leading.place
        # On a page the box tells the cell, and the column stays that of the heading: it may run over several.
        cell = leading.cell
        return replace(self.place, box=cell.box) if cell.box else replace(self.place, row=cell.row, column=cell.column)

    @property
    def places(self) -> frozenset[Place]:
        """All places that its figures may have."""
        torques = (entry for entry in self.entries if entry.field.startswith("torque"))
        return frozenset((self.place, *map(self.place_of, torques)))
