"""From files to the catalogue: sheets are read before the catalogue is touched, and written one by one."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from torquary_catalogue.layouts import Layouts, UsedProfile
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.faces import KeptFace, read_faces
from torquary_catalogue.store.insert import Counts, load_report
from torquary_catalogue.store.namesakes import Standing, read_standing
from torquary_catalogue.store.settings import read_held, read_unread
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Finding

if TYPE_CHECKING:
    from torquary_ingest.profiles import Profile
    from torquary_ingest.reader import ReadSheet

PATIENCE = 10.0
"""Seconds to wait for another program that is writing to the catalogue."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedSheet:
    """What became of one file. `counts` are its settings as they are in force; `replaced` counts other contents."""

    file: str
    digest: str
    outcome: Literal["loaded", "unchanged", "refused"]
    counts: Counts = field(default_factory=Counts)
    replaced: int = 0
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What became of a load. `held` are rows of held_setting of the sheets named, still undecided.

    `unread` are the files that gave no setting although they may hold torques. `profiles` are the layout profiles
    that were used, and those that were named and were not.
    """

    sheets: tuple[LoadedSheet, ...]
    held: tuple[dict[str, Any], ...]
    unread: tuple[str, ...] = ()
    profiles: tuple[UsedProfile, ...] = ()

    @property
    def refused(self) -> tuple[LoadedSheet, ...]:
        """The sheets that could not be read."""
        return tuple(sheet for sheet in self.sheets if sheet.outcome == "refused")


@dataclass(frozen=True, slots=True, kw_only=True)
class _How:
    """How a sheet is to be read: `again` puts the reading in the place of the one before, `replace` the sheet."""

    every_page: bool
    unwitnessed: bool
    again: bool
    replace: bool


def load_sheets(
    catalogue: Path,
    sheets: Sequence[Path],
    *,
    every_page: bool = False,
    password: str = "",
    unwitnessed: bool = False,
    again: bool = False,
    replace: bool = False,
    profiles: tuple[Profile, ...] = (),
    named: Collection[str] = (),
    step: Callable[[str], None] = lambda name: None,
) -> Summary:
    """Read the sheets and write each as soon as it is read; `step` is told the name of each one done.

    Sheets whose content is in the catalogue are not read anew unless `again` or `replace` (which puts all others of
    the file's name out of force), or unless other layout profiles are for them than when they were read; then they
    are read as they were. `named` are the names of profiles to
    account for even if they are used for no sheet. The catalogue is open only while a sheet is written. Raises
    `TorquaryError` (status 3) if it cannot be used.
    """
    with open_catalogue(catalogue, writing=True, patience=PATIENCE) as opened:
        refresh_words(opened)
        known = read_standing(opened)
        layouts = Layouts(profiles, read_faces(opened))
    wished = _How(every_page=every_page, unwitnessed=unwitnessed, again=again or replace, replace=replace)
    done, unread = _sort(sheets, wished, known, layouts)
    for path in done:
        step(path.name)
    beside = {sheet.digest for sheet in done.values()}
    for path, read in _read(unread, password, profiles):
        kept = layouts.meet(read, every_page=unread[path].every_page, unwitnessed=unread[path].unwitnessed)
        done[path] = _write(catalogue, read, kept, unread[path], beside)
        beside.add(read.report.digest)
        step(path.name)
    with open_catalogue(catalogue, patience=PATIENCE) as opened:
        held = read_held(opened, tuple(beside))
        silent = read_unread(opened, tuple(beside))
    used = layouts.account(named)
    told = tuple(done[path] for path in sheets)
    return Summary(sheets=told, held=tuple(held), unread=tuple(silent), profiles=used)


def _sort(
    sheets: Sequence[Path], wished: _How, known: Mapping[str, Standing], layouts: Layouts
) -> tuple[dict[Path, LoadedSheet], dict[Path, _How]]:
    """Return the sheets that are as they were, and how each of the others is to be read."""
    done: dict[Path, LoadedSheet] = {}
    unread: dict[Path, _How] = {}
    for path in sheets:
        digest = _take_digest(path)
        standing = known.get(digest)
        if standing is not None and standing.finding is not None and not wished.replace:
            done[path] = LoadedSheet(file=path.name, digest=digest, outcome="unchanged", findings=(standing.finding,))
        elif wished.again or standing is None or not standing.in_force:
            unread[path] = wished
        elif layouts.changed(digest, path.name):
            as_before = {name: getattr(layouts.faces[digest], name) for name in ("every_page", "unwitnessed")}
            unread[path] = changed(wished, again=True, **as_before)
        else:
            done[path] = LoadedSheet(file=path.name, digest=digest, outcome="unchanged")
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


def _write(
    catalogue: Path, read: ReadSheet, face: KeptFace | None, wished: _How, beside: Collection[str]
) -> LoadedSheet:
    report = read.report
    with open_catalogue(catalogue, writing=True, patience=PATIENCE) as opened:
        loaded = load_report(
            opened,
            report,
            again=wished.again,
            replace=wished.replace,
            beside=beside,
            pictures=read.pictures,
            face=face,
        )
    return LoadedSheet(
        file=report.file,
        digest=report.digest,
        outcome="refused" if report.state == "refused" else loaded.outcome,
        counts=loaded.counts,
        replaced=len(loaded.replaced),
        findings=(*report.findings, *loaded.findings),
    )


def _take_digest(path: Path) -> str:
    """Return the SHA-256 of the file's bytes in hex, "" if it cannot be read (the reader will say so)."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""
