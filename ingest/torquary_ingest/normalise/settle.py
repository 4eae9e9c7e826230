"""Readings become settings: interpreted, checked, released or held."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.checks import check_settings, hold
from torquary_ingest.checks.in_languages import check_languages
from torquary_ingest.checks.ledger import find_left
from torquary_ingest.checks.left_overleaf import find_rows_left
from torquary_ingest.checks.nameless import find_nameless
from torquary_ingest.checks.printed_elsewhere import check_elsewhere, check_sentences
from torquary_ingest.checks.types_beside import check_types_beside
from torquary_ingest.document import Document, Doubt, Entry, Reading, Table
from torquary_ingest.evidence import Claimed, Weighed, weigh
from torquary_ingest.evidence.surroundings import Surroundings
from torquary_ingest.figures import find_decimal_mark
from torquary_ingest.figures.numbers import DecimalMark
from torquary_ingest.figures.values import TorqueFigure
from torquary_ingest.headings.claims import states_torque
from torquary_ingest.headings.grid import text_of
from torquary_ingest.lexis.dashes import is_dash
from torquary_ingest.normalise.conductors import add_note, combine_conductors
from torquary_ingest.normalise.devices import device_doubts, name_device
from torquary_ingest.normalise.legends import Legends, collect_legends, explain
from torquary_ingest.normalise.no_product import prints_no_product
from torquary_ingest.normalise.no_settings import not_placed, other_torque, says_nothing
from torquary_ingest.normalise.notes import Notes, changes_value, collect_notes, note_of
from torquary_ingest.normalise.print_doubts import (
    apart_doubts,
    askew_doubts,
    bracket_doubts,
    other_heading_doubts,
    print_doubts,
    size_doubts,
)
from torquary_ingest.normalise.stated import apply_statements
from torquary_ingest.normalise.terminals import name_terminal
from torquary_ingest.normalise.torques import TorqueFinding, combine_torques
from torquary_ingest.scope import Level, Statements, chain_of, scope_of
from torquary_ingest.skeleton import Skeleton
from torquary_schema.findings import holds
from torquary_schema.values import Conductor, Device, Finding, Place, ScopeText, Setting, Terminal, Torque

_FIGURE_FIELDS = ("torque", "conductor")
_CONDUCTOR_SYSTEMS = ("mm2", "awg", "kcmil")
_SAY = {
    "quantity": ("quantity_missing", "that the figure is a tightening torque; say what torque it is"),
    "screw": ("screw_missing", "that the screw is an electrical terminal's; say what is tightened"),
    "terminal": ("terminal_missing", "which terminal this is for; say what its terminals are called"),
    "device": ("device_missing", "which device this is for; say its type or series"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """What a sheet gives each of its settings; `one_list`: one page with one table, and no reading has a device."""

    digest: str
    one_list: bool
    skeleton: Skeleton
    mark: DecimalMark
    notes: Notes
    legends: Legends
    surroundings: Surroundings
    statements: Statements


@dataclass(frozen=True, slots=True, kw_only=True)
class _Named:
    """A reading with the names and proofs that all its figures share."""

    reading: Reading
    terminal: Terminal
    device: Device
    weighed: Weighed
    chain: tuple[Level, ...]
    notes: tuple[ScopeText, ...]
    place: Place


def settle(
    document: Document, tables: Sequence[Table], readings: Iterable[Reading], skeleton: Skeleton
) -> tuple[tuple[Setting, ...], tuple[Finding, ...]]:
    """Return the document's settings, each released or held, and the findings that no setting carries.

    `skeleton` is what the sheet as a whole says.
    """
    readings = tuple(readings)
    devices = [name_device(reading, skeleton) for reading in readings]
    sheet = _Sheet(
        digest=document.digest,
        one_list=len(tables) == document.page_count == 1 and not any(device.printed for device in devices),
        skeleton=skeleton,
        mark=find_decimal_mark(_figure_texts(document, tables, readings)),
        notes=collect_notes(document, tables),
        legends=collect_legends(document, tables),
        surroundings=Surroundings(document, tables),
        statements=Statements(document, tables, readings),
    )
    settings: list[Setting] = []
    findings = [finding for reading in readings for finding in reading.findings]
    shown: list[Reading] = []
    for reading, device in zip(readings, devices, strict=True):
        got, others = _settle_one(sheet, reading, device)
        settings += got
        findings += others
        shown += [reading] if got or others else []
    findings = list(_once_a_block(findings, "figure_not_placed"))
    settings = list(check_settings(settings))
    settings = hold(settings, check_languages(settings, skeleton.parts))
    settings = hold(settings, check_types_beside(document, tables, settings))
    findings += find_nameless(settings)
    findings += find_left(document, tables, shown, settings)
    findings += find_rows_left(document, tables, settings)
    settings = hold(settings, check_elsewhere(settings, findings))
    settings = hold(settings, check_sentences(settings))
    return tuple(settings), tuple(_once_a_block(findings, "other_torque"))


def _once_a_block(findings: Iterable[Finding], code: str) -> Iterator[Finding]:
    """Yield each finding once, and of those with a code one for each list or page, with all their print."""
    blocks: dict[object, Finding] = {}
    for finding in findings:
        place = finding.place
        other = finding.code == code and place is not None
        block = (finding.code, place.page, place.table) if other and place else finding
        first = blocks.setdefault(block, finding)
        if other and first.printed != finding.printed:
            blocks[block] = replace(first, printed=f"{first.printed}\n{finding.printed}")
    yield from blocks.values()


def _figure_texts(document: Document, tables: Sequence[Table], readings: Sequence[Reading]) -> Iterator[str]:
    for reading in readings:
        for entry in reading.entries:
            if entry.field.startswith(_FIGURE_FIELDS):
                yield entry.cell.text
    for table in tables:
        for cell in table.cells:
            yield cell.text


def _settle_one(sheet: _Sheet, reading: Reading, device: Device) -> tuple[list[Setting], list[Finding]]:
    torques = combine_torques([entry for entry in reading.entries if entry.field.startswith("torque")], sheet.mark)
    if torques.silent:
        return [], []
    conductors, size_doubts_found = combine_conductors(explain(reading.entries, sheet.legends), sheet.mark)
    named = _name(sheet, (reading, device), torques, conductors)
    if named.weighed.other:
        return [], [other_torque(reading, torques, named.weighed)]
    if not conductors and says_nothing(reading, named.weighed):
        return [], [not_placed(reading, torques)]
    note_findings, conductors = _attach_notes(reading, sheet.notes, conductors)
    doubts = [*torques.doubts, *size_doubts_found, *reading.doubts, *print_doubts(reading), *size_doubts(reading)]
    doubts += [*bracket_doubts(reading, sheet.notes), *apart_doubts(reading, torques.figures)]
    doubts += [*device_doubts(reading), *other_heading_doubts(reading), *askew_doubts(reading, named.terminal.printed)]
    doubted = {doubt.code for doubt in doubts}
    doubts += [doubt for doubt in _missing_doubts(named.weighed) if doubt.code not in doubted]
    findings = (*note_findings, *(_finding(doubt, reading.place) for doubt in doubts))
    if not torques.figures:
        empty = Torque(
            printed=torques.printed, unit_printed=torques.unit_printed, min_nm=None, nominal_nm=None, max_nm=None
        )
        return [_make(sheet, named, conductors[0] if len(conductors) == 1 else Conductor(), empty, findings)], []
    return [
        _make(sheet, named, conductor, figure.torque, (*findings, *_condition(figure, reading)))
        for figure in torques.figures
        for conductor in _sizes_for(figure, conductors)
    ], []


def _name(
    sheet: _Sheet, of: tuple[Reading, Device], torques: TorqueFinding, conductors: Sequence[Conductor]
) -> _Named:
    reading, device = of
    chain = chain_of(reading, sheet.skeleton)
    terminal, proved = name_terminal(reading, chain, device)
    printed = [*(figure.conductor for figure in torques.figures if figure.conductor), *conductors]
    sizes = (one.printed for one in printed if one.system in _CONDUCTOR_SYSTEMS)
    units = [figure.torque.unit_printed for figure in torques.figures if figure.torque.unit_printed]
    # A heading that a person explained proves what they said of it.
    units += [entry.taught.printed for entry in reading.entries if entry.taught and entry.field.startswith("torque")]
    claimed = Claimed(
        page=reading.place.page,
        unit=torques.unit_printed or next(iter(units), ""),
        conductor=next(sizes, ""),
        label=terminal.printed if proved else "",
        device=device.printed,
        unnamed=prints_no_product(reading, sheet.skeleton, one_list=sheet.one_list),
        bare=_prints_no_conductor(reading),
    )
    weighed = weigh(claimed, chain, sheet.surroundings.of(reading))
    notes = _notes_on(reading, sheet.notes)
    return _Named(
        reading=reading, terminal=terminal, device=device, weighed=weighed, chain=chain, notes=notes,
        place=reading.place_of(torques.leading),
    )  # fmt: skip


def _prints_no_conductor(reading: Reading) -> bool:
    """Tell whether dashes stand where the row's conductors belong."""
    sizes = [text_of(entry.cell) for entry in reading.entries if entry.field.startswith("conductor")]
    return bool(sizes) and all(map(is_dash, sizes))


