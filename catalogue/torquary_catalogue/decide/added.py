"""A row that the reader missed, or of a file that it could not read, added by a person with page and reason."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from torquary_catalogue.decide.decision import FIGURES, Decided, read_figures, tell_state
from torquary_catalogue.decide.given import read_typed_names, read_typed_torque
from torquary_catalogue.decide.sheet_decision import find_sheet, want_reason
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.decisions import keep_decision, take_back_to_read
from torquary_catalogue.store.disagreements import note_disagreements
from torquary_catalogue.store.follow import at_once
from torquary_catalogue.store.rows import SETTING_TYPES
from torquary_catalogue.store.rows_added import MISSED, NOT_READABLE, insert_rows, keep_row
from torquary_catalogue.store.standing import is_unread, put_standing

_EMPTY: dict[str, Any] = {
    **dict.fromkeys(SETTING_TYPES),
    "state": "released", "purpose": "electrical_terminal", "drive": [], "conductor_printed": "", "roles": [],
    "any_terminal": False, "material": [], "stranding": [], "evidence": [], "missing": [], "scope": [],
    "conditions": [],
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Missed:
    """A row as a person reads it on the sheet: page from 1, texts as printed, torque and conductor with their units."""

    sheet: str
    page: int
    device: str
    terminal: str
    torque: str
    conductor: str | None
    who: str
    why: str


def add_row(catalogue: Catalogue, row: Missed) -> Decided:
    """Add the row to the sheet's settings, released, as a decision; raises `TorquaryError` (status 2) if it cannot.

    A sheet that could not be read is in force with its rows, as long as any of them stands.
    """
    sheet = find_sheet(catalogue, row.sheet)
    want_reason(row.who, row.why, sheet["file"])
    unread = is_unread(catalogue, sheet["digest"])
    was = NOT_READABLE if unread else MISSED
    columns = _make_columns(catalogue, sheet, row, unread=unread)
    digest, setting = sheet["digest"], columns["id"]
    said = {
        "verdict": "add", "who": row.who.strip(), "why": row.why.strip(), "torque_given": row.torque,
        "state_before": was, **{name: columns[name] for name in FIGURES},
    }  # fmt: skip
    after = tell_state("released", columns, read_figures(columns))
    with at_once(catalogue):
        take_back_to_read(catalogue, digest)
        insert_rows(catalogue, [columns])
        before = f"page {row.page} of a file that could not be read" if unread else f"not read on page {row.page}"
        number = keep_decision(catalogue, digest, setting, said, before=before, after=after)
        keep_row(catalogue, number, columns)
        put_standing(catalogue, digest)
        note_disagreements(catalogue, [digest])
    (now,) = catalogue.rows("SELECT * FROM setting WHERE sheet = ? AND id = ?", [digest, setting])
    return Decided(
        id=setting, file=sheet["file"], verdict="add", before=was, after=now["state"], figures=read_figures(now)
    )


def _make_columns(catalogue: Catalogue, sheet: Mapping[str, Any], row: Missed, *, unread: bool) -> dict[str, Any]:
    """Return the columns of the row as one of the table setting."""
    from torquary_ingest.figures import read_torque

    figures = dict(zip(FIGURES, read_typed_torque(row.torque), strict=True))
    names = read_typed_names(row.device, row.terminal, row.conductor)
    named = (str(row.page), names["device_printed"], names["terminal_printed"], row.conductor or "", row.torque)
    setting = hashlib.sha256("\n".join((sheet["digest"], *named)).encode()).hexdigest()[:20]
    found = catalogue.rows(
        "SELECT pages, (SELECT count(*) FROM setting WHERE sheet = digest) AS rows,"
        " (SELECT count(*) FROM setting WHERE sheet = digest AND id = $id) AS there FROM sheet WHERE digest = $sheet",
        {"sheet": sheet["digest"], "id": setting},
    )[0]
    _check(sheet, row, found, unread=unread)
    return {
        **_EMPTY, **names, **figures, **{f"read_{name}": figure for name, figure in figures.items()},
        "sheet": sheet["digest"], "id": setting, "number": found["rows"] + 1, "page": row.page,
        "place_text": " | ".join(part for part in (row.terminal, row.conductor, row.torque) if part),
        "torque_printed": " ".join(row.torque.split()),
        "unit_printed": read_torque(row.torque).figures[0].torque.unit_printed,
    }  # fmt: skip


def _check(sheet: Mapping[str, Any], row: Missed, found: Mapping[str, Any], *, unread: bool) -> None:
    if sheet["state"] not in ("read", "refused"):
        message = f"{sheet['file']} is not in force: restore it first, or add the row to the sheet that is"
        raise TorquaryError(message, status=WRONG_USE)
    if row.page < 1 or (row.page > max(found["pages"], 1) and not unread):
        has = "cannot be read; its pages are" if unread else f"has {found['pages']} page(s),"
        message = f"--page {row.page}: {sheet['file']} {has} counted from 1"
        raise TorquaryError(message, status=WRONG_USE)
    if found["there"]:
        raise TorquaryError(f"{sheet['file']}: this row is added already", status=WRONG_USE)
