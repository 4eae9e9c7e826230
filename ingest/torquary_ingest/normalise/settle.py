"""Readings become settings: interpreted, checked, released or held."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from torquary_ingest.checks import check_settings
from torquary_ingest.checks.left_overleaf import find_rows_left
from torquary_ingest.checks.unplaced import find_unplaced
from torquary_ingest.document import Document, Doubt, Entry, Mark, Reading, Table
from torquary_ingest.figures import find_decimal_mark
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.values import TorqueFigure
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.normalise.conductor_limits import apply_statements, find_statements
from torquary_ingest.normalise.conductors import add_note, combine_conductors
from torquary_ingest.normalise.headlines import read_headlines
from torquary_ingest.normalise.notes import Notes, changes_value, collect_notes, note_of
from torquary_ingest.normalise.terminals import (
    device_doubts,
    find_purpose,
    heads_figures,
    name_device,
    name_terminal,
    states_figure,
)
from torquary_ingest.normalise.torques import combine_torques
from torquary_schema.findings import holds
from torquary_schema.values import Conductor, Finding, Place, Setting, Terminal, Torque

_FIGURE_FIELDS = ("torque", "conductor")
_BRACKETED = re.compile(r"\s*\((\d)\)\s*[#\d]")
_MARK_LENGTH = 2
_MARK_SIZE = 0.75
"""Share of the type size of its row below which a text of so few letters may be a mark."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Head:
    """What a sheet as a whole gives each of its settings."""

    digest: str
    title: str
    lines: tuple[str, ...]


def settle(
    document: Document, tables: Sequence[Table], readings: Iterable[Reading]
) -> tuple[tuple[Setting, ...], tuple[Finding, ...]]:
    """Return the document's settings, each released or held, and the findings that no setting carries."""
    readings = tuple(readings)
    mark = find_decimal_mark(_figure_texts(document, tables, readings))
    notes = collect_notes(document, tables)
    head = _Head(digest=document.digest, title=document.title, lines=read_headlines(document, tables))
    settings = [setting for reading in readings for setting in _settle_one(head, reading, mark, notes)]
    settings = check_settings(apply_statements(settings, find_statements(document, tables)))
    findings = [finding for reading in readings for finding in reading.findings]
    findings += find_unplaced(document, tables, readings)
    findings += find_rows_left(document, tables, readings)
    return tuple(settings), tuple(dict.fromkeys(findings))


def _figure_texts(document: Document, tables: Sequence[Table], readings: Sequence[Reading]) -> Iterator[str]:
    for reading in readings:
        for entry in reading.entries:
            if entry.field.startswith(_FIGURE_FIELDS):
                yield entry.cell.text
    for table in tables:
        for cell in table.cells:
            yield cell.text


def _settle_one(head: _Head, reading: Reading, mark: DecimalMark, notes: Notes) -> Iterator[Setting]:
    torques = combine_torques([entry for entry in reading.entries if entry.field.startswith("torque")], mark)
    if torques.silent:
        return
    conductors, size_doubts = combine_conductors(reading.entries, mark)
    terminal = name_terminal(reading, head.title, head.lines)
    note_findings, conductors = _attach_notes(reading, notes, conductors)
    doubts = [*torques.doubts, *size_doubts, *reading.doubts, *_print_doubts(reading), *_size_doubts(reading)]
    doubts += _bracket_doubts(reading, notes)
    if not any(doubt.code == "terminal_missing" for doubt in doubts):
        doubts += [*_label_doubts(reading, terminal), *device_doubts(reading)]
    findings = (*note_findings, *(_finding(doubt, reading.place) for doubt in doubts))
    if not torques.figures:
        empty = Torque(
            printed=torques.printed, unit_printed=torques.unit_printed, min_nm=None, nominal_nm=None, max_nm=None
        )
        yield _make(head, reading, terminal, conductors[0] if len(conductors) == 1 else Conductor(), empty, findings)
        return
    for figure in torques.figures:
        for conductor in _sizes_for(figure, conductors):
            yield _make(head, reading, terminal, conductor, figure.torque, (*findings, *_condition(figure, reading)))


def _sizes_for(figure: TorqueFigure, conductors: Sequence[Conductor]) -> Sequence[Conductor]:
    """A size printed with the figure in its own cell goes before the row's."""
    if figure.conductor is not None:
        return (figure.conductor,)
    return conductors or (Conductor(),)


def _condition(figure: TorqueFigure, reading: Reading) -> Iterator[Finding]:
    if figure.condition:
        doubt = Doubt(
            code="condition_unread",
            message=f"the cell also says {figure.condition!r}; decide when the figure holds",
        )
        yield _finding(doubt, reading.place)


