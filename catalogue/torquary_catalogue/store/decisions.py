"""Decisions about settings: kept with the print they are about, and put in force whenever anything changes.

The settings of a sheet follow from three things: what was read, what people decided, and whether the sheet is in
force. `settle` makes them so, after any of the three has changed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from torquary_catalogue.store.answered import ANSWER_CODES, apply_answers
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.decision_words import (
    REOPENED,
    UNCONFIRMED,
    WITHOUT_READING,
    describe_asking,
    describe_gone,
    describe_reopened,
)
from torquary_catalogue.store.findings import add_findings
from torquary_catalogue.store.names_given import apply_names, take_back_names
from torquary_catalogue.store.record import Entry, keep
from torquary_catalogue.store.rows_added import NOT_READABLE, put_rows_added
from torquary_catalogue.store.same_print import COLUMNS, Bound, PrintRead, Word, bind, gives_other_figure
from torquary_catalogue.store.sheet_words import note_words
from torquary_schema.findings import codes, holds
from torquary_schema.values import Finding

_NAMES = ", ".join(COLUMNS)
_OURS = (UNCONFIRMED, WITHOUT_READING, REOPENED, *ANSWER_CODES)
"""Findings that follow from decisions and answers."""

_LAST_WORDS = f"""
SELECT d.setting AS id, d.number, d.decided_at, d.verdict, d.who, d.why, d.torque_given AS given,
    d.state_before AS before, p.doubts, {_NAMES}
FROM last_decision AS d JOIN decided_print AS p USING (sheet, setting, decided_at)
WHERE sheet = $sheet"""

_READINGS = f"""
SELECT s.id, {_NAMES}, coalesce(f.codes, []) AS doubts FROM setting AS s
LEFT JOIN (SELECT setting, list(code) AS codes FROM finding WHERE sheet = $sheet GROUP BY setting) AS f
ON f.setting = s.id
WHERE s.sheet = $sheet AND ($setting IS NULL OR s.id = $setting) ORDER BY s.number"""

_KEEP_PRINT = f"""
INSERT INTO decided_print BY NAME
SELECT sheet, id AS setting, (now() AT TIME ZONE 'UTC') AS decided_at, {_NAMES}, $doubts AS doubts
FROM setting WHERE sheet = $sheet AND id = $setting"""

_MOVE = """
UPDATE {table} SET setting = m.id FROM (SELECT unnest($old) AS old, unnest($new) AS id) AS m
WHERE {table}.sheet = $sheet AND {table}.setting = m.old"""
_MOVED = ("decision", "decision_record", "decided_print", "name_given", "given_figure")

_AS_READ = """
UPDATE setting SET state = read_state,
    min_nm = CASE WHEN read_state = 'released' THEN read_min_nm END,
    nominal_nm = CASE WHEN read_state = 'released' THEN read_nominal_nm END,
    max_nm = CASE WHEN read_state = 'released' THEN read_max_nm END,
    limit_nm = CASE WHEN read_state = 'released' THEN read_limit_nm END
WHERE sheet = $sheet"""

_OUT_OF_FORCE = """
UPDATE setting SET state = 'superseded', min_nm = NULL, nominal_nm = NULL, max_nm = NULL, limit_nm = NULL
WHERE sheet = $sheet"""

_PUT_IN_FORCE = """
UPDATE setting SET
    state = CASE d.verdict WHEN 'reject' THEN 'rejected' ELSE 'released' END,
    min_nm = d.min_nm, nominal_nm = d.nominal_nm, max_nm = d.max_nm, limit_nm = d.limit_nm
