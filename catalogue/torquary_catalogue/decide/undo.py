"""Taking a decision back: a decision too, which can itself be taken back."""

from __future__ import annotations

from torquary_catalogue.decide.decision import read_figures, tell_state
from torquary_catalogue.decide.sheet_decision import SheetDecided, name_state, want_reason
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.answers import KIND, sheets_reached
from torquary_catalogue.store.follow import at_once, follow
from torquary_catalogue.store.record import Entry, Made, keep, read_made, tell_effect


def undo(catalogue: Catalogue, number: int, *, who: str, why: str) -> SheetDecided:
    """Take decision `number` back, and those that were carried over from it to later editions.

    What was in force before is in force again, unless a later decision says otherwise. Raises `TorquaryError`
    (status 2) if there is no such decision or it is taken back already.
    """
    want_reason(who, why, f"decision {number}")
    made = next(iter(read_made(catalogue, number=number)), None)
    if made is None:
        raise TorquaryError(f"there is no decision {number}: see torquary decisions", status=WRONG_USE)
    if not made.stands:
        message = f"decision {number} is taken back already: to have it again, undo decision {made.undone_by}"
        raise TorquaryError(message, status=WRONG_USE)
    before = _tell_now(catalogue, made)
    with at_once(catalogue):
        numbers = _take_back(catalogue, made, who, why, None)
        reached = (sheet for one in [made.number, *numbers] for sheet in sheets_reached(catalogue, one))
        sheets = list(dict.fromkeys([*_read_sheets(catalogue, numbers), *reached]))
        findings = [finding for sheet in sheets for finding in follow(catalogue, sheet, sheets).findings]
        after = _tell_now(catalogue, made)
        tell_effect(catalogue, numbers[0], before or made.after, after or made.before)
    return SheetDecided(
        numbers=tuple(numbers), digest=made.sheet, file=made.file,
        before=before or made.after, after=after or made.before, findings=tuple(dict.fromkeys(findings)),
    )  # fmt: skip


def _tell_now(catalogue: Catalogue, made: Made) -> str:
    """Return what is in force of the reading or sheet that a decision is about; "" for an answer or what a sheet is."""
    if made.setting is not None:
        rows = catalogue.rows("SELECT * FROM setting WHERE sheet = ? AND id = ?", [made.sheet, made.setting])
        return tell_state(rows[0]["state"], rows[0], read_figures(rows[0])) if rows else "no such row"
    (sheet,) = catalogue.rows("SELECT state FROM sheet WHERE digest = ?", [made.sheet])
    return "" if made.kind in ("identity", "beside", KIND) else name_state(sheet["state"])


def _take_back(catalogue: Catalogue, made: Made, who: str, why: str, carried_from: int | None) -> list[int]:
    """Take a decision back, and what was carried over from it, or was taken back with it; return the numbers."""
    entry = Entry(
        kind="undo", sheet=made.sheet, setting=made.setting, other=made.other, undoes=made.number,
        carried_from=carried_from, who=who, why=why, before=made.after, after=made.before,
    )  # fmt: skip
    numbers = [keep(catalogue, entry)]
    for one in read_made(catalogue, carried_from=made.number):
        if one.stands:
            numbers += _take_back(catalogue, one, who, why, numbers[0])
    return numbers


def _read_sheets(catalogue: Catalogue, numbers: list[int]) -> list[str]:
    made = [one for number in numbers for one in read_made(catalogue, number=number)]
    return list(dict.fromkeys(sheet for one in made for sheet in (one.sheet, one.other) if sheet is not None))
