"""Reads datasheets: one in this process, or many, each in a worker process with limits.

Importing this module is cheap: the readers themselves are imported where a sheet is read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from torquary_ingest.errors import SheetRefused
from torquary_ingest.limits import MEMORY_BYTES, SECONDS, Limits, OutOfTime, stop_after
from torquary_ingest.plugins import OpenWish
from torquary_ingest.refusal import refuse_sheet
from torquary_ingest.worker import TO_OPEN, TO_READ, Answer, run_apart
from torquary_schema.values import Finding, SheetReport

if TYPE_CHECKING:
    from torquary_ingest.document import Table
    from torquary_ingest.face import Face
    from torquary_ingest.opening import Opened
    from torquary_ingest.profiles import Profile


_DRAWING = 0.3
"""Share of a sheet's time that the pictures of its rows may take at least; without them it is whole all the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadSheet:
    """A report with the pictures (PNG) of its printed rows by setting id, and the sheet's `face`.

    The face tells which layout profiles are for the sheet; None when it was refused.
    """

    report: SheetReport
    pictures: dict[str, bytes] = field(default_factory=dict)
    face: Face | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnTables:
    """What `read_tables` gives, of one page, with a picture of it (PNG); None where the page cannot be drawn.

    `page` is the number of that page, `pages` how many the file has; both 0 when it cannot be read at all.
    """

    findings: tuple[Finding, ...]
    tables: tuple[Table, ...] = ()
    page: int = 0
    pages: int = 0
    picture: bytes | None = None


def read_sheet(
    path: str | Path,
    *,
    every_page: bool = False,
    password: str = "",
    unwitnessed: bool = False,
    profiles: tuple[Profile, ...] = (),
) -> SheetReport:
    """Return what one sheet gives, read in this process and without limits.

    `every_page` reads all pages closely, not only those that can bear a figure;
    `unwitnessed` releases, with a remark, PDF figures that the picture of the page could not confirm; those that
    it contradicts are held all the same. `profiles` explain headings of their makers' sheets. A sheet that cannot
    be read at all is a report with state "refused" and a finding that says what, and what to do.
    """
    from torquary_ingest.one_sheet import read_one

    return read_one(Path(path), OpenWish(every_page=every_page, password=password, unwitnessed=unwitnessed), profiles)


def read_sheets(
    paths: Sequence[str | Path],
    *,
    every_page: bool = False,
    password: str = "",
    unwitnessed: bool = False,
    profiles: tuple[Profile, ...] = (),
    jobs: int | None = None,
    seconds: float = SECONDS,
    memory_bytes: int = MEMORY_BYTES,
) -> Iterator[SheetReport]:
    """Yield a report for each path, in path order, each sheet read in a process of its own.

    `jobs` sheets at once (default: the processors there are); a sheet that takes more than `seconds` of
    processor time or `memory_bytes` of memory, or that brings the reader down, is refused by name.
    """
    task = partial(read_sheet, every_page=every_page, password=password, unwitnessed=unwitnessed, profiles=profiles)
    limits = Limits(seconds=seconds, memory_bytes=memory_bytes)
    for path, answer in _read_apart(task, paths, jobs, limits):
        yield refuse_sheet(path, answer) if isinstance(answer, SheetRefused) else answer


def read_pictured_sheets(
    paths: Sequence[str | Path],
    *,
    every_page: bool = False,
    password: str = "",
    unwitnessed: bool = False,
    profiles: tuple[Profile, ...] = (),
    jobs: int | None = None,
    seconds: float = SECONDS,
    among: Sequence[Path] = (),
) -> Iterator[ReadSheet]:
    """Yield as `read_sheets` does, each report with its pictures and face.

    Settings of files without pages to look at (CSV, workbooks, web pages) have no picture. `among` are files that
    calls to come are for: the server of workers makes ready for them too.
    """
    task = partial(_read_pictured, every_page=every_page, password=password, unwitnessed=unwitnessed, profiles=profiles)
    for path, answer in _read_apart(task, paths, jobs, Limits(seconds=seconds), among):
        yield ReadSheet(report=refuse_sheet(path, answer)) if isinstance(answer, SheetRefused) else answer


def _read_apart(
    task: Callable[[Path], Answer],
    paths: Sequence[str | Path],
    jobs: int | None,
    limits: Limits,
    among: Sequence[Path] = (),
) -> Iterator[tuple[Path, Answer | SheetRefused]]:
    files = [Path(path) for path in paths]
    return zip(files, run_apart(task, files, limits=limits, jobs=jobs, among=among), strict=True)


def _read_pictured(
    path: Path, *, every_page: bool, password: str, unwitnessed: bool, profiles: tuple[Profile, ...]
) -> ReadSheet:
    """Run in the worker for `read_pictured_sheets`. A picture that cannot be drawn is no reason to lose the sheet."""
    from torquary_ingest.one_sheet import read_in_time

    wish = OpenWish(every_page=every_page, password=password, unwitnessed=unwitnessed)
    try:
        opened, report, face = read_in_time(path, wish, profiles)
    except SheetRefused as refused:
        return ReadSheet(report=refuse_sheet(path, refused))
    try:
        with stop_after(_DRAWING, at_least=True):
            return ReadSheet(report=report, pictures=_draw_rows(path, opened, report, password), face=face)
    except OutOfTime:
        return ReadSheet(report=report, face=face)


