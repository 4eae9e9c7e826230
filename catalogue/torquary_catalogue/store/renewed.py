"""What an earlier reader released from a sheet and the reader of today holds, or does not read any more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.decisions import read_readings
from torquary_catalogue.store.same_print import PrintRead, find_near, tell_differences
from torquary_schema.findings import codes, holds

NOT_READ = "not_read"
"""Stands for a code where the print is not read as a setting any more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Withdrawn:
    """How many settings were released before and are not now, for one reason: a finding code, or `NOT_READ`.

    A setting with several reasons is counted for each.
    """

    code: str
    meaning: str
    count: int


def read_before(catalogue: Catalogue, sheet: str, reader: int | None) -> tuple[PrintRead, ...]:
    """Return the settings that an earlier reader than `reader` released; empty if the sheet is of this one."""
    query = "SELECT 1 FROM sheet WHERE digest = $sheet AND state = 'read' AND coalesce(reader, 0) < $reader"
    if not catalogue.rows(query, {"sheet": sheet, "reader": reader or 0}):
        return ()
    states = _read_states(catalogue, sheet)
    return tuple(one for one in read_readings(catalogue, sheet) if states[one.id] == "released")


def tell_withdrawn(catalogue: Catalogue, sheet: str, before: Sequence[PrintRead]) -> tuple[Withdrawn, ...]:
    """Return why settings released before are not now, the commonest reason first."""
    if not before or not catalogue.rows("SELECT 1 FROM sheet WHERE digest = ? AND state = 'read'", [sheet]):
        return ()
    states, now = _read_states(catalogue, sheet), read_readings(catalogue, sheet)
    reasons = _read_reasons(catalogue, sheet)
    counted: Counter[str] = Counter()
    for one in before:
        held = [other for other in _find_now(one, now) if states[other.id] == "held"]
        if held or not _find_now(one, now):
            counted.update({code for other in held for code in reasons.get(other.id, ())} or {NOT_READ})
    return tuple(Withdrawn(code=code, meaning=_mean(code), count=count) for code, count in counted.most_common())


def _find_now(before: PrintRead, now: Sequence[PrintRead]) -> Sequence[PrintRead]:
    """Return the reading of today that is this one; where none is for sure, all that may be."""
    near = find_near(before, now)
    alike = [one for one in near if one.id == before.id]
    return alike or [one for one in near if set(tell_differences(before, one)) <= {"place", "doubts"}] or near


def _read_states(catalogue: Catalogue, sheet: str) -> dict[str, str]:
    rows = catalogue.rows("SELECT id, state FROM setting WHERE sheet = ?", [sheet])
    return {row["id"]: row["state"] for row in rows}


def _read_reasons(catalogue: Catalogue, sheet: str) -> Mapping[str, set[str]]:
    """Return the codes that hold each reading."""
    reasons: dict[str, set[str]] = {}
    for row in catalogue.rows("SELECT setting, code FROM finding WHERE sheet = ? AND setting IS NOT NULL", [sheet]):
        if holds(row["code"]):
            reasons.setdefault(row["setting"], set()).add(row["code"])
    return reasons


def _mean(code: str) -> str:
    return "It is not read as a setting any more." if code == NOT_READ else codes()[code].meaning
