"""Puts answers for many readings in force: names and proofs as given, and released what then lacks nothing.

What a person gives settles what no print proves, and nothing else. Every other doubt goes on to hold, and the checks
of the sheet are made once more with what was given.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from torquary_catalogue.store.answered_columns import NO_TORQUE, give, say_given
from torquary_catalogue.store.answers import Answer, read_answers
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.findings import add_findings, as_json
from torquary_catalogue.store.lacking import lacks, lacks_nothing_else, property_of
from torquary_catalogue.store.names_given import keep_read
from torquary_catalogue.store.rows import SETTING_TYPES, read_finding, read_setting
from torquary_catalogue.store.same_print import PrintRead, find_near, find_same
from torquary_schema.findings import codes, holds
from torquary_schema.values import Finding, Setting

GIVEN = "evidence_given"
AGAINST = "answer_contradicted"
OUTLIVED = "answer_outlived"
CONTRADICTED = "contradicted"
_SIDES = ("min", "nominal", "max", "limit")
ANSWER_CODES = (GIVEN, AGAINST, OUTLIVED)
"""Findings that follow from answers."""

_WRITTEN = (
    "state", "purpose", "device_printed", "family", "terminal_printed", "roles", "any_terminal", "conductor_printed",
    "system", "min_mm2", "max_mm2", "min_awg", "max_awg", "material", "stranding", "ferrule", "conductor_count",
    "unit_printed", "min_nm", "nominal_nm", "max_nm", "limit_nm", "evidence", "missing",
)  # fmt: skip
"""Columns of a setting that an answer may change."""
_WRITE = f"""
UPDATE setting SET {", ".join(f"{name} = a.r.{name}" for name in _WRITTEN)},
    min_gauge = gauge_rank(a.r.min_awg), max_gauge = gauge_rank(a.r.max_awg)
FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r) AS a WHERE setting.sheet = $sheet AND setting.id = a.r.id"""

_HOLD_ONE = """
UPDATE setting SET state = 'held', min_nm = NULL, nominal_nm = NULL, max_nm = NULL, limit_nm = NULL
WHERE sheet = ? AND id = ? AND state = 'released' RETURNING id"""


@dataclass(slots=True, kw_only=True)
class _Reading:
    """A setting of the sheet as it is read, and as the answers make it."""

    row: dict[str, Any]
    findings: tuple[Finding, ...]
    told: list[Finding] = field(default_factory=list)
    settled: set[str] = field(default_factory=set)
    now: dict[str, Any] = field(default_factory=dict)
    no_torque: Answer | None = None

    @property
    def reasons(self) -> list[str]:
        """The codes that hold it, and others; not a contradiction where all that speaks against it is no torque."""
        left = (finding.code for finding in self.findings)
        return [code for code in left if code != CONTRADICTED or NO_TORQUE not in self.settled]

    @property
    def against(self) -> set[str]:
        """What is said to speak against it."""
        return {finding.message for finding in self.findings if finding.code == CONTRADICTED}


def apply_answers(
    catalogue: Catalogue, sheet: str, prints: Sequence[PrintRead], decided: Collection[str]
) -> tuple[Finding, ...]:
    """Put the answers that stand in force, for the readings of a sheet as they are read (`prints`).

    Of those that people `decided` one by one only what no print proves is taken from an answer; their state is that
    decision's. Return what is said of answers whose readings are read otherwise now.
    """
    answers = read_answers(catalogue, sheet)
    if not answers:
        return ()
    readings = _read(catalogue, sheet)
    file = catalogue.rows("SELECT file FROM sheet WHERE digest = ?", [sheet])[0]["file"]
    for answer in answers:
        for id_ in _reached(answer, prints, readings):
            _give(readings[id_], answer, own=id_ in decided)
    _settle_contradictions(catalogue, sheet, readings)
    changed = {id_: one for id_, one in readings.items() if one.now}
    for id_, one in changed.items():
        _release(one, file, decided=id_ in decided)
    _hold_against(catalogue, sheet, readings, decided)
    keep_read(catalogue, sheet, changed)
    _write(catalogue, sheet, readings)
    return _tell_outlived(catalogue, sheet, answers, prints)


def _read(catalogue: Catalogue, sheet: str) -> dict[str, _Reading]:
    findings: dict[str, list[Finding]] = {}
    query = "SELECT * FROM finding WHERE sheet = ? AND setting IS NOT NULL ORDER BY number"
    for row in catalogue.rows(query, [sheet]):
        findings.setdefault(row["setting"], []).append(read_finding(row))
    rows = catalogue.rows("SELECT * FROM setting WHERE sheet = ? ORDER BY number", [sheet])
    return {row["id"]: _Reading(row=row, findings=tuple(findings.get(row["id"], ()))) for row in rows}


def _reached(answer: Answer, prints: Sequence[PrintRead], readings: Mapping[str, _Reading]) -> list[str]:
    """Return the ids of the readings that an answer is for: the prints it was given for, or its maker's property."""
    if answer.reach != "maker":
        found = (find_same(one, prints) for one in answer.prints)
        return [one.id for one in found if one is not None]
    return [
        id_
        for id_, one in readings.items()
        if property_of(one.row["scope"]) == answer.property
        and lacks(one.reasons, one.row["missing"]) & answer.given.fields
    ]


