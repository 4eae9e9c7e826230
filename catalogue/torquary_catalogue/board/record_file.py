"""A record from a file: the one that the page saves (JSON), or a plan's table that was filled in
(CSV, workbook).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from torquary_catalogue.board.list_file import Headings, Line, read_rows
from torquary_catalogue.board.plan_table import COLUMNS
from torquary_catalogue.board.record import IN_WORDS, Entry, find_faults
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.written_forms import read_written
from torquary_schema.file_kinds import has_ending
from torquary_schema.forms import line_of
from torquary_schema.words import fold

MOST_NAMED = 10
"""Faults that are named at once."""
_FOUND = {fold(text): key for key, text in IN_WORDS.items()} | {
    "too tight": "over_tight",
    "": "not_checked",
}
_DONE = dict.fromkeys(("", "no", "0", "false"), False) | dict.fromkeys(
    ("yes", "x", "1", "true", "done"), True
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What holds for all entries of a file that do not say otherwise; "" for nothing."""

    who: str = ""
    visit: str = ""


def read_record(path: Path, given: Given, today: date) -> tuple[Entry, ...]:
    """Return the entries in a file.

    Raises `TorquaryError` (status 2) that names all that is wrong, by row and column or by line:
    nothing is taken then.
    """
    if has_ending(path.name, (".json",)):
        return _read_form(path, given, today)
    return _read_table(path, given, today)


def _read_form(path: Path, given: Given, today: date) -> tuple[Entry, ...]:
    record = read_written(path, "work_record")
    visit = given.visit or record["visit"]
    entries: list[Entry] = []
    wrong: list[str] = []
    for at, one in enumerate(record["entries"]):
        parts = {**one, "who": one.get("who") or record["who"] or given.who}
        entry = Entry(visit=visit, worked_at=parts.pop("at", "") or visit, **parts)
        faults = list(find_faults(entry, today))
        wrong += [
            f"line {line_of(path, ('entries', at))}: {field} {message}" for field, message in faults
        ]
        entries.append(entry)
    _refuse(path, wrong)
    return tuple(entries)


def _read_table(path: Path, given: Given, today: date) -> tuple[Entry, ...]:
    known = Headings(keys_of=_keys_of, needed=("board", "name", "found"))
    rows = read_rows(path, known)
    filled = [line for line in rows.lines if _is_filled(line)]
    days = [line.cells["when"][:10] for line in filled if line.cells.get("when")]
    visit = given.visit or min(days, default="")
    entries: list[Entry] = []
    wrong = [fault.text for fault in rows.faults]
    for line in filled:
        entry, faults = _read_line(line, given, visit, today)
        wrong += [
            f"row {line.at}, column {line.headings.get(field, field)}: {message}"
            for field, message in faults
        ]
        entries.append(entry)
    if not filled and not wrong:
        wrong.append("no row says what was found: fill in found, done, who and when")
    _refuse(path, wrong)
    return tuple(entries)


def _keys_of(headings: Sequence[str]) -> list[str | None]:
    keys = [fold(heading).replace(" ", "_") for heading in headings]
    return [key if key in COLUMNS else None for key in keys]


def _is_filled(line: Line) -> bool:
    return any(line.cells.get(key) for key in ("found", "done", "photo"))


def _read_line(
    line: Line, given: Given, visit: str, today: date
) -> tuple[Entry, list[tuple[str, str]]]:
    cells: Mapping[str, str] = {key: line.cells.get(key, "") for key in COLUMNS}
    found = fold(cells["found"])
    done = _DONE.get(fold(cells["done"]))
    entry = Entry(
        board=cells["board"],
        visit=visit,
        terminal=cells["name"],
        found=_FOUND.get(found, cells["found"]),
        done=bool(done),
        who=cells["who"] or given.who,
        worked_at=cells["when"] or visit,
        driver=cells["driver"],
        calibrated=cells["calibrated"],
        set_nm=cells["set_nm"],
        sheet=cells["sheet"],
        setting=cells["id"],
        photo=cells["photo"],
        remark=cells["remark"],
    )
    faults = list(find_faults(entry, today))
    if done is None:
        faults.append(("done", f"{cells['done']!r} is neither yes nor no"))
    return entry, faults


def _refuse(path: Path, wrong: list[str]) -> None:
    if wrong:
        more = f"; and {len(wrong) - MOST_NAMED} more" if len(wrong) > MOST_NAMED else ""
        raise TorquaryError(
            f"{path}: nothing is taken: {'; '.join(wrong[:MOST_NAMED])}{more}", status=WRONG_USE
        )
