"""Decisions about sheets: what they are, whether they are in force, what takes the place of what."""

from __future__ import annotations

import datetime
import re
import shlex
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from dataclasses import replace as changed
from typing import Any

from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.follow import at_once, follow
from torquary_catalogue.store.identity import FIELDS, read_kin
from torquary_catalogue.store.record import SHOWN_DIGITS, Entry, Made, keep, read_made
from torquary_catalogue.store.standing import supersede, take_back
from torquary_schema.values import Finding

IN_FORCE = "read"
_WORDS = {IN_FORCE: "in force", "superseded": "superseded", "withdrawn": "withdrawn", "refused": "not readable"}
"""State of a sheet in the catalogue → as it is said."""
_CALLED = {
    "file": "name", "title": "title", "maker": "maker", "document_number": "number", "edition": "edition",
    "edition_date": "date",
}  # fmt: skip
_SHORTEST = 4
_DATE = re.compile(r"(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?")

_FIND = f"""
SELECT digest, state, {", ".join(FIELDS)} FROM sheet AS h
WHERE starts_with(digest, $sheet) OR file = $sheet
    OR EXISTS (FROM sheet_name AS n WHERE n.sheet = h.digest AND n.file = $sheet)
ORDER BY file, digest"""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDecided:
    """A decision about a sheet as carried out; `findings` are what follows from it for this and other sheets."""

    numbers: tuple[int, ...]
    digest: str
    file: str
    before: str
    after: str
    findings: tuple[Finding, ...] = ()


def find_sheet(catalogue: Catalogue, named: str) -> dict[str, Any]:
    """Return the one sheet of this file name, or whose id begins so.

    Raises `TorquaryError` (status 2) if there is none, or several.
    """
    found = catalogue.rows(_FIND, {"sheet": named}) if len(named) >= _SHORTEST else []
    if not found:
        raise TorquaryError(f"no sheet has the id or file name {named!r}: see torquary sheets", status=WRONG_USE)
    if len(found) > 1:
        ids = ", ".join(f"{one['digest'][:SHOWN_DIGITS]} ({name_state(one['state'])})" for one in found)
        raise TorquaryError(f"{len(found)} sheets are named {named!r}: write the id of one: {ids}", status=WRONG_USE)
    return found[0]


def name_state(state: str) -> str:
    """Return the state of a sheet as it is said: "in force"."""
    return _WORDS[state]


def want_readable(sheet: Mapping[str, Any]) -> None:
    """Raise `TorquaryError` (status 2) for a sheet that could not be read: none of it was ever in force."""
    if sheet["state"] == "refused":
        message = (
            f"{sheet['file']} could not be read (torquary sheet {sheet['digest'][:SHOWN_DIGITS]} says why), and "
            "nothing of it is in force: load it in another form, or its rows from a table (.csv) of your own, or enter "
            f"its rows by hand: torquary add {shlex.quote(sheet['file'])} --page …"
        )
        raise TorquaryError(message, status=WRONG_USE)


def want_reason(who: str, why: str, what: str) -> None:
    """Raise `TorquaryError` (status 2) unless it is said who decides and why."""
    if not who.strip() or not why.strip():
        raise TorquaryError(f"{what}: a decision needs who decides and why: give --who and --why", status=WRONG_USE)


def correct_sheet(catalogue: Catalogue, named: str, given: Mapping[str, str], *, who: str, why: str) -> SheetDecided:
    """Let a sheet be what a person says: `given` has values for some of `FIELDS`, "" for what it does not say."""
    found = find_sheet(catalogue, named)
    made = {name: " ".join(text.split()) for name, text in given.items()}
    _check_given(made)
    before, after = (_tell({name: row[name] or "" for name in made}) for row in (found, made))

    def carry_out() -> list[int]:
        entry = Entry(kind="identity", sheet=found["digest"], who=who, why=why, before=before, after=after)
        number = keep(catalogue, entry)
        columns = ", ".join(f"${name} AS {name}" for name in made)
        catalogue.connection.execute(
            f"INSERT INTO sheet_given BY NAME SELECT $number AS number, {columns}", {"number": number, **made}
        )
        return [number]

    return _decide(catalogue, found, carry_out, who, why)


def withdraw_sheet(catalogue: Catalogue, named: str, *, who: str, why: str) -> SheetDecided:
    """Take a sheet out of force until it is restored; nothing of it is deleted."""
    found = find_sheet(catalogue, named)
    want_readable(found)
    if found["state"] == "withdrawn":
        raise TorquaryError(f"{found['file']} is {name_state(found['state'])} already", status=WRONG_USE)
    entry = Entry(
        kind="withdraw", sheet=found["digest"], who=who, why=why,
        before=name_state(found["state"]), after=name_state("withdrawn"),
    )  # fmt: skip
    done = _decide(catalogue, found, lambda: [keep(catalogue, entry)], who, why)
    replaced = read_made(catalogue, other=found["digest"], kind="supersede")
    stays = tuple(_describe_stays(one) for one in replaced if one.stands)
    return changed(done, findings=(*done.findings, *stays))


def _describe_stays(made: Made) -> Finding:
    way = f"torquary sheet {made.sheet[:SHOWN_DIGITS]} restore --why …"
    message = f"{made.file}, which it replaced, stays out of force; to put it back: {way}"
    return Finding(code="sheet_out_of_force", message=message, scope="sheet")


