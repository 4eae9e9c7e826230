"""The record of the work: what was found and done at a terminal, and what can be wrong with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal, InvalidOperation
from typing import Literal, get_args

Found = Literal["loose", "as_set", "over_tight", "not_checked"]
FOUND: tuple[Found, ...] = get_args(Found)
IN_WORDS: dict[str, str] = {
    "loose": "loose",
    "as_set": "as set",
    "over_tight": "over-tight",
    "not_checked": "not checked",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What was found and done at one terminal. Texts are as typed; "" is what is not said.

    `visit` is the day on which the visit began, `worked_at` a day or a day and time
    ("2031-05-02T10:15"), `calibrated` the driver's last calibration, `set_nm` what it was set to
    (N·m). `sheet` and `setting` are those of the torque.
    """

    board: str
    visit: str
    terminal: str
    found: str
    done: bool
    who: str
    worked_at: str
    driver: str = ""
    calibrated: str = ""
    set_nm: str = ""
    sheet: str = ""
    setting: str = ""
    photo: str = ""
    remark: str = ""


def find_faults(entry: Entry, today: date) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with an entry: the field, and what."""
    for field in ("board", "terminal", "who"):
        if not getattr(entry, field).strip():
            yield field, "is empty"
    if entry.found not in FOUND:
        yield "found", f"{entry.found!r} is none of {', '.join(IN_WORDS.values())}"
    elif entry.found == "not_checked" and entry.done:
        yield "found", "is not checked, and yet it is done"
    for field, text in (
        ("visit", entry.visit),
        ("when", entry.worked_at),
        ("calibrated", entry.calibrated),
    ):
        if text or field != "calibrated":
            yield from ((field, wrong) for wrong in _find_day_fault(text, today))
    if entry.set_nm and _read_number(entry.set_nm) is None:
        yield "set_nm", f"{entry.set_nm!r} is no torque in N·m"


def _find_day_fault(text: str, today: date) -> Iterator[str]:
    try:
        day = datetime.fromisoformat(text).date()
    except ValueError:
        yield f"{text!r} is no day: write it like 2031-05-02"
        return
    if day > today:
        yield f"{text} lies in the future"


def _read_number(text: str) -> Decimal | None:
    try:
        value = Decimal(text)
    except InvalidOperation:
        return None
    return value if value.is_finite() and value > 0 else None
