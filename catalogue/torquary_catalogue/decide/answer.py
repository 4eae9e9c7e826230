"""One answer for many readings that lack the same: evidence given by a person, taken back as one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from torquary_catalogue.decide.reading import find_reading
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.questions import AS_READ_HERE, Row, lacks_alike, reached
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.answered_columns import REACH_WORDS
from torquary_catalogue.store.answers import (
    AS_READ,
    COLUMN_REACHES,
    REACHES,
    Answer,
    Given,
    Reach,
    keep_answer,
    maker_of,
    sheets_of_maker,
)
from torquary_catalogue.store.decisions import read_readings, settle, take_back_to_read
from torquary_catalogue.store.lacking import holds_back, property_of
from torquary_catalogue.store.settings import read_held
from torquary_schema.vocabulary import vocabulary

_SIZE_UNITS = ("mm2", "AWG", "kcmil")


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerWish:
    """What a person answers to the question about one reading (`setting`, its id or the beginning of it).

    `printed`, if given, is the torque that the person saw there: another is no longer the reading that was asked about.
    """

    setting: str
    given: Given
    who: str
    why: str
    reach: Reach = "list"
    printed: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StillHeld:
    """Readings (their ids) that an answer leaves held for the same reasons: code and message, as of the first."""

    ids: tuple[str, ...]
    reasons: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """An answer as carried out: how many readings it was given to, how many it released or rejected, and what is left.

    `held` are the ids of those that stay held, `still` says why they do.
    """

    number: int
    id: str
    sheet: str
    file: str
    reach: Reach
    readings: int
    released: int
    rejected: int
    held: tuple[str, ...]
    still: tuple[StillHeld, ...]


def answer(catalogue: Catalogue, wish: AnswerWish) -> Answered:
    """Give an answer to each reading that it reaches and that lacks it; within a transaction that is under way.

    Raises `TorquaryError` (status 2) if nothing lacks it, or what is given cannot be taken.
    """
    row, rows = _find_rows(catalogue, wish)
    sheet, maker = row["sheet"], row["maker_key"]
    if wish.reach == "maker" and not (maker and property_of(row["scope"])):
        message = f"{row['file']}: no maker or no name over the torque is known for --reach maker: choose another reach"
        raise TorquaryError(message, status=WRONG_USE)
    others = [one for one in sheets_of_maker(catalogue, maker) if one != sheet] if wish.reach == "maker" else []
    ids = [one["id"] for one in rows if one["sheet"] == sheet]
    take_back_to_read(catalogue, sheet)
    prints = tuple(one for one in read_readings(catalogue, sheet) if one.id in ids)
    kept = Answer(
        number=0, sheet=sheet, reach=wish.reach, property=property_of(row["scope"]), maker=maker, given=wish.given,
        who=wish.who.strip(), why=wish.why.strip(), decided_at=datetime.now(UTC), carried_from=None, prints=prints,
    )  # fmt: skip
    before = f"{len(rows)} reading(s) held for {REACH_WORDS[wish.reach]}"
    number = keep_answer(catalogue, kept, before, tell_given(wish.given))
    for one in (sheet, *others):
        settle(catalogue, one)
    return _tell(catalogue, wish, number, row, rows)


def _find_rows(catalogue: Catalogue, wish: AnswerWish) -> tuple[Row, list[Row]]:
    """Return the reading that was named, and all that the answer reaches and that lack what is given."""
    found = find_reading(catalogue, wish.setting)
    _check(wish, found)
    reach_all = sheets_of_maker(catalogue, maker_of(catalogue, found["sheet"])) if wish.reach == "maker" else ()
    held = read_held(catalogue, tuple({found["sheet"], *reach_all}))
    row = next((one for one in held if one["id"] == found["id"] and one["sheet"] == found["sheet"]), None)
    if row is None:
        message = f"{found['id']} is {found['state']}, and lacks nothing: see torquary held"
        raise TorquaryError(message, status=WRONG_USE)
    _check_headings(wish, row)
    fields, all_of = wish.given.fields, wish.given.refuses
    rows = [one for one in reached(held, row, wish.reach) if all_of or lacks_alike(one, row, fields)]
    if row not in rows:
        lacking = ", ".join(row["lacks"]) or "nothing that a person can give"
        message = f"{found['id']} lacks {lacking}, and that is not what is answered: see torquary held"
        raise TorquaryError(message, status=WRONG_USE)
    return row, rows


def _check(wish: AnswerWish, found: dict[str, Any]) -> None:
    """Refuse an answer that says nothing, or what cannot be taken."""
    given = wish.given
    if not wish.who.strip() or not wish.why.strip():
        message = f"{wish.setting}: an answer needs who gives it and why: give --who and --why"
        raise TorquaryError(message, status=WRONG_USE)
    if wish.printed is not None and wish.printed != (found["torque_printed"] or ""):
        message = f"{found['id']} was read anew since: it is {found['torque_printed']!r} now; look at it again"
        raise TorquaryError(message, status=WRONG_USE)
    faults = {
        f"--reach {wish.reach!r} is none of {', '.join(REACHES)}": wish.reach not in REACHES,
        "an answer gives something: --device, --terminal, --purpose, --tightening, --unit, --size-unit, --as-read, "
        "--no-torque": not given.fields,
        "--no-torque is an answer by itself: leave out what else is given": (
            given.no_torque and given != Given(no_torque=True)
        ),
        f"--no-torque is for one column: choose a reach of {', '.join(COLUMN_REACHES)}": (
            given.no_torque and wish.reach not in COLUMN_REACHES
        ),
        "--device and --device-from are two answers: leave one": bool(given.device and given.device_from),
        "--terminal and --terminal-from are two answers: leave one": bool(given.terminal and given.terminal_from),
        f"--unit {given.unit!r} is no unit of torque that is known: write N·m, lbf·in or the like": (
            bool(given.unit) and not _is_torque_unit(given.unit)
        ),
        f"--size-unit {given.size_unit!r} is none of {', '.join(_SIZE_UNITS)}": (
            given.size_unit not in ("", *_SIZE_UNITS)
        ),
        f"--purpose {given.purpose!r} is none of {', '.join(vocabulary('purpose'))}": (
            given.purpose not in ("", *vocabulary("purpose"))
        ),
    }
    for word in AS_READ_HERE.intersection(given.as_read):
        told = f"--as-read {word} is for what one sheet prints: choose another reach than maker"
        faults[told] = wish.reach == "maker"
    faults[f"--as-read is none of {', '.join(AS_READ)}"] = not set(given.as_read) <= set(AS_READ)
    fault = next((message for message, wrong in faults.items() if wrong), None)
    if fault is not None:
        raise TorquaryError(f"{wish.setting}: {fault}", status=WRONG_USE)


def _is_torque_unit(text: str) -> bool:
    from torquary_schema.units import find_units

    found = find_units(text)
    return len(found) == 1 and found[0].kind == "torque" and found[0].certain


def _check_headings(wish: AnswerWish, row: Row) -> None:
    """Refuse a heading under which the row prints nothing."""
    printed = {one["heading"] for one in row["beside"] or ()}
    for heading in (wish.given.device_from, wish.given.terminal_from):
        if heading and heading not in printed:
            told = ", ".join(f"“{one}”" for one in sorted(printed)) or "nothing"
            message = f"{row['id']}: its row prints nothing under “{heading}”, but under: {told}"
            raise TorquaryError(message, status=WRONG_USE)


def tell_given(given: Given) -> str:
    """Return in words what is given."""
    told = (
        (given.device, f"device “{given.device}”"),
        (given.device_from, f"device under “{given.device_from}”"),
        (given.terminal, f"terminal “{given.terminal}”"),
        (given.terminal_from, f"terminal under “{given.terminal_from}”"),
        (given.purpose, f"screw for: {given.purpose.replace('_', ' ')}"),
        (given.tightening, "a tightening torque"),
        (given.unit, f"unit {given.unit}"),
        (given.size_unit, f"conductor sizes in {given.size_unit}"),
        (given.as_read, f"right as read: {', '.join(given.as_read)}"),
        (given.rejects, "none of the figures to be used"),
        (given.no_torque, "none of the figures a torque"),
    )
    return ", ".join(text for said, text in told if said)


def _tell(catalogue: Catalogue, wish: AnswerWish, number: int, row: Row, rows: Sequence[Row]) -> Answered:
    states = _read_states(catalogue, rows)
    held = {named for named, state in states.items() if state == "held"}
    return Answered(
        number=number, id=row["id"], sheet=row["sheet"], file=row["file"], reach=wish.reach, readings=len(rows),
        released=sum(state == "released" for state in states.values()),
        rejected=sum(state == "rejected" for state in states.values()),
        held=tuple(id_ for (_, id_), state in states.items() if state == "held"),
        still=tuple(_tell_still(catalogue, held)) if held else (),
    )  # fmt: skip


def _tell_still(catalogue: Catalogue, held: set[tuple[str, str]]) -> Iterator[StillHeld]:
    """Yield why readings (sheet, id) are held now, those of the same codes together."""
    alike: dict[tuple[str, ...], list[tuple[str, tuple[tuple[str, str], ...]]]] = {}
    for row in read_held(catalogue, tuple({sheet for sheet, _ in held})):
        if (row["sheet"], row["id"]) in held:
            reasons = tuple((one["code"], one["message"]) for one in row["reasons"] if holds_back(one["code"]))
            alike.setdefault(tuple(code for code, _ in reasons), []).append((row["id"], reasons))
    for told in alike.values():
        yield StillHeld(ids=tuple(id_ for id_, _ in told), reasons=told[0][1])


def _read_states(catalogue: Catalogue, rows: Iterable[Row]) -> dict[tuple[str, str], str]:
    named = {(row["sheet"], row["id"]) for row in rows}
    sheets = list({sheet for sheet, _ in named})
    found = catalogue.rows("SELECT sheet, id, state FROM setting WHERE list_contains(?, sheet)", [sheets])
    return {(one["sheet"], one["id"]): one["state"] for one in found if (one["sheet"], one["id"]) in named}

