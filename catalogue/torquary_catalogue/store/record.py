"""The record of decisions: each with its number, who, when, why, what before and after; undoing is one of them."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from torquary_catalogue.store.connection import Catalogue

PROGRAM = "torquary"
"""Who decides what the sheets themselves show."""

SHOWN_DIGITS = 10
"""Signs of a digest that are shown to name a sheet by: a million sheets hardly ever share so many."""

_KEEP = """
INSERT INTO decision_record BY NAME
SELECT (SELECT coalesce(max(number), 0) + 1 FROM decision_record)::INTEGER AS number,
    (now() AT TIME ZONE 'UTC') AS decided_at,
    $kind AS kind, $sheet AS sheet, $setting AS setting, $other AS other, $undoes AS undoes,
    $carried_from AS carried_from, $who AS who, $why AS why, $before AS before, $after AS after
RETURNING number"""

_READ = """
SELECT r.*, coalesce(h.file, r.sheet) AS file, coalesce(o.file, r.other) AS other_file
FROM decision_record AS r
LEFT JOIN sheet AS h ON h.digest = r.sheet LEFT JOIN sheet AS o ON o.digest = r.other"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A decision that is to be kept: what the columns of decision_record say."""

    kind: str
    sheet: str
    who: str
    why: str
    before: str
    after: str
    setting: str | None = None
    other: str | None = None
    undoes: int | None = None
    carried_from: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A decision on record, with the file names of its sheets."""

    number: int
    kind: str
    sheet: str
    setting: str | None
    other: str | None
    undoes: int | None
    carried_from: int | None
    decided_at: datetime
    who: str
    why: str
    before: str
    after: str
    undone_by: int | None
    file: str
    other_file: str | None

    @property
    def stands(self) -> bool:
        """Whether it has not been taken back."""
        return self.undone_by is None


def keep(catalogue: Catalogue, entry: Entry) -> int:
    """Keep a decision and return its number; an undo takes back the decision that it names, or puts it back."""
    found = catalogue.connection.execute(_KEEP, asdict(entry)).fetchone()
    assert found is not None
    if entry.undoes is not None:
        _mark(catalogue, entry.undoes, int(found[0]))
    return int(found[0])


def tell_effect(catalogue: Catalogue, number: int, before: str, after: str) -> None:
    """Say of a decision that is being made what was and is in force, which only shows when it has been carried out."""
    catalogue.connection.execute(
        "UPDATE decision_record SET before = ?, after = ? WHERE number = ?", [before, after, number]
    )


def _mark(catalogue: Catalogue, number: int, undone_by: int | None) -> None:
    """Mark a decision as taken back or not; where it was an undo itself, what it undid stands again, or not."""
    run = catalogue.connection.execute
    run("UPDATE decision_record SET undone_by = ? WHERE number = ?", [undone_by, number])
    (made,) = read_made(catalogue, number=number)
    if made.undoes is not None:
        _mark(catalogue, made.undoes, number if undone_by is None else None)


def read_made(catalogue: Catalogue, **wanted: Any) -> tuple[Made, ...]:
    """Return the decisions on record, in their order; `wanted` are values that their columns must have."""
    where = "".join(f"{' AND' if at else ' WHERE'} r.{name} = ${name}" for at, name in enumerate(wanted))
    return tuple(Made(**row) for row in catalogue.rows(f"{_READ}{where} ORDER BY r.number", wanted))
