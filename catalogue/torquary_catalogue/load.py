"""From files to the catalogue: sheets are read before the catalogue is touched, and written one by one."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.pictures import make_room
from torquary_catalogue.store.settings import read_held
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Finding, SheetReport

PATIENCE = 10.0
"""Seconds to wait for another program that is writing to the catalogue."""


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
    """What became of a load. `held` are rows of held_setting of the sheets named, still undecided."""

    sheets: tuple[LoadedSheet, ...]
    held: tuple[dict[str, Any], ...]

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
    step: Callable[[str], None] = lambda name: None,
) -> Summary:
    """Read the sheets and write each as soon as it is read; `step` is told the name of each one done.

    Sheets whose content is in the catalogue are not read anew unless `again`. The catalogue is open only
    while a sheet is written. Raises `TorquaryError` (status 3) if it cannot be used.
    """
    from torquary_ingest.reader import read_pictured_sheets

    with open_catalogue(catalogue, writing=True, patience=PATIENCE) as opened:
        refresh_words(opened)
        make_room(opened)
        known = {row["digest"]: row for row in opened.rows("SELECT digest, state FROM sheet WHERE state <> 'refused'")}
    done: dict[Path, LoadedSheet] = {}
    unread = []
    for path in sheets:
        digest = _take_digest(path)
        if digest in known and not again:
            done[path] = LoadedSheet(file=path.name, digest=digest, outcome="unchanged")
            step(path.name)
        else:
            unread.append(path)
    beside = {sheet.digest for sheet in done.values()}
    reports = read_pictured_sheets(unread, every_page=every_page, password=password, unwitnessed=unwitnessed)
    for path, (report, pictures) in zip(unread, reports, strict=True):
        done[path] = _write(catalogue, report, pictures, again=again, beside=beside)
        beside.add(report.digest)
        step(path.name)
    with open_catalogue(catalogue, patience=PATIENCE) as opened:
        held = read_held(opened, tuple(beside))
    return Summary(sheets=tuple(done[path] for path in sheets), held=tuple(held))


def _write(
    catalogue: Path, report: SheetReport, pictures: Mapping[str, bytes], *, again: bool, beside: set[str]
) -> LoadedSheet:
    with open_catalogue(catalogue, writing=True, patience=PATIENCE) as opened:
        loaded = load_report(opened, report, again=again, beside=beside, pictures=pictures)
    return LoadedSheet(
        file=report.file,
        digest=report.digest,
        outcome=loaded.outcome,
        released=sum(setting.state == "released" for setting in report.settings),
        held=sum(setting.state == "held" for setting in report.settings),
        replaced=len(loaded.replaced),
        findings=report.findings,
    )


def _take_digest(path: Path) -> str:
    """Return the SHA-256 of the file's bytes in hex, "" if it cannot be read (the reader will say so)."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""