def _notes_on(reading: Reading, notes: Notes) -> tuple[ScopeText, ...]:
    """Return the texts of the notes whose marks hang on a reading's cells, each once."""
    marks = (mark for entry in reading.entries for mark in entry.cell.marks)
    texts = dict.fromkeys(text for mark in marks if (text := note_of(notes, reading.place.page, mark)))
    return tuple(ScopeText(kind="note", text=" ".join(text.split()), page=reading.place.page) for text in texts)


def _missing_doubts(weighed: Weighed) -> Iterator[Doubt]:
    for missing in weighed.missing:
        code, said = _SAY[missing.field]
        yield Doubt(code=code, message=f"nothing printed says {said}")


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
    sheet: _Sheet, named: _Named, conductor: Conductor, torque: Torque, findings: tuple[Finding, ...]
) -> Setting:
    findings = tuple(dict.fromkeys(findings))
    held = any(holds(finding.code) for finding in findings) or not torque.is_read
    place = named.reading.place
    seed = "\x1f".join(
        str(part)
        for part in (sheet.digest, place.page, place.table, place.row, place.column, place.text,
                     named.terminal.printed, conductor, torque.printed, *_taught(named.reading))
    )  # fmt: skip
    setting = Setting(
        id=hashlib.sha256(seed.encode()).hexdigest()[:20],
        state="held" if held else "released",
        purpose=named.weighed.purpose,
        device=named.device,
        terminal=named.terminal,
        conductor=conductor,
        torque=torque,
        place=named.place,
        findings=findings,
        evidence=named.weighed.evidence,
        missing=named.weighed.missing,
        scope=(*scope_of(named.chain), *named.notes),
    )
    return apply_statements(setting, sheet.statements.of(named.reading, named.chain, named.notes))
