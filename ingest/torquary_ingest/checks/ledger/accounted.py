"""What is accounted for: the print that settings, other torques and the notes of settings already show."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from torquary_ingest.document import Cell, Reading, Table
from torquary_ingest.document.lines import Line
from torquary_schema.values import Setting

_BLANK = re.compile(r"\s+")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Taken:
    """The text of a torque cell that was read, without blanks, and where it stands."""

    page: int | None
    text: str
    cell: Cell


class Accounted:
    """The torques of a document that came to a setting, released or held, to another torque or to a note."""

    def __init__(self, readings: Sequence[Reading], settings: Sequence[Setting]) -> None:
        self._taken: list[_Taken] = []
        self._cells: dict[tuple[int | None, int | None, int, int], list[str]] = {}
        for reading in readings:
            for entry in reading.entries:
                if entry.field.startswith("torque"):
                    self._take(reading, entry.cell)
        told = (finding for setting in settings for finding in setting.findings)
        self._notes = [squash(finding.message) for finding in told if finding.code.startswith("note_")]
        self.tables = {(reading.place.page, reading.place.table) for reading in readings}
        self.with_settings = {(setting.place.page, setting.place.table) for setting in settings}

    def only_other(self, page: int, table: int | None = None) -> bool:
        """Tell whether all that was read of a page, or of a table on it, are torques that no screw is set to."""
        read = {place for place in self.tables if place[0] == page and table in (None, place[1])}
        return bool(read) and not read & self.with_settings

    def _take(self, reading: Reading, cell: Cell) -> None:
        text, place = squash(cell.text), reading.place
        self._taken.append(_Taken(page=place.page, text=text, cell=cell))
        self._cells.setdefault((place.page, place.table, cell.row, cell.column), []).append(text)

    def holds_line(self, line: Line, printed: str) -> bool:
        """Tell whether a torque printed in a line was read there, or stands in a note of a setting."""
        sought = squash(printed)
        here = (taken for taken in self._taken if taken.page == line.page and _stands_at(taken.cell, line))
        return any(sought in taken.text for taken in here) or self._is_note(line, sought)

    def _is_note(self, line: Line, sought: str) -> bool:
        """Tell whether a line is of a note that hangs on a setting, its mark aside."""
        text, behind = squash(line.text), squash(line.text.split(maxsplit=1)[-1])
        return any(sought in note and (text in note or behind in note) for note in self._notes)

    def holds_cell(self, table: Table, cell: Cell, printed: str) -> bool:
        """Tell whether a torque printed in a cell of a table was read from that cell."""
        sought = squash(printed)
        return any(sought in text for text in self._cells.get((table.page, table.number, cell.row, cell.column), ()))


def _stands_at(cell: Cell, line: Line) -> bool:
    """Tell whether a cell and a line meet; a cell whose box is not known may stand anywhere on the page."""
    box = cell.box
    if box is None:
        return True
    beside = box.x0 < line.box.x1 and line.box.x0 < box.x1
    return beside and box.top < line.box.bottom and line.box.top < box.bottom


def squash(text: str) -> str:
    """Return the text without blanks, by which print is compared however its lines are broken."""
    return _BLANK.sub("", text)
