"""The rows of a board list from its file, text or workbook, each under its columns' headings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from torquary_catalogue.board.columns import UNUSED, column_of, columns
from torquary_catalogue.board.list_profile import ListProfile, choose_profile
from torquary_catalogue.board.listed import ListFault
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.show.visible import put_on_one_line
from torquary_schema.file_kinds import DELIMITED, MAY_BE_DELIMITED, WORKBOOKS, has_ending

LARGEST_BYTES = 16 * 1024 * 1024
"""Bytes of a list at most: 10,000 terminals need about one megabyte."""
_DELIMITERS = ",;\t|"
_COMMENT = "#"
_UNKNOWN = (
    "heading is not known; its column was not used: explain it with --heading '{heading}=KEY'"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row of the file: its number, and the text under each column's key; `headings` are those
    printed.
    """

    at: int
    cells: Mapping[str, str]
    headings: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """The rows of a list, all headings that it prints, and what is wrong with them or the file."""

    lines: tuple[Line, ...]
    headings: tuple[str, ...]
    faults: tuple[ListFault, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Headings:
    """Which columns stand under the headings of a list: `keys_of` gives their keys, None for one that is not known.

    `needed` are keys that a list must have; `unknown` is said of a heading that is not known, ""
    for nothing.
    """

    keys_of: Callable[[Sequence[str]], Sequence[str | None]]
    needed: tuple[str, ...]
    unknown: str = ""


def of_a_list(explained: Mapping[str, str], profiles: Sequence[ListProfile]) -> Headings:
    """Return the headings of a board list; `explained` as for `column_of`, they go before what a profile says."""

    def keys_of(headings: Sequence[str]) -> list[str | None]:
        profile = choose_profile(profiles, headings)
        known = {**(profile.explained if profile else {}), **explained}
        return [column_of(heading, known) for heading in headings]

    needed = tuple(one.key for one in columns().values() if one.needed)
    return Headings(keys_of=keys_of, needed=needed, unknown=_UNKNOWN)


def read_rows(path: Path, known: Headings) -> Rows:
    """Return the rows of a list or record under the columns that its headings name.

    Raises `TorquaryError` (status 2) for a file that is no list at all: no file, no rows, no
    columns that are needed.
    """
    if not path.is_file():
        raise TorquaryError(f"{path}: there is no such file: check the name", status=WRONG_USE)
    if has_ending(path.name, MAY_BE_DELIMITED):
        grid, faults = _read_delimited(path)
    elif has_ending(path.name, WORKBOOKS):
        grid, faults = _read_workbook(path, known)
    else:
        kinds = ", ".join((*DELIMITED, *WORKBOOKS))
        raise TorquaryError(
            f"{path}: a board list is one of {kinds}: save it as one", status=WRONG_USE
        )
    return _put_under_headings(path, grid, faults, known)


def _put_under_headings(
    path: Path,
    grid: Sequence[tuple[int, tuple[str, ...]]],
    faults: list[ListFault],
    known: Headings,
) -> Rows:
    rows = [(at, cells) for at, cells in grid if any(cells) and not cells[0].startswith(_COMMENT)]
    if not rows:
        raise TorquaryError(
            f"{path}: the list is empty: torquary board new writes one to fill in", status=WRONG_USE
        )
    at, headings = rows[0]
    keys = _name_columns(at, headings, faults, known)
    _check_needed(path, at, headings, keys.values(), known)
    printed = {key: headings[column] for column, key in keys.items()}
    lines = []
    for number, cells in rows[1:]:
        if len(cells) > len(headings) and any(cells[len(headings) :]):
            faults.append(
                ListFault(row=number, column="", message="has more cells than there are headings")
            )
            continue
        texts = {key: cells[column] if column < len(cells) else "" for column, key in keys.items()}
        lines.append(Line(at=number, cells=texts, headings=printed))
    printed_headings = tuple(heading for heading in headings if heading)
    return Rows(lines=tuple(lines), headings=printed_headings, faults=tuple(faults))


def _check_needed(
    path: Path, at: int, headings: Sequence[str], keys: Iterable[str], known: Headings
) -> None:
    """Refuse a list that lacks a column which it must have."""
    found = set(keys)
    lacking = [key for key in known.needed if key not in found]
    if not lacking:
        return
    explain = ", or explain a heading with --heading 'HEADING=KEY'" if known.unknown else ""
    shown = " | ".join(filter(None, headings))
    raise TorquaryError(
        f"{path}: row {at} has no heading for {' and '.join(lacking)} ({shown}): name it so{explain}",
        status=WRONG_USE,
    )


def _name_columns(
    at: int, headings: Sequence[str], faults: list[ListFault], known: Headings
) -> dict[int, str]:
    """Return column (from 0) → key; a heading that is not known or stands twice is a fault."""
    keys: dict[int, str] = {}
    for column, (heading, found) in enumerate(zip(headings, known.keys_of(headings), strict=True)):
        key = found if heading else None
        if key == UNUSED:
            continue
        if key is None or key in keys.values():
            message = "the same column stands twice; the first was used" if key else known.unknown
            said = message.format(heading=heading) if heading else ""
            faults.extend([ListFault(row=at, column=heading, message=said)] if said else [])
            continue
        keys[column] = key
    return keys


def _read_delimited(path: Path) -> tuple[list[tuple[int, tuple[str, ...]]], list[ListFault]]:
    from torquary_ingest.errors import SheetRefused
    from torquary_ingest.openers.delimited.encoding import decode
    from torquary_ingest.openers.delimited.records import split_lines, split_records

    with path.open("rb") as file:
        raw = file.read(LARGEST_BYTES + 1)
    if len(raw) > LARGEST_BYTES:
        raise TorquaryError(
            f"{path}: is larger than a board list may be: part it", status=WRONG_USE
        )
    try:
        lines = split_lines(decode(raw).text.lstrip("\ufeff"))
    except SheetRefused as refused:
        raise TorquaryError(f"{path}: {refused.message}", status=WRONG_USE) from None
    lines = ["" if line.lstrip('"').startswith(_COMMENT) else line for line in lines]
    head = next((line for line in lines if line.strip()), "")
    delimiter = max(_DELIMITERS, key=head.count)
    width = head.count(delimiter) + 1
    grid: list[tuple[int, tuple[str, ...]]] = []
    faults: list[ListFault] = []
    for record in split_records(lines, delimiter, width):
        if record.doubts:
            message = "quotes do not pair up from here on, and rows were parted by lines: mend them"
            faults += [] if faults else [ListFault(row=record.line, column="", message=message)]
        grid.append((record.line, tuple(record.fields)))
    return grid, faults


def _read_workbook(
    path: Path, known: Headings
) -> tuple[list[tuple[int, tuple[str, ...]]], list[ListFault]]:
    """Return the rows of the first worksheet whose headings are those of a list, or else of the
    first.
    """
    from torquary_ingest.reader import read_tables

    findings, tables = read_tables(path, cells_only=True)
    faults = [ListFault(row=0, column="", message=finding.message) for finding in findings]
    grids: list[list[tuple[int, tuple[str, ...]]]] = []
    for table in tables:
        rows: dict[int, list[str]] = {}
        for cell in table.cells:
            row = rows.setdefault(cell.row, [])
            row += [""] * (cell.column - len(row))
            row[cell.column - 1] = put_on_one_line(
                cell.text + "".join(mark.text for mark in cell.marks)
            )
            faults += [
                ListFault(row=cell.row, column=f"{cell.column}", message=doubt.message)
                for doubt in cell.doubts
            ]
        doubted = {fault.row for fault in faults}
        grids.append([(at, tuple(rows[at])) for at in sorted(rows) if at not in doubted])
    fitting = (grid for grid in grids if _has_headings(grid, known))
    return next(fitting, grids[0] if grids else []), faults


def _has_headings(grid: Sequence[tuple[int, tuple[str, ...]]], known: Headings) -> bool:
    first: Iterator[tuple[str, ...]] = (cells for _, cells in grid if any(cells))
    return set(known.needed) <= set(known.keys_of(next(first, ())))