FROM last_decision AS d
WHERE setting.sheet = $sheet AND d.sheet = $sheet AND setting.id = d.setting AND list_contains($held, setting.id)
    AND d.verdict <> 'reopen'"""

# Who accepts a figure says that it is right, and not whose it is.
_IS_NAMELESS = """list_contains($sheets::VARCHAR[], sheet) AND state = 'released'
    AND len(list_filter(missing, lambda m: m.field IN ('device', 'terminal'))) > 0"""
_MAY_CHANGE = f"""
SELECT 1 FROM answer AS a JOIN decision_record AS r ON r.number = a.number
WHERE a.reach = 'maker' AND r.undone_by IS NULL AND a.maker <> ''
UNION ALL SELECT 1 FROM setting WHERE {_IS_NAMELESS} LIMIT 1"""
_HOLD_NAMELESS = f"""
UPDATE setting SET state = 'held', min_nm = NULL, nominal_nm = NULL, max_nm = NULL, limit_nm = NULL
WHERE {_IS_NAMELESS}"""

_HOLD = """
UPDATE setting SET state = 'held', min_nm = NULL, nominal_nm = NULL, max_nm = NULL, limit_nm = NULL
WHERE sheet = $sheet AND list_contains($asking, id)"""


def keep_decision(
    catalogue: Catalogue, sheet: str, setting: str, columns: Mapping[str, Any], *, after: str, before: str, **more: Any
) -> int:
    """Keep a decision (columns of its table) about a reading, which is as it was read; return its number.

    `before` and `after` are in words; `more` are further values of `Entry`. It is in force with `settle`.
    """
    run = catalogue.connection.execute
    entry = {"kind": columns["verdict"], "who": columns["who"], "why": columns["why"]}
    number = keep(catalogue, Entry(sheet=sheet, setting=setting, before=before, after=after, **entry, **more))
    given = ", ".join(f"${name} AS {name}" for name in columns)
    run(
        "INSERT INTO decision BY NAME SELECT $sheet AS sheet, $setting AS setting, $number AS number, "
        f"(now() AT TIME ZONE 'UTC') AS decided_at, {given}",
        {"sheet": sheet, "setting": setting, "number": number, **columns},
    )
    (reading,) = read_readings(catalogue, sheet, setting)
    run(_KEEP_PRINT, {"sheet": sheet, "setting": setting, "doubts": sorted(reading.doubts)})
    return number


def take_back_to_read(catalogue: Catalogue, sheet: str) -> None:
    """Make the settings of a sheet what was read, as if nobody had decided; rows that people added are there too."""
    take_back_names(catalogue, sheet)
    catalogue.connection.execute(
        "DELETE FROM finding WHERE sheet = $sheet AND list_contains($ours, code)", {"sheet": sheet, "ours": list(_OURS)}
    )
    put_rows_added(catalogue, sheet)
    catalogue.connection.execute(_AS_READ, {"sheet": sheet})


def settle(catalogue: Catalogue, sheet: str) -> tuple[Finding, ...]:
    """Make the settings of a sheet what was read, decided and stands; return what decisions have no reading any more.

    A decision goes with its print to the reading's new id. Where the print is read otherwise, the reading is held
    with a finding. Nothing that was decided is dropped.
    """
    take_back_to_read(catalogue, sheet)
    gone: tuple[Finding, ...] = ()
    if catalogue.rows("SELECT 1 FROM sheet WHERE digest = ? AND state = 'read'", [sheet]):
        gone = _put_in_force(catalogue, sheet)
    else:
        catalogue.connection.execute(_OUT_OF_FORCE, {"sheet": sheet})
    note_words(catalogue, sheet)
    return gone


def settle_new(catalogue: Catalogue, sheet: str) -> tuple[Finding, ...]:
    """Settle a sheet that is in force and in no decision: only an answer for all of its maker's may say anything."""
    if may_change(catalogue, [sheet]):
        return settle(catalogue, sheet)
    note_words(catalogue, sheet)
    return ()


def may_change(catalogue: Catalogue, sheets: Sequence[str]) -> bool:
    """Tell whether settling any of these sheets may do something, though they are new and in no decision."""
    return bool(catalogue.rows(_MAY_CHANGE, {"sheets": [*sheets]}))


