"""Asks the picture of the page about every figure that would be released; it can only hold, never release."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from torquary_ingest.checks import add_findings
from torquary_ingest.document import Cell, Document, Entry, Page, Reading, Table
from torquary_ingest.registry import describe_error
from torquary_ingest.witness import Claim, Testimony, Witness
from torquary_schema.values import Finding, Place, Setting

_FIELDS = ("torque", "conductor", "unit")
_KINDS = ("pdf",)


def witness_settings(
    path: Path,
    document: Document,
    tables: Sequence[Table],
    readings: Iterable[Reading],
    settings: tuple[Setting, ...],
    *,
    password: str = "",
) -> tuple[Setting, ...]:
    """Return the settings, those to be released compared with the page: agreement is a remark, all else holds.

    The cells of torque and conductor testify, and the heading cell that states the unit. Files without
    pictures (CSV) pass unchanged. A witness that stops holds every figure it was to be asked about.
    """
    if document.kind not in _KINDS or not any(setting.state == "released" for setting in settings):
        return settings
    cells = _cells_by_place(tables, readings)
    asked = {setting.place for setting in settings if setting.state == "released"}
    try:
        with Witness.open(path, password=password) as witness:
            told = {
                page.number: _ask(
                    witness, page, [c for place in asked if place.page == page.number for c in cells.get(place, ())]
                )
                for page in document.pages
            }
    except Exception as error:
        reason = f"the witness stopped ({describe_error(error)}): compare the figure with the sheet"
        return tuple(
            add_findings(setting, [_not_witnessed(setting.place, reason)]) if setting.state == "released" else setting
            for setting in settings
        )
    return tuple(
        add_findings(setting, _findings(setting.place, cells, told)) if setting.state == "released" else setting
        for setting in settings
    )


def _ask(witness: Witness, page: Page, cells: Sequence[Cell]) -> dict[Cell, Testimony]:
    """Return what the picture says to each cell, each asked once; cells without print are left out."""
    claims = {cell: Claim(box=cell.box, words=cell.words, text=cell.text) for cell in cells if cell.box and cell.words}
    answers = witness.check(page.number, list(claims.values()), page.rules)
    return dict(zip(claims, answers, strict=True))


def _findings(place: Place, cells: dict[Place, list[Cell]], told: dict[int, dict[Cell, Testimony]]) -> list[Finding]:
    """Return one remark that the print agrees, or the reasons why it does not."""
    answers = [told.get(place.page or 0, {}).get(cell) for cell in cells.get(place, ())]
    if not answers or any(answer is None for answer in answers):
        return [_not_witnessed(place, "a cell has no print to compare: compare the figure with the sheet")]
    known = [answer for answer in answers if answer is not None]
    against = [doubt for answer in known if answer.agrees is not True for doubt in answer.doubts]
    if against:
        return [Finding(code=d.code, message=d.message, place=place, printed=place.text) for d in against]
    if not all(answer.agrees for answer in known):
        return [_not_witnessed(place, "the picture could not tell: compare the figure with the sheet")]
    means = " and ".join(sorted({answer.means for answer in known}))
    return [Finding(code="witnessed", message=f"the picture of the page agrees ({means})", place=place)]


def _not_witnessed(place: Place, reason: str) -> Finding:
    return Finding(code="not_witnessed", message=reason, place=place, printed=place.text)


def _cells_by_place(tables: Sequence[Table], readings: Iterable[Reading]) -> dict[Place, list[Cell]]:
    """Return for each place the cells that its figures stand on, units' headings included."""
    found: dict[Place, dict[Cell, None]] = {}
    for reading in readings:
        here = found.setdefault(reading.place, {})
        for entry in reading.entries:
            if entry.field.startswith(_FIELDS) and entry.cell.text.strip():
                here[entry.cell] = None
                here.update(dict.fromkeys(_unit_cells(tables, reading.place, entry)))
    return {place: list(cells) for place, cells in found.items()}


def _unit_cells(tables: Sequence[Table], place: Place, entry: Entry) -> Iterator[Cell]:
    """Yield the table's cells in line with the entry that print its unit; a caption's unit is no cell."""
    if not entry.unit_printed or entry.unit_printed in entry.cell.text:
        return
    for table in tables:
        if (table.page, table.number) != (place.page, place.table):
            continue
        for cell in table.cells:
            above = cell.row < entry.cell.row and _meet(cell.column, cell.column_span, entry.cell.column)
            beside = cell.column < entry.cell.column and _meet(cell.row, cell.row_span, entry.cell.row)
            if (above or beside) and entry.unit_printed in cell.text:
                yield cell


def _meet(start: int, span: int, at: int) -> bool:
    return start <= at < start + span
