"""What was given out and used a figure that does not stand any more."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any, Literal

from torquary_catalogue.changes import compare
from torquary_catalogue.decimals import shorten
from torquary_catalogue.find.row import Figures
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.given_out import read_given_figures, read_given_out
from torquary_catalogue.store.record import Made, read_made

Reason = Literal["", "withdrawn", "superseded", "rejected", "corrected", "held", "changed", "gone"]

_NAMES = ("min_nm", "nominal_nm", "max_nm", "limit_nm")
_STANDING: dict[str, Reason] = {"withdrawn": "withdrawn", "superseded": "superseded"}
_STATES: dict[str | None, Reason] = {None: "gone", "rejected": "rejected", "held": "held"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Recalled:
    """A figure that was given out. `reason` says why it does not stand any more, "" if it does.

    Its sheet was "withdrawn" or "superseded" (`now` is what the sheet in its place has), the reading "rejected" or
    "corrected" by a person, "held" since, read otherwise ("changed"), or not read any more ("gone"). `then` and `now`
    are figures in N·m, `told` who or what brought it about.
    """

    sheet: str
    setting: str
    file: str
    named: str
    page: int | None
    reason: Reason
    then: Figures
    now: Figures | None
    told: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenOut:
    """What was given out, with its figures."""

    number: int
    kind: str
    given_at: datetime
    who: str
    what_for: str
    question: str
    answer: str
    figures: tuple[Recalled, ...]

    @property
    def recalled(self) -> tuple[Recalled, ...]:
        """The figures that do not stand any more."""
        return tuple(one for one in self.figures if one.reason)


def recall(catalogue: Catalogue) -> tuple[GivenOut, ...]:
    """Return all that was given out, in its order, each figure with what became of it."""
    figures: dict[int, list[Recalled]] = {}
    later = _Later(catalogue)
    for row in read_given_figures(catalogue):
        figures.setdefault(row["number"], []).append(_tell(row, later))
    return tuple(
        GivenOut(**row, figures=tuple(figures.get(row["number"], ()))) for row in read_given_out(catalogue)
    )


class _Later:
    """What the sheets in the place of superseded ones have, and who put sheets out of force; looked up once each."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._changes: dict[tuple[str, str], dict[str, Figures | None]] = {}
        self._made = [one for one in read_made(catalogue) if one.stands]

    def figures(self, old: str, new: str, setting: str) -> Figures | None:
        """Return what the later sheet releases for a setting of the earlier one; None: nothing."""
        if (old, new) not in self._changes:
            rows = [row for row in compare(self._catalogue, old, new).rows if row.old is not None]
            self._changes[old, new] = {
                row.old.id: _as_figures(row.new.figures) if row.new and row.new.state == "released" else None
                for row in rows
                if row.old is not None
            }
        return self._changes[old, new].get(setting)

    def put_out(self, sheet: str, kind: str) -> Made | None:
        """Return the decision that put a sheet out of force."""
        return next((one for one in reversed(self._made) if (one.sheet, one.kind) == (sheet, kind)), None)


def _tell(row: Mapping[str, Any], later: _Later) -> Recalled:
    then, now = (_as_figures(tuple(row[f"{name}{which}"] for name in _NAMES)) for which in ("", "_now"))
    reason, told = _reason(row, then, now, later)
    if reason == "superseded":
        now = later.figures(row["sheet"], row["superseded_by"], row["setting"]) or (None,) * 4
    named = (row["device_printed"], row["terminal_printed"], row["conductor_printed"])
    return Recalled(
        sheet=row["sheet"], setting=row["setting"], file=row["file"] or "", page=row["page"],
        named=" | ".join(part for part in named if part), reason=reason, told=told, then=then,
        now=now if any(figure is not None for figure in now) else None,
    )  # fmt: skip


def _reason(row: Mapping[str, Any], then: Figures, now: Figures, later: _Later) -> tuple[Reason, str]:
    """Return why a figure does not stand any more, and by whom or what."""
    out = _STANDING.get(row["sheet_state"])
    if out is not None:
        made = later.put_out(row["sheet"], {"withdrawn": "withdraw", "superseded": "supersede"}[out])
        by = f"by {row['superseded_by_file']}" if out == "superseded" else ""
        who = f"{made.who} on {made.decided_at:%Y-%m-%d}: {made.why}" if made else ""
        return out, ", ".join(part for part in (by, who) if part)
    decided = f"{row['decided_by']} on {row['decided_at']:%Y-%m-%d}: {row['decided_why']}" if row["verdict"] else ""
    state = _STATES.get(row["state_now"])
    if state is not None:
        return state, decided if state == "rejected" else ""
    if row["read_otherwise"]:
        return "changed", decided
    return ("", "") if then == now else ("corrected", decided) if row["verdict"] else ("changed", "")


def _as_figures(figures: tuple[Decimal | None, ...]) -> Figures:
    low, nominal, high, limit = (shorten(figure) for figure in figures)
    return low, nominal, high, limit
