"""From files to the catalogue: sheets are read before the catalogue is touched, and written batch by batch."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from torquary_catalogue.layouts import Layouts, UsedProfile
from torquary_catalogue.reading import How, gather, read_all
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.counts import Counts
from torquary_catalogue.store.faces import read_faces
from torquary_catalogue.store.follow import together
from torquary_catalogue.store.identity import Gone, Name, find_gone, name_of, note_names
from torquary_catalogue.store.insert import Loaded, SheetNotStored, load_report
from torquary_catalogue.store.insert_new import NewSheet, load_new
from torquary_catalogue.store.renewed import Withdrawn
from torquary_catalogue.store.settings import read_held, read_unread
from torquary_catalogue.store.sheet_words import note_words
from torquary_catalogue.store.standing import Standing, read_hurried, read_standing
from torquary_catalogue.store.words import refresh_words
from torquary_ingest.limits import SECONDS_AGAIN
from torquary_ingest.reader_version import READER_VERSION
from torquary_ingest.refusal import take_digest, write_name
from torquary_schema.values import Finding, SheetReport

if TYPE_CHECKING:
    from torquary_ingest.profiles import Profile
    from torquary_ingest.reader import ReadSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedSheet:
    """What became of one file. `counts` are its settings as they are in force; `replaced` counts other contents.

    `pages` is how many it has, 0 where it was not read.
    `withdrawn` is what an earlier reader released from it and this one does not.
    """

    file: str
    digest: str
    outcome: Literal["loaded", "unchanged", "refused"]
    pages: int = 0
    counts: Counts = field(default_factory=Counts)
    replaced: int = 0
    findings: tuple[Finding, ...] = ()
    withdrawn: tuple[Withdrawn, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What became of a load. `held` are rows of held_setting of the sheets named, still undecided.

    `unread` are the files that gave no setting although they may hold torques. `profiles` are the layout profiles
    that were used, and those that were named and were not. `gone` are the sheets in force that a folder held when it
    was loaded before.
    """

    sheets: tuple[LoadedSheet, ...]
    held: tuple[dict[str, Any], ...]
    unread: tuple[str, ...] = ()
    profiles: tuple[UsedProfile, ...] = ()
    gone: tuple[Gone, ...] = ()

    @property
    def refused(self) -> tuple[LoadedSheet, ...]:
        """The sheets that could not be read."""
        return tuple(sheet for sheet in self.sheets if sheet.outcome == "refused")


def load_sheets(
    catalogue: Path,
    sheets: Sequence[Path],
    *,
    every_page: bool = False,
    password: str = "",
    unwitnessed: bool = False,
    again: bool = False,
    replace: bool = False,
    who: str = "",
    profiles: tuple[Profile, ...] = (),
    named: Collection[str] = (),
    folders: Sequence[Path | str] = (),
    places: Mapping[Path, str] | None = None,
    cluster: str = "",
    step: Callable[[LoadedSheet], None] = lambda sheet: None,
) -> Summary:
    """Read the sheets and write each soon after it is read; `step` is told of each one done.

    Sheets whose content is in the catalogue are not read anew unless `again` or `replace` (which puts all others of
    the file's name out of force, by the word of `who`), or unless an earlier reader read them, or other layout
    profiles are for them than when they were read, or not all of their pages were; then they are read as they were,
    the last with more time. `named` are the names of profiles
    to account for even if they are used for no sheet; `folders` those that the sheets are all of, here or as addresses;
    `places` the address of the folder that a sheet was brought from. `cluster` is the
    address of a Dask scheduler whose workers are to read. The catalogue is open only while sheets are written. Raises
    `TorquaryError` (status 3) if it cannot be used, and (status 2) if the cluster cannot.
    """
    there = places or {}
    names = {path: name_of(there.get(path, path.parent), write_name(path), take_digest(path)) for path in sheets}
    with open_catalogue(catalogue, writing=True) as opened:
        refresh_words(opened)
        known, hurried = read_standing(opened), read_hurried(opened)
        layouts = Layouts(profiles, read_faces(opened))
    wished = How(every_page=every_page, unwitnessed=unwitnessed, again=again or replace, replace=replace, who=who)
    done, unread = _sort(names, wished, known, hurried, layouts)
    for sheet in done.values():
        step(sheet)
    for path, sheet in _write_all(catalogue, read_all(unread, password, profiles, cluster), unread, layouts, done):
        done[path] = sheet
        step(sheet)
    beside = tuple({sheet.digest for sheet in done.values()})
    with open_catalogue(catalogue, writing=True) as opened, opened.transaction():
        done |= _name(opened, names, done)
        gone = tuple(one for folder in folders for one in find_gone(opened, folder, beside))
    with open_catalogue(catalogue) as opened:
        held = read_held(opened, beside)
        silent = read_unread(opened, beside)
    used = layouts.account(named)
    told = tuple(done[path] for path in sheets)
    return Summary(sheets=told, held=tuple(held), unread=tuple(silent), profiles=used, gone=gone)


def _write_all(
    catalogue: Path,
    sheets: Iterator[tuple[Path, ReadSheet]],
    unread: Mapping[Path, How],
    layouts: Layouts,
    done: Mapping[Path, LoadedSheet],
) -> Iterator[tuple[Path, LoadedSheet]]:
    """Write sheets as they are read, batch by batch, and yield what became of each; `done` are those beside them."""
    beside = {sheet.digest for sheet in done.values()}
    for batch in gather(sheets):
        with open_catalogue(catalogue, writing=True) as opened, together(opened):
            written = _write(opened, batch, unread, layouts, beside)
        yield from written