def _give(reading: _Reading, answer: Answer, *, own: bool) -> None:
    """Give a reading what an answer says; of one that a person decided by itself (`own`) only what is missing."""
    row = reading.now or dict(reading.row)
    wanted = {one["field"] for one in reading.row["missing"]} if own else answer.given.fields
    settled = give(row, answer.given, wanted)
    if answer.given.no_torque and not own:
        reading.no_torque = answer
    if settled:
        reading.now = row
        reading.settled |= settled
        given = " ".join(sorted(settled))
        reading.told.append(Finding(code=GIVEN, message=say_given(answer, settled, row), printed=given))


def _release(reading: _Reading, file: str, *, decided: bool) -> None:
    """Release a reading that lacks nothing more, unless people decided about it or anything else holds it."""
    row = reading.now
    left = lacks(reading.reasons, reading.row["missing"]) - reading.settled
    if row["state"] != "held" or decided:
        return
    if row.pop("rejects", False):
        row["state"] = "rejected"
        return
    given = _read_figures(row)
    if left or not lacks_nothing_else(reading.reasons, file) or all(one is None for one in given.values()):
        return
    row |= {"state": "released", **given}


def _settle_contradictions(catalogue: Catalogue, sheet: str, readings: Mapping[str, _Reading]) -> None:
    """Settle of each reading that it is contradicted, where it would not be without what is no torque by an answer."""
    answers = [one.no_torque for one in readings.values() if one.no_torque is not None]
    if not answers:
        return
    own = _read_own(catalogue, sheet)
    left = {id_: one for id_, one in readings.items() if one.no_torque is None}
    before, after = (_find_contradicted(each, own) for each in (readings, left))
    for id_, one in left.items():
        if not one.against or not one.against <= before[id_]:
            continue
        if after[id_]:
            news = sorted(after[id_] - one.against)
            one.told += [Finding(code=AGAINST, message=f"with what was given, {message}") for message in news]
        else:
            one.now = one.now or dict(one.row)
            one.settled.add(NO_TORQUE)
            message = say_given(answers[-1], {NO_TORQUE}, one.row)
            one.told.append(Finding(code=GIVEN, message=message, printed=NO_TORQUE))


def _find_contradicted(readings: Mapping[str, _Reading], own: Sequence[Finding]) -> dict[str, set[str]]:
    """Return what speaks against each reading (messages by id) among these, had nothing done so before."""
    from torquary_ingest.checks.again import check_again

    found: dict[str, set[str]] = {id_: set() for id_ in readings}
    ids = list(readings)
    for position, finding in check_again([_as_uncontradicted(one) for one in readings.values()], own):
        if finding.code == CONTRADICTED:
            found[ids[position]].add(finding.message)
    return found


def _as_uncontradicted(reading: _Reading) -> Setting:
    """Return the record of a reading that is contradicted as if it were released, whatever else holds it.

    Two of which each is held for something else speak against each other too, when that is settled one day.
    """
    others = tuple(one for one in reading.findings if one.code != CONTRADICTED)
    released = {"state": "released", **_read_figures(reading.row)} if reading.against else {}
    return read_setting({**reading.row, **released}, others)


