"""Taking a decision back: a decision too, which can itself be taken back."""

from __future__ import annotations

from torquary_catalogue.decide.sheet_decision import SheetDecided, want_reason
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.follow import follow
from torquary_catalogue.store.record import Entry, Made, keep, read_made


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
    with catalogue.transaction():
        numbers = _take_back(catalogue, made, who, why, None)
        sheets = _read_sheets(catalogue, numbers)
        findings = [finding for sheet in sheets for finding in follow(catalogue, sheet, sheets).findings]
    return SheetDecided(
        numbers=tuple(numbers), digest=made.sheet, file=made.file, before=made.after, after=made.before,
        findings=tuple(dict.fromkeys(findings)),
    )  # fmt: skip


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