def _sort(
    names: Mapping[Path, Name],
    wished: How,
    known: Mapping[str, Standing],
    hurried: Collection[str],
    layouts: Layouts,
) -> tuple[dict[Path, LoadedSheet], dict[Path, How]]:
    """Return the sheets that are as they were, and how each of the others is to be read: a content once."""
    done: dict[Path, LoadedSheet] = {}
    unread: dict[Path, How] = {}
    met: set[str] = set()
    for path, name in names.items():
        standing = known.get(name.sheet)
        unchanged = LoadedSheet(file=name.file, digest=name.sheet, outcome="unchanged")
        how = changed(wished, seconds=SECONDS_AGAIN) if name.sheet in hurried else wished
        if name.sheet and name.sheet in met:
            done[path] = unchanged
        elif standing is not None and standing.finding is not None and not wished.replace:
            done[path] = changed(unchanged, findings=(standing.finding,))
        elif wished.again or standing is None or not standing.in_force:
            unread[path] = how
        elif name.sheet in hurried or standing.reader < READER_VERSION or layouts.changed(name.sheet, name.file):
            unread[path] = changed(how, again=True, **layouts.way_of(name.sheet))
        else:
            done[path] = unchanged
        met.add(name.sheet)
    return done, unread


def _name(
    catalogue: Catalogue, names: Mapping[Path, Name], done: Mapping[Path, LoadedSheet]
) -> dict[Path, LoadedSheet]:
    """Keep the names that the sheets were loaded under; return those that are known under another one, saying so."""
    kept = {path: name for path, name in names.items() if name.sheet}
    new = note_names(catalogue, kept.values())
    told = {}
    for path, name in kept.items():
        others = [other for other in new.get(name, ()) if other != name.file]
        if others:
            message = f"the same content as {', '.join(others)}: it is one sheet with {len(others) + 1} names"
            finding = Finding(code="sheet_two_names", message=message, scope="sheet")
            told[path] = changed(done[path], findings=(*done[path].findings, finding))
            note_words(catalogue, name.sheet)
    return told


def _write(
    catalogue: Catalogue,
    batch: Sequence[tuple[Path, ReadSheet]],
    unread: Mapping[Path, How],
    layouts: Layouts,
    beside: set[str],
) -> list[tuple[Path, LoadedSheet]]:
    """Write sheets and return what became of each; `beside` are those of the load that are written, and will be."""
    ways = {read.report.digest: unread[path] for path, read in batch}
    # One that could not be reached has no content to know it by.
    sheets = [_make_new(read, unread[path], layouts) for path, read in batch if read.report.digest]
    refused: dict[str, SheetReport] = {}

    def alone(sheet: NewSheet) -> Loaded:
        loaded, report = _write_alone(catalogue, sheet, ways[sheet.report.digest], beside)
        if report is not sheet.report:
            refused[report.digest] = report
        beside.add(report.digest)
        return loaded

    replacing = any(how.replace for how in ways.values())
    done = [alone(one) for one in sheets] if replacing else load_new(catalogue, sheets, READER_VERSION, alone)
    beside.update(ways)
    told = iter(done)
    reports = [(path, refused.get(read.report.digest, read.report)) for path, read in batch]
    return [(path, _tell(report, next(told) if report.digest else None)) for path, report in reports]


def _make_new(read: ReadSheet, how: How, layouts: Layouts) -> NewSheet:
    face = layouts.meet(read, every_page=how.every_page, unwitnessed=how.unwitnessed)
    return NewSheet(report=read.report, pictures=read.pictures, face=face)


def _write_alone(
    catalogue: Catalogue, sheet: NewSheet, how: How, beside: Collection[str]
) -> tuple[Loaded, SheetReport]:
    """Write one sheet; return what became of it, and its report, which refuses it where it cannot be stored."""
    try:
        loaded = load_report(
            catalogue,
            sheet.report,
            again=how.again,
            replace=how.replace,
            who=how.who,
            beside=beside,
            pictures=sheet.pictures,
            face=sheet.face,
            reader=READER_VERSION,
        )
        return loaded, sheet.report
    except SheetNotStored as fault:
        report = _refuse(sheet.report, fault)
        return load_report(catalogue, report, reader=READER_VERSION), report


def _tell(report: SheetReport, loaded: Loaded | None) -> LoadedSheet:
    """Return what became of a sheet; None of one that could not be reached."""
    if loaded is None:
        return LoadedSheet(file=report.file, digest="", outcome="refused", findings=report.findings)
    return LoadedSheet(
        file=report.file,
        digest=report.digest,
        outcome="refused" if report.state == "refused" else loaded.outcome,
        pages=report.pages,
        counts=loaded.counts,
        replaced=len(loaded.replaced),
        findings=(*report.findings, *loaded.findings),
        withdrawn=loaded.withdrawn,
    )


def _refuse(report: SheetReport, fault: SheetNotStored) -> SheetReport:
    """Return the report of a sheet that was read and that the catalogue does not take."""
    message = f"the catalogue does not take what was read ({fault}): read it by eye, and report it"
    finding = Finding(code="sheet_not_stored", scope="sheet", message=message)
    return SheetReport(file=report.file, digest=report.digest, state="refused", findings=(finding,))