def _put_in_force(catalogue: Catalogue, sheet: str) -> tuple[Finding, ...]:
    readings = {one.id: one for one in read_readings(catalogue, sheet)}
    bound = bind(read_words(catalogue, sheet), tuple(readings.values()))
    _question_added(catalogue, sheet, bound, readings)
    _move(catalogue, sheet, {word.about.id: new for new, word in bound.holding.items() if word.about.id != new})
    held = list(bound.holding)
    outlived = apply_answers(catalogue, sheet, tuple(readings.values()), {*bound.holding, *bound.asking})
    catalogue.connection.execute(_PUT_IN_FORCE, {"sheet": sheet, "held": held})
    apply_names(catalogue, sheet, held)
    catalogue.connection.execute(_HOLD_NAMELESS, {"sheets": [sheet]})
    reopened = {setting: word for setting, word in bound.holding.items() if word.verdict == "reopen"}
    _hold(catalogue, sheet, REOPENED, {setting: describe_reopened(word) for setting, word in reopened.items()})
    _hold(
        catalogue, sheet, UNCONFIRMED,
        {setting: describe_asking(word, readings[setting]) for setting, word in bound.asking.items()},
    )  # fmt: skip
    gone = tuple(describe_gone(word) for word in bound.gone)
    add_findings(catalogue, sheet, None, gone)
    return (*gone, *outlived)


def _question_added(catalogue: Catalogue, sheet: str, bound: Bound, readings: Mapping[str, PrintRead]) -> None:
    """Let each row that a person added ask, where the reader reads another figure in its place now, or reads at all."""
    added = {setting: word for setting, word in bound.holding.items() if word.verdict == "add"}
    read = catalogue.rows("SELECT 1 FROM sheet WHERE digest = ? AND reader IS DISTINCT FROM 0", [sheet])
    for setting, word in added.items():
        others = (one for one in readings.values() if one.id not in added)
        if (read and word.before == NOT_READABLE) or any(gives_other_figure(word.about, one) for one in others):
            bound.asking[setting] = bound.holding.pop(setting)


def read_readings(catalogue: Catalogue, sheet: str, setting: str | None = None) -> list[PrintRead]:
    """Return the readings of a sheet as they are in the catalogue, or the one with the id `setting`."""
    return [_read_print(row) for row in catalogue.rows(_READINGS, {"sheet": sheet, "setting": setting})]


def read_words(catalogue: Catalogue, sheet: str) -> list[Word]:
    """Return the last word that stands on each reading of a sheet."""
    names = ("number", "decided_at", "verdict", "who", "why", "given", "before")
    return [
        Word(about=_read_print(row), **{name: row[name] for name in names})
        for row in catalogue.rows(_LAST_WORDS, {"sheet": sheet})
    ]


def _read_print(row: Mapping[str, Any]) -> PrintRead:
    doubts = frozenset(code for code in row["doubts"] if _is_doubt(code))
    return PrintRead(id=row["id"], columns={name: row[name] for name in COLUMNS}, doubts=doubts)


def _is_doubt(code: str) -> bool:
    """Tell whether a finding holds by itself; one whose code this version does not know did, as far as we can tell."""
    return code not in _OURS and (code not in codes() or holds(code))


def _move(catalogue: Catalogue, sheet: str, moved: Mapping[str, str]) -> None:
    if not moved:
        return
    values = {"sheet": sheet, "old": list(moved), "new": list(moved.values())}
    for table in _MOVED:
        catalogue.connection.execute(_MOVE.format(table=table), values)


def _hold(catalogue: Catalogue, sheet: str, code: str, asking: Mapping[str, Finding]) -> None:
    """Hold the settings that wait for a new decision, each with its finding of this code."""
    if not asking:
        return
    for setting, finding in asking.items():
        add_findings(catalogue, sheet, setting, (finding,))
    if holds(code):
        catalogue.connection.execute(_HOLD, {"sheet": sheet, "asking": list(asking)})
