"""One sheet's way, straight down: open it (`opening.py`), take readings, settle, check against the schema."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from torquary_ingest.checks import add_findings
from torquary_ingest.checks.in_languages import join_languages
from torquary_ingest.clauses.tables_of_text import is_text
from torquary_ingest.damaged import hold_damaged
from torquary_ingest.document import Document, Reading
from torquary_ingest.errors import SheetRefused
from torquary_ingest.evidence.print_beside import note_beside
from torquary_ingest.face import Face
from torquary_ingest.limits import OutOfTime, stop_after
from torquary_ingest.normalise import settle
from torquary_ingest.opening import Opened, find_tables, open_document
from torquary_ingest.plugins import Extractor, OpenWish
from torquary_ingest.profiles import Profile, torques_explained
from torquary_ingest.profiles.face import look_at
from torquary_ingest.profiles.matching import choose_profiles, teach
from torquary_ingest.proposals import describe_proposals, hold_scanned
from torquary_ingest.refusal import refuse_sheet
from torquary_ingest.registry import choose_extractors, describe_crash
from torquary_ingest.skeleton import Skeleton, make_skeleton
from torquary_ingest.testify import witness_settings
from torquary_schema.report import setting_to_dict
from torquary_schema.validation import check_record
from torquary_schema.values import Finding, Setting, SheetReport

_READING = 0.5
"""Share of a sheet's time that reading its parsed pages may take at least, each time that it is tried."""

_FEWER = 4
"""So many times fewer pages are read where the time did not suffice for all that were parsed, twice at most."""


def read_one(path: Path, wish: OpenWish, profiles: Sequence[Profile] = ()) -> SheetReport:
    """Return what the sheet gives; a sheet that cannot be read at all is a report too, `refused`."""
    try:
        return read_in_time(path, wish, profiles)[1]
    except SheetRefused as refused:
        return refuse_sheet(path, refused)


def read_in_time(
    path: Path, wish: OpenWish, profiles: Sequence[Profile] = ()
) -> tuple[Opened, SheetReport, Face]:
    """Return the opened sheet, what it gives, and what it shows of its maker and headings.

    Where the time of its process does not suffice for all pages, they are those of its first pages, all held, and a
    finding says which were not read. Raises `SheetRefused` when it cannot be read at all.
    """
    document = open_document(path, replace(wish, sought=torques_explained(profiles)))
    for fewer in (document, *_with_fewer_pages(document)):
        try:
            with stop_after(_READING, at_least=True):
                opened = find_tables(fewer)
                return opened, *_read_opened(path, opened, wish, profiles)
        except OutOfTime:
            continue
    raise SheetRefused("sheet_too_slow", "reading takes longer than a sheet may: split the file into smaller ones")


def _with_fewer_pages(document: Document) -> Iterator[Document]:
    for fewer in (_FEWER, _FEWER**2):
        kept = len(document.pages) // fewer
        if kept:
            left = (page.number for page in document.pages[kept:])
            yield replace(document, pages=document.pages[:kept], unread=tuple(sorted({*document.unread, *left})))


def _read_opened(
    path: Path, opened: Opened, wish: OpenWish, profiles: Sequence[Profile] = ()
) -> tuple[SheetReport, Face]:
    """Return what an opened sheet gives, and its face; `path` is where the witness looks at it."""
    skeleton = make_skeleton(opened.document, opened.tables)
    face = look_at(opened.document, opened.tables, skeleton)
    choice = choose_profiles(profiles, face)
    document, told = teach(opened.document, opened.tables, choice)
    document = replace(
        document, sections=skeleton.sections, running=skeleton.running, members=skeleton.members
    )
    opened = replace(opened, document=document, findings=(*opened.findings, *told))
    report = _read_taught(path, wish, opened, skeleton)
    return replace(report, profiles=tuple(profile.name for profile in choice.used)), face


def _read_taught(path: Path, wish: OpenWish, opened: Opened, skeleton: Skeleton) -> SheetReport:
    readings, remarks = take_readings(opened)
    readings = describe_proposals(readings)
    tables = tuple(table for table in opened.tables if not is_text(table))
    settings, findings = settle(opened.document, tables, readings, skeleton)
    settings = hold_scanned(opened.document, tables, settings)
    settings = hold_damaged(opened.document, settings)
    settings = witness_settings(path, opened.document, tables, readings, settings, wish)
    settings = join_languages(tuple(dict.fromkeys(settings)), skeleton.parts)
    settings = tuple(_check(setting) for setting in note_beside(tables, settings))
    findings = (*opened.findings, *remarks, *findings)
    if not settings and not any(finding.code in ("no_extractor", "extractors_clash") for finding in findings):
        findings = (*findings, _describe_nothing(opened))
    makers = {setting.device.maker for setting in settings if setting.device.maker}
    return SheetReport(
        file=opened.document.file,
        digest=opened.document.digest,
        state="read",
        title=skeleton.title,
        product=skeleton.product,
        maker=makers.pop() if len(makers) == 1 else skeleton.maker,
        document_number=skeleton.paper.number,
        edition=skeleton.paper.edition,
        edition_date=skeleton.paper.date,
        pages=opened.document.page_count,
        settings=settings,
        findings=tuple(dict.fromkeys(findings)),
    )


def take_readings(opened: Opened) -> tuple[tuple[Reading, ...], tuple[Finding, ...]]:
    """Return the readings of all chosen extractors; one that stops is a finding, and the others go on.

    A layout's own extractor that comes through answers alone.
    """
    extractors, remarks = choose_extractors(opened.document)
    findings = list(remarks)
    readings: list[Reading] = []
    for extractor in extractors:
        try:
            got = _ask(extractor, opened)
        except Exception as error:
            findings.append(describe_crash(extractor.name, error))
            continue
        readings += got
        if extractor.specific:
            break
    return tuple(readings), tuple(findings)


def _ask(extractor: Extractor, opened: Opened) -> list[Reading]:
    got = list(extractor.readings(opened.document, opened.tables))
    strange = next((one for one in got if not isinstance(one, Reading)), None)
    if strange is not None:
        raise TypeError(f"it gave a {type(strange).__name__} where a Reading belongs")
    return got


def _check(setting: Setting) -> Setting:
    """Hold a setting whose record does not fit the published schema."""
    faults = check_record(setting_to_dict(setting))
    return add_findings(setting, (replace(fault, place=setting.place) for fault in faults))


def _describe_nothing(opened: Opened) -> Finding:
    looked, all_pages = len(opened.document.pages), opened.document.page_count
    message = (
        f"no torque figure was found (pages: {all_pages}, looked at closely: {looked}): "
        "check that it is the right sheet, read it with every page, or list its headings with torquary profile"
    )
    return Finding(code="sheet_no_settings", scope="sheet", message=message)
