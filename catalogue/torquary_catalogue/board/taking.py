"""Entries of a record taken into the catalogue: what is there already is passed over, a correction
is added.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from decimal import Decimal
from typing import Any

from torquary_catalogue.board.record import Entry
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.given_out import GivenOut
from torquary_catalogue.store.work_entries import COLUMNS, keep_work, read_last


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What became of entries: how many were `added`, how many of those `corrected` one of the same
    visit, how many were there `already`; `without_figure` counts those that name no torque of the
    catalogue, which cannot be recalled.
    """

    added: int
    corrected: int
    already: int
    without_figure: int


def take(catalogue: Catalogue, entries: Sequence[Entry]) -> Taken:
    """Take entries into the catalogue, open for writing: all, or none where an error ends it."""
    keys = {_key(entry) for entry in entries}
    before = read_last(catalogue, keys)
    added: list[dict[str, Any]] = []
    corrected = 0
    for entry in entries:
        row = _row(entry)
        last = before.get(_key(entry))
        if last is not None and all(last[name] == row[name] for name in COLUMNS):
            continue
        corrected += last is not None
        before[_key(entry)] = row
        added.append(row)
    for board, visit in dict.fromkeys((row["board"], row["visit"]) for row in added):
        rows = [row for row in added if (row["board"], row["visit"]) == (board, visit)]
        given = GivenOut(
            kind="work",
            who=rows[0]["who"],
            what_for=f"{board}, visit of {visit}",
            question="",
            answer=f"{len(rows)} terminal(s)",
        )
        keep_work(catalogue, rows, given)
    return Taken(
        added=len(added),
        corrected=corrected,
        already=len(entries) - len(added),
        without_figure=sum(not row["setting"] for row in added),
    )


def _key(entry: Entry) -> tuple[str, str, str]:
    return entry.board, entry.visit, entry.terminal


def _row(entry: Entry) -> dict[str, Any]:
    return asdict(entry) | {"set_nm": Decimal(entry.set_nm) if entry.set_nm else None}