def _read_figures(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return the figures that are released of a reading, by column: those of the unit that was given, if any was."""
    return {f"{name}_nm": row.get(f"given_{name}_nm", row[f"read_{name}_nm"]) for name in _SIDES}


def _read_own(catalogue: Catalogue, sheet: str) -> list[Finding]:
    query = "SELECT * FROM finding WHERE sheet = ? AND setting IS NULL ORDER BY number"
    return [read_finding(row) for row in catalogue.rows(query, [sheet])]


def _hold_against(
    catalogue: Catalogue, sheet: str, readings: Mapping[str, _Reading], decided: Collection[str]
) -> None:
    """Hold what another torque of the sheet speaks against since names were given; not what people decided."""
    if not any(one.now.get("state") == "released" for one in readings.values()):
        return
    own = _read_own(catalogue, sheet)
    torques = {id_: one for id_, one in readings.items() if one.no_torque is None}
    before, after = ([_as_setting(one, given=given) for one in torques.values()] for given in (False, True))
    ids = list(torques)
    for position, finding in _find_new(before, after, own):
        reading = readings[ids[position]]
        known = NO_TORQUE not in reading.settled and finding.message in (one.message for one in reading.findings)
        if ids[position] in decided or known:
            continue
        reading.now = reading.now or dict(reading.row)
        if holds(AGAINST):
            reading.now |= {"state": "held", **dict.fromkeys(f"{name}_nm" for name in _SIDES)}
        reading.told.append(Finding(code=AGAINST, message=f"with what was given, {finding.message}"))


def _find_new(
    before: Sequence[Setting], after: Sequence[Setting], own: Sequence[Finding]
) -> list[tuple[int, Finding]]:
    from torquary_ingest.checks.again import check_again

    known = set(check_again(before, own))
    return [one for one in dict.fromkeys(check_again(after, own)) if one not in known]


def _as_setting(reading: _Reading, *, given: bool) -> Setting:
    """Return the record of a reading; what was given has settled its findings."""
    row = (reading.now if given else {}) or reading.row
    settled = given and row["state"] == "released"
    return read_setting(row, tuple(one for one in reading.findings if not settled or not _is_holding(one)))


def _is_holding(finding: Finding) -> bool:
    return finding.code not in codes() or holds(finding.code)


def _write(catalogue: Catalogue, sheet: str, readings: Mapping[str, _Reading]) -> None:
    names = ("id", *_WRITTEN)
    rows = [{name: one.now[name] for name in names} for one in readings.values() if one.now]
    if rows:
        types = {name: SETTING_TYPES[name] for name in names}
        catalogue.connection.execute(_WRITE, {**as_json(rows, types), "sheet": sheet})
    for id_, one in readings.items():
        add_findings(catalogue, sheet, id_, tuple(dict.fromkeys(one.told)))


def _tell_outlived(
    catalogue: Catalogue, sheet: str, answers: Iterable[Answer], prints: Sequence[PrintRead]
) -> tuple[Finding, ...]:
    """Say of each answer how many of its readings are read otherwise now, or not at all: it counts for them no more."""
    told = []
    for answer in answers:
        bound = [] if answer.reach == "maker" else [(one, find_same(one, prints)) for one in answer.prints]
        gone = [one for one, now in bound if now is None]
        held = {now.id for _, now in bound if now is not None}
        near = {one.id: one for each in gone for one in find_near(each, prints) if one.id not in held}
        for one in near.values():
            _question(catalogue, sheet, answer, one)
        if gone:
            message = (
                f"{answer.who} gave an answer on {answer.decided_at:%Y-%m-%d} (decision {answer.number}) for "
                f"{len(answer.prints)} reading(s), and {len(gone)} of them are read otherwise now or no more: "
                "it does not count for these; look at them again"
            )
            told.append(Finding(code=OUTLIVED, message=message, scope="sheet"))
    add_findings(catalogue, sheet, None, told)
    return tuple(told)


def _question(catalogue: Catalogue, sheet: str, answer: Answer, now: PrintRead) -> None:
    """Hold what is read now at a print that a person gave another name to."""
    given = {"device_printed": answer.given.device, "terminal_printed": answer.given.terminal}
    other = [(name, text) for name, text in given.items() if text and now.columns[name] not in ("", text)]
    if not other or not catalogue.rows(_HOLD_ONE, [sheet, now.id]):
        return
    name, text = other[0]
    message = (
        f"{answer.who} gave “{text}” on {answer.decided_at:%Y-%m-%d}, and “{now.columns[name]}” is read now: "
        "look at the sheet and decide anew"
    )
    add_findings(catalogue, sheet, now.id, (Finding(code=AGAINST, message=message),))
