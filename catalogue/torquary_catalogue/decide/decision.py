"""Decisions about settings. What was printed is never changed; what is released is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from torquary_catalogue.decimals import shorten
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find.row import Figures
from torquary_catalogue.store import Catalogue

Verdict = Literal["accept", "correct", "reject"]
VERDICTS: tuple[Verdict, ...] = ("accept", "correct", "reject")

_FIND = """
SELECT s.sheet, s.id, s.state, s.read_min_nm, s.read_nominal_nm, s.read_max_nm, h.file
FROM setting AS s JOIN sheet AS h ON h.digest = s.sheet
WHERE h.state = 'read' AND s.state <> 'superseded' AND starts_with(s.id, $id)
ORDER BY s.id = $id DESC, h.file"""

_SHORTEST_ID = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Decided:
    """A decision as written: setting id, its sheet's file, state before and after, figures released (N·m)."""

    id: str
    file: str
    verdict: Verdict
    before: str
    after: str
    figures: Figures


def decide(
    catalogue: Catalogue, setting: str, verdict: Verdict, *, who: str, why: str, torque: str | None = None
) -> Decided:
    """Write a decision on the setting whose id begins so, and release or withdraw its figure.

    `torque` is the right figure as typed ("2.5 Nm", "20-25 lb-in"), for "correct" only.
    Raises `TorquaryError` (status 2) if the setting is not known or the decision cannot be carried out.
    """
    if not who.strip() or not why.strip():
        raise TorquaryError("a decision needs who decides and why: give --who and --why", status=WRONG_USE)
    if (verdict == "correct") != (torque is not None):
        raise TorquaryError("correct needs --torque, such as --torque '2.5 Nm'; the others do not", status=WRONG_USE)
    found = _find_one(catalogue, setting)
    figures = _choose_figures(found, verdict, torque)
    after = "rejected" if verdict == "reject" else "released"
    key = [found["sheet"], found["id"]]
    with catalogue.transaction():
        run = catalogue.connection.execute
        run(
            "INSERT INTO decision VALUES (?, ?, ?, (now() AT TIME ZONE 'UTC'), ?, ?, ?, ?, ?, ?, ?)",
            [*key, verdict, who.strip(), why.strip(), torque, *figures, found["state"]],
        )
        run(
            "UPDATE setting SET state = ?, min_nm = ?, nominal_nm = ?, max_nm = ? WHERE sheet = ? AND id = ?",
            [after, *figures, *key],
        )
    return Decided(
        id=found["id"], file=found["file"], verdict=verdict, before=found["state"], after=after, figures=figures
    )


def _find_one(catalogue: Catalogue, setting: str) -> dict[str, Any]:
    if len(setting) < _SHORTEST_ID:
        raise TorquaryError(f"{setting!r} is too short for an id: see torquary held", status=WRONG_USE)
    found = catalogue.rows(_FIND, {"id": setting})
    if not found:
        raise TorquaryError(f"no setting in force has the id {setting!r}: see torquary held", status=WRONG_USE)
    if len(found) > 1 and found[0]["id"] != setting:
        raise TorquaryError(f"{len(found)} ids begin with {setting!r}: write more of it", status=WRONG_USE)
    return found[0]


def _choose_figures(found: dict[str, Any], verdict: Verdict, torque: str | None) -> Figures:
    if verdict == "reject":
        return None, None, None
    if torque is not None:
        return read_typed_torque(torque)
    low, nominal, high = (shorten(found[name]) for name in ("read_min_nm", "read_nominal_nm", "read_max_nm"))
    if low is nominal is high is None:
        raise TorquaryError(
            f"{found['id']}: no figure could be read, so there is none to accept: "
            "correct it with --torque, or reject it",
            status=WRONG_USE,
        )
    return low, nominal, high


def read_typed_torque(text: str) -> Figures:
    """Read a typed torque with its unit; `TorquaryError` (status 2) unless it means exactly one thing."""
    from torquary_ingest.figures import read_torque

    reading = read_torque(text)
    if reading.doubts or len(reading.figures) != 1 or reading.figures[0].condition:
        why = reading.doubts[0].message if reading.doubts else "not one figure with its unit"
        raise TorquaryError(f"--torque {text!r} cannot be taken ({why}): write it like 2.5 Nm", status=WRONG_USE)
    torque = reading.figures[0].torque
    if reading.figures[0].conductor is not None:
        raise TorquaryError(f"--torque {text!r} holds a conductor size: write the torque alone", status=WRONG_USE)
    return torque.min_nm, torque.nominal_nm, torque.max_nm