def restore_sheet(catalogue: Catalogue, named: str, *, who: str, why: str) -> SheetDecided:
    """Put a sheet in force again that was withdrawn, or that another one had superseded."""
    found = find_sheet(catalogue, named)
    digest = found["digest"]
    want_readable(found)
    if found["state"] == "withdrawn":
        entry = Entry(
            kind="restore", sheet=digest, who=who, why=why,
            before=name_state("withdrawn"), after=name_state(IN_FORCE),
        )  # fmt: skip
        return _decide(catalogue, found, lambda: [keep(catalogue, entry)], who, why)
    standing = [one for one in read_made(catalogue, sheet=digest, kind="supersede") if one.stands]
    if found["state"] != "superseded" or not standing:
        raise TorquaryError(f"{found['file']} is {name_state(found['state'])}, not withdrawn", status=WRONG_USE)
    return _decide(
        catalogue, found, lambda: [take_back(catalogue, one, who=who, why=why) for one in standing], who, why
    )


def replace_sheet(catalogue: Catalogue, named: str, old: str, *, who: str, why: str) -> SheetDecided:
    """Put a sheet in the place of another one, `old`, which goes out of force."""
    new, found = (find_sheet(catalogue, one) for one in (named, old))
    _check_two(new, found)
    for one in (new, found):
        want_readable(one)
    between = _read_between(catalogue, new["digest"], found["digest"])
    if found["state"] != IN_FORCE:
        raise TorquaryError(f"{found['file']} is {name_state(found['state'])} already", status=WRONG_USE)
    if new["state"] != IN_FORCE and not any(one.sheet == new["digest"] for one in between):
        message = f"{new['file']} is {name_state(new['state'])}, and takes no other's place: restore it first"
        raise TorquaryError(message, status=WRONG_USE)

    def carry_out() -> list[int]:
        numbers = [take_back(catalogue, one, who=who, why=why) for one in between]
        (this, _), (other, _) = (read_kin(catalogue, one["digest"]) for one in (new, found))
        return [*numbers, supersede(catalogue, other, this, who=who, why=why)]

    return _decide(catalogue, new, carry_out, who, why, beside=found["digest"])


def keep_beside(catalogue: Catalogue, named: str, other: str, *, who: str, why: str) -> SheetDecided:
    """Keep two sheets in force beside each other, whatever they show: what put one of them out is taken back."""
    one, two = (find_sheet(catalogue, name) for name in (named, other))
    _check_two(one, two)
    between = _read_between(catalogue, one["digest"], two["digest"])
    entry = Entry(
        kind="beside", sheet=one["digest"], other=two["digest"], who=who, why=why,
        before=name_state(one["state"]), after=f"beside {two['file']}",
    )  # fmt: skip

    def carry_out() -> list[int]:
        return [*(take_back(catalogue, made, who=who, why=why) for made in between), keep(catalogue, entry)]

    return _decide(catalogue, one, carry_out, who, why, beside=two["digest"])


def _decide(
    catalogue: Catalogue,
    found: dict[str, Any],
    carry_out: Callable[[], list[int]],
    who: str,
    why: str,
    beside: str = "",
) -> SheetDecided:
    """Carry a decision out with all that follows from it, or nothing of it."""
    want_reason(who, why, found["file"])
    with at_once(catalogue):
        numbers = carry_out()
        others = follow(catalogue, beside, (found["digest"],)).findings if beside else ()
        findings = follow(catalogue, found["digest"], (beside,) if beside else ()).findings
    (made,) = read_made(catalogue, number=numbers[-1])
    return SheetDecided(
        numbers=tuple(numbers), digest=made.sheet, file=made.file, before=made.before, after=made.after,
        findings=tuple(dict.fromkeys((*findings, *others))),
    )  # fmt: skip


def _check_two(one: dict[str, Any], other: dict[str, Any]) -> None:
    if one["digest"] == other["digest"]:
        raise TorquaryError(f"{one['file']} is one sheet, and two are needed: name another", status=WRONG_USE)


def _read_between(catalogue: Catalogue, one: str, other: str) -> list[Made]:
    """Return what stands of two sheets superseding each other or staying beside each other."""
    made = (*read_made(catalogue, sheet=one, other=other), *read_made(catalogue, sheet=other, other=one))
    return [each for each in made if each.stands and each.kind in ("supersede", "beside")]


def _check_given(given: Mapping[str, str]) -> None:
    if not given.get("file", "x"):
        raise TorquaryError("--name is blank: write the name of the file", status=WRONG_USE)
    date = given.get("edition_date", "")
    if date and not _is_date(date):
        raise TorquaryError(f"--date {date!r} is no date: write it like 2024, 2024-05 or 2024-05-17", status=WRONG_USE)


def _is_date(text: str) -> bool:
    found = _DATE.fullmatch(text)
    if not found:
        return False
    try:
        datetime.date(int(found[1]), int(found[2] or 1), int(found[3] or 1))
    except ValueError:
        return False
    return True


def _tell(values: Mapping[str, str]) -> str:
    return ", ".join(f"{_CALLED[name]} {f'“{text}”' if text else 'not said'}" for name, text in values.items())