def _draw_rows(path: Path, opened: Opened, report: SheetReport, password: str) -> dict[str, bytes]:
    """Return the pictures of the printed rows by the id of their setting."""
    if not any(setting.place.box for setting in report.settings):
        return {}
    from torquary_ingest.openers.pdf.picture import draw_rows
    from torquary_ingest.scope.printed_at import PrintedAt

    places = [setting.place for setting in report.settings]
    printed = PrintedAt(opened.document, opened.tables)
    around = {one.place: printed.around(one) for one in report.settings if one.state == "held"}
    pictures = draw_rows(path, places, seen=opened.document.pages, password=password, around=around)
    return {s.id: pictures[s.place] for s in report.settings if s.place in pictures}


def read_tables(
    path: str | Path,
    *,
    every_page: bool = False,
    password: str = "",
    pictures: bool = False,
    seconds: float = SECONDS,
    cells_only: bool = False,
) -> tuple[tuple[Finding, ...], tuple[Table, ...]]:
    """Return what there is to say of a file and the tables on its pages, read in a process of its own.

    `pictures` looks for tables in pictures beside live text too, at some seconds each; pages that are nothing but
    a picture are read in any case. A file that cannot be read gives one finding and no tables. `cells_only`
    leaves out what only doubts about figures need, and starts the server of the workers without what reads figures;
    it is for programs that read no sheets afterwards.
    """
    wish = OpenWish(every_page=every_page, password=password, pictures=pictures, figures=not cells_only)
    task = partial(_find_all_tables, wish=wish)
    [answer] = run_apart(task, [Path(path)], limits=Limits(seconds=seconds), readers=TO_OPEN if cells_only else TO_READ)
    if isinstance(answer, SheetRefused):
        return (Finding(code=answer.code, scope="sheet", message=answer.message),), ()
    return answer


def draw_tables(
    path: str | Path, page: int | None = None, *, password: str = "", pictures: bool = False, seconds: float = SECONDS
) -> DrawnTables:
    """Return the tables of one page and the page's picture with their boxes drawn, in a process of its own.

    `page` counts from 1; None takes the first page with a table. `pictures` as for `read_tables`.
    """
    wish = OpenWish(every_page=True, password=password, pictures=pictures, figures=False)
    task = partial(_draw_tables, wish=wish, number=page)
    [answer] = run_apart(task, [Path(path)], limits=Limits(seconds=seconds), readers=TO_OPEN)
    if isinstance(answer, SheetRefused):
        return DrawnTables(findings=(Finding(code=answer.code, scope="sheet", message=answer.message),))
    return answer


def draft_profile(path: str | Path, *, every_page: bool = False, password: str = "") -> dict[str, Any]:
    """Return a layout profile of the sheet for a person to fill in, read in a process of its own.

    Raises `SheetRefused` when the sheet cannot be read at all.
    """
    task = partial(_draft_profile, every_page=every_page, password=password)
    [answer] = run_apart(task, [Path(path)])
    if isinstance(answer, SheetRefused):
        raise answer
    return answer


def _draft_profile(path: Path, *, every_page: bool, password: str) -> dict[str, Any]:
    """Run in the worker for `draft_profile`."""
    from torquary_ingest.opening import open_sheet
    from torquary_ingest.profiles import listing
    from torquary_ingest.profiles.face import look_at
    from torquary_ingest.skeleton import make_skeleton

    opened = open_sheet(path, OpenWish(every_page=every_page, password=password))
    headings = listing.list_headings(opened.document, opened.tables)
    skeleton = make_skeleton(opened.document, opened.tables)
    return listing.draft_profile(look_at(opened.document, opened.tables, skeleton), headings)


def _draw_tables(path: Path, *, wish: OpenWish, number: int | None) -> DrawnTables:
    """Run in the worker for `draw_tables`."""
    from torquary_ingest.opening import open_sheet

    opened = open_sheet(path, wish)
    chosen = number or next((table.page for table in opened.tables), 1)
    page = next((page for page in opened.document.pages if page.number == chosen), None)
    tables = tuple(table for table in opened.tables if table.page == chosen)
    picture = None
    if page is not None and (opened.document.kind == "pdf" or page.seen is not None):
        from torquary_ingest.openers.pdf.tables_drawn import draw_tables

        picture = draw_tables(path, page, tables, wish.password)
    return DrawnTables(
        findings=opened.findings,
        tables=_without_words(tables),
        page=chosen,
        pages=opened.document.page_count,
        picture=picture,
    )


def _find_all_tables(path: Path, *, wish: OpenWish) -> tuple[tuple[Finding, ...], tuple[Table, ...]]:
    """Run in the worker for `read_tables`; the words behind the cells stay there."""
    from torquary_ingest.opening import open_sheet

    opened = open_sheet(path, wish)
    return opened.findings, _without_words(opened.tables)


def _without_words(tables: Iterable[Table]) -> tuple[Table, ...]:
    return tuple(replace(table, cells=tuple(replace(cell, words=()) for cell in table.cells)) for table in tables)
