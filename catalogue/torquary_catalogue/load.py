"""From files to the catalogue: sheets are read before the catalogue is touched, and written one by one."""

from __future__ import annotations

import time
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from torquary_catalogue.layouts import Layouts, UsedProfile
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.faces import KeptFace, make_room_for_faces, read_faces
from torquary_catalogue.store.insert import SheetNotStored, load_report
from torquary_catalogue.store.pictures import make_room
from torquary_catalogue.store.settings import read_held
from torquary_catalogue.store.words import refresh_words
from torquary_ingest.refusal import take_digest, write_name
from torquary_schema.values import Finding, SheetReport

if TYPE_CHECKING:
    from torquary_ingest.profiles import Profile
    from torquary_ingest.reader import ReadSheet

_REST = 4
"""Sheets that are read are written together, so that writing takes at most a fifth of the time: it takes as long as
copying the catalogue, which is nothing for a small one and seconds for a large one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedSheet:
    """What became of one file. `released` and `held` count its settings as read; `replaced` other contents."""

    file: str
    digest: str
    outcome: Literal["loaded", "unchanged", "refused"]
    released: int = 0
    held: int = 0
    replaced: int = 0
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What became of a load. `held` are rows of held_setting of the sheets named, still undecided.

    `profiles` are the layout profiles that were used, and those that were named and were not.
    """

    sheets: tuple[LoadedSheet, ...]
    held: tuple[dict[str, Any], ...]
    profiles: tuple[UsedProfile, ...] = ()

    @property
    def refused(self) -> tuple[LoadedSheet, ...]:
        """The sheets that could not be read."""
        return tuple(sheet for sheet in self.sheets if sheet.outcome == "refused")


@dataclass(frozen=True, slots=True, kw_only=True)
class _How:
    """How a sheet is to be read: `again` puts the reading in the place of the one before."""

    every_page: bool
    unwitnessed: bool
    again: bool


def load_sheets(
    catalogue: Path,
    sheets: Sequence[Path],
    *,
    every_page: bool = False,
    password: str = "",
    unwitnessed: bool = False,
    again: bool = False,
    profiles: tuple[Profile, ...] = (),
    named: Collection[str] = (),
    step: Callable[[str], None] = lambda name: None,
) -> Summary:
    """Read the sheets and write each soon after it is read; `step` is told the name of each one done.

    Sheets whose content is in the catalogue are not read anew unless `again`, or unless other layout profiles
    are for them than when they were read; then they are read as they were. `named` are the names of profiles to
    account for even if they are used for no sheet. The catalogue is open only while sheets are written. Raises
    `TorquaryError` (status 3) if it cannot be used.
    """
    with open_catalogue(catalogue, writing=True) as opened:
        refresh_words(opened)
        make_room(opened)
        make_room_for_faces(opened)
        known = {row["digest"] for row in opened.rows("SELECT digest FROM sheet WHERE state <> 'refused'")}
        layouts = Layouts(profiles, read_faces(opened))
    wished = _How(every_page=every_page, unwitnessed=unwitnessed, again=again)
    done, unread = _sort(sheets, wished, known, layouts)
    for path in done:
        step(write_name(path))
    beside = {sheet.digest for sheet in done.values()}
    for batch in _gather(_read(unread, password, profiles)):
        with open_catalogue(catalogue, writing=True) as opened:
            for path, read in batch:
                kept = layouts.meet(read, every_page=unread[path].every_page, unwitnessed=unread[path].unwitnessed)
                done[path] = _write(opened, read, kept, again=unread[path].again, beside=beside)
                beside.add(read.report.digest)
        for path, _ in batch:
            step(write_name(path))
    with open_catalogue(catalogue) as opened:
        held = read_held(opened, tuple(beside))
    used = layouts.account(named)
    return Summary(sheets=tuple(done[path] for path in sheets), held=tuple(held), profiles=used)


def _sort(
    sheets: Sequence[Path], wished: _How, known: Collection[str], layouts: Layouts
) -> tuple[dict[Path, LoadedSheet], dict[Path, _How]]:
    """Return the sheets that are as they were, and how each of the others is to be read."""
    done: dict[Path, LoadedSheet] = {}
    unread: dict[Path, _How] = {}
    for path in sheets:
        digest = take_digest(path)
        if wished.again or digest not in known:
            unread[path] = wished
        elif layouts.changed(digest, write_name(path)):
            before = layouts.faces[digest]
            unread[path] = _How(every_page=before.every_page, unwitnessed=before.unwitnessed, again=True)
        else:
            done[path] = LoadedSheet(file=write_name(path), digest=digest, outcome="unchanged")
    return done, unread


def _read(
    unread: Mapping[Path, _How], password: str, profiles: tuple[Profile, ...]
) -> Iterator[tuple[Path, ReadSheet]]:
    """Yield each sheet as it is read; those that are read in one way go together."""
    from torquary_ingest.reader import read_pictured_sheets

    for how in dict.fromkeys(unread.values()):
        paths = [path for path, wished in unread.items() if wished == how]
        sheets = read_pictured_sheets(
            paths, every_page=how.every_page, password=password, unwitnessed=how.unwitnessed, profiles=profiles
        )
        yield from zip(paths, sheets, strict=True)


def _gather(sheets: Iterator[tuple[Path, ReadSheet]]) -> Iterator[list[tuple[Path, ReadSheet]]]:
    """Yield the sheets in batches that are large enough for the time that writing the last one took."""
    batch: list[tuple[Path, ReadSheet]] = []
    due = time.monotonic()
    for sheet in sheets:
        batch.append(sheet)
        start = time.monotonic()
        if start >= due:
            yield batch
            batch = []
            now = time.monotonic()
            due = now + _REST * (now - start)
    if batch:
        yield batch


def _write(
    catalogue: Catalogue, read: ReadSheet, face: KeptFace | None, *, again: bool, beside: set[str]
) -> LoadedSheet:
    report = read.report
    if not report.digest:
        # It could not be reached: there is no content to know it by.
        return LoadedSheet(file=report.file, digest="", outcome="refused", findings=report.findings)
    try:
        loaded = load_report(catalogue, report, again=again, beside=beside, pictures=read.pictures, face=face)
    except SheetNotStored as fault:
        report = _refuse(report, fault)
        loaded = load_report(catalogue, report)
    return LoadedSheet(
        file=report.file,
        digest=report.digest,
        outcome="refused" if report.state == "refused" else loaded.outcome,
        released=sum(setting.state == "released" for setting in report.settings),
        held=sum(setting.state == "held" for setting in report.settings),
        replaced=len(loaded.replaced),
        findings=report.findings,
    )


def _refuse(report: SheetReport, fault: SheetNotStored) -> SheetReport:
    """Return the report of a sheet that was read and that the catalogue does not take."""
    message = f"the catalogue does not take what was read ({fault}): read it by eye, and report it"
    finding = Finding(code="sheet_not_stored", scope="sheet", message=message)
    return SheetReport(file=report.file, digest=report.digest, state="refused", findings=(finding,))