def _print_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield the doubts that hang on the print of the cells a setting stands on."""
    for entry in reading.entries:
        if entry.field.startswith((*_FIGURE_FIELDS, "terminal", "unit")):
            yield from entry.cell.doubts


def _size_doubts(reading: Reading) -> Iterator[Doubt]:
    """Yield a doubt for a torque of one or two digits set far smaller than its row: a note mark without a figure."""
    row = max((word.size for entry in reading.entries for word in entry.cell.words), default=0)
    for entry in reading.entries:
        text, words = entry.cell.text.strip(), entry.cell.words
        short = entry.field.startswith("torque") and len(text) <= _MARK_LENGTH and text.isalnum()
        if short and words and max(word.size for word in words) < _MARK_SIZE * row:
            message = f"{text!r} is set smaller than its row and may be a note mark; look at the sheet"
            yield Doubt(code="number_unreadable", message=message)


def _bracket_doubts(reading: Reading, notes: Notes) -> Iterator[Doubt]:
    """Yield a doubt where a number in brackets before a size, read as a count, is the mark of a note as well."""
    for entry in reading.entries:
        found = _BRACKETED.match(entry.cell.text) if entry.field.startswith("conductor") else None
        mark = Mark(text=found[1]) if found else None
        if mark is not None and note_of(notes, reading.place.page, mark) is not None:
            message = f"({mark.text}) may be a number of conductors or the mark of a note; look at the sheet"
            yield Doubt(code="note_unresolved", message=message)


def _label_doubts(reading: Reading, terminal: Terminal) -> Iterator[Doubt]:
    if not terminal.printed:
        yield Doubt(code="terminal_missing", message="nothing on the sheet says which terminal this is for")
    elif any(map(heads_figures, terminal.printed.split(" / "))):
        message = f"{terminal.printed!r} is a heading of figures and names no terminal; look at the sheet"
        yield Doubt(code="terminal_missing", message=message)
    elif states_figure(reading, terminal.printed):
        message = f"{terminal.printed!r} holds a torque where a terminal's name belongs; look at the sheet"
        yield Doubt(code="terminal_missing", message=message)


def _attach_notes(
    reading: Reading, notes: Notes, conductors: tuple[Conductor, ...]
) -> tuple[tuple[Finding, ...], tuple[Conductor, ...]]:
    found: list[Finding] = []
    for entry in reading.entries:
        for mark in entry.cell.marks:
            text = note_of(notes, reading.place.page, mark)
            found.append(_note_finding(entry, mark.text, text, reading.place))
            if text is not None and entry.field.startswith("conductor"):
                conductors = tuple(add_note(conductor, text) for conductor in conductors)
    return tuple(found), conductors


def _note_finding(entry: Entry, mark: str, text: str | None, place: Place) -> Finding:
    if text is None:
        figure = entry.field.startswith(_FIGURE_FIELDS)
        code = "note_unresolved" if figure else "note_attached"
        message = f"note {mark} hangs on {entry.cell.text.strip()!r} and its text was not found; look at the sheet"
    elif states_torque(text) or (changes_value(text) and entry.field.startswith(_FIGURE_FIELDS)):
        code, message = "note_changes_value", f"note {mark} may change the figure: {text}"
    else:
        code, message = "note_attached", f"note {mark}: {text}"
    return Finding(code=code, message=message, place=place, printed=entry.cell.text)


def _finding(doubt: Doubt, place: Place) -> Finding:
    return Finding(code=doubt.code, message=doubt.message, place=place, printed=place.text)


def _taught(reading: Reading) -> Iterator[str]:
    """Yield what a person explained: another explanation is another setting, and no decision on the one is for both."""
    for entry in reading.entries:
        if entry.taught is not None:
            yield f"{entry.field} {entry.taught.unit}"


def _make(
    head: _Head,
    reading: Reading,
    terminal: Terminal,
    conductor: Conductor,
    torque: Torque,
    findings: tuple[Finding, ...],
) -> Setting:
    findings = tuple(dict.fromkeys(findings))
    held = any(holds(finding.code) for finding in findings) or (torque.min_nm is None and torque.max_nm is None)
    device = name_device(reading, head.title, head.lines)
    place = reading.place
    seed = "\x1f".join(
        str(part)
        for part in (head.digest, place.page, place.table, place.row, place.column, place.text,
                     terminal.printed, conductor, torque.printed, *_taught(reading))
    )  # fmt: skip
    return Setting(
        id=hashlib.sha256(seed.encode()).hexdigest()[:20],
        state="held" if held else "released",
        purpose=find_purpose(reading, terminal.printed),
        device=device,
        terminal=terminal,
        conductor=conductor,
        torque=torque,
        place=place,
        findings=findings,
    )
