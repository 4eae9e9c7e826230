"""Decisions in the catalogue: kept with the print they are about, and put in force when a sheet is read anew."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from torquary_catalogue.decimals import shorten
from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.findings import add_findings
from torquary_catalogue.store.names_given import apply_names
from torquary_catalogue.store.same_print import COLUMNS, PARTS, Bound, PrintRead, Word, bind, tell_differences
from torquary_schema.findings import codes, holds
from torquary_schema.values import Finding, Place

UNCONFIRMED = "decision_unconfirmed"
WITHOUT_READING = "decision_without_reading"

_NAMES = ", ".join(COLUMNS)

_LAST_WORDS = f"""
SELECT d.setting AS id, d.decided_at, d.verdict, d.who, d.torque_given AS given, p.doubts, {_NAMES}
FROM decision AS d JOIN decided_print AS p USING (sheet, setting, decided_at)
WHERE sheet = $sheet QUALIFY row_number() OVER (PARTITION BY setting ORDER BY decided_at DESC) = 1"""

_READINGS = f"""
SELECT s.id, {_NAMES}, coalesce(f.codes, []) AS doubts FROM setting AS s
LEFT JOIN (SELECT setting, list(code) AS codes FROM finding WHERE sheet = $sheet GROUP BY setting) AS f
ON f.setting = s.id
WHERE s.sheet = $sheet AND ($setting IS NULL OR s.id = $setting) ORDER BY s.number"""

# A reading whose decision holds shows what was decided; how it was read is kept with that decision.
_KEEP_PRINT_OF_DECIDED = f"""
INSERT INTO decided_print BY NAME
SELECT sheet, setting, (now() AT TIME ZONE 'UTC') AS decided_at, {_NAMES}, doubts FROM decided_print
WHERE sheet = $sheet AND setting = $setting ORDER BY decided_print.decided_at DESC LIMIT 1"""

_KEEP_PRINT = f"""
INSERT INTO decided_print BY NAME
SELECT sheet, id AS setting, (now() AT TIME ZONE 'UTC') AS decided_at, {_NAMES}, $doubts AS doubts
FROM setting WHERE sheet = $sheet AND id = $setting"""

_MOVE = """
UPDATE {table} SET setting = m.id FROM (SELECT unnest($old) AS old, unnest($new) AS id) AS m
WHERE {table}.sheet = $sheet AND {table}.setting = m.old"""

_PUT_IN_FORCE = """
UPDATE setting SET
    state = CASE WHEN d.verdict = 'reject' THEN 'rejected' ELSE 'released' END,
    min_nm = d.min_nm, nominal_nm = d.nominal_nm, max_nm = d.max_nm, limit_nm = d.limit_nm
FROM (SELECT * FROM decision WHERE sheet = $sheet
      QUALIFY row_number() OVER (PARTITION BY setting ORDER BY decided_at DESC) = 1) AS d
WHERE setting.sheet = $sheet AND setting.id = d.setting AND list_contains($held, setting.id)"""

# Who accepts a figure says that it is right, and not whose it is.
_HOLD_NAMELESS = """
UPDATE setting SET state = 'held', min_nm = NULL, nominal_nm = NULL, max_nm = NULL, limit_nm = NULL
WHERE sheet = $sheet AND state = 'released'
    AND len(list_filter(missing, lambda m: m.field IN ('device', 'terminal'))) > 0"""

_HOLD = """
UPDATE setting SET state = 'held', min_nm = NULL, nominal_nm = NULL, max_nm = NULL, limit_nm = NULL
WHERE sheet = $sheet AND list_contains($asking, id)"""


def keep_decision(catalogue: Catalogue, sheet: str, setting: str, columns: Mapping[str, Any]) -> None:
    """Keep a decision (columns of its table) about a reading, with what is printed there and how it was read."""
    run = catalogue.connection.execute
    key = {"sheet": sheet, "setting": setting}
    given = ", ".join(f"${name} AS {name}" for name in columns)
    before = _is_decided(catalogue, sheet, setting)
    run(
        "INSERT INTO decision BY NAME SELECT $sheet AS sheet, $setting AS setting, "
        f"(now() AT TIME ZONE 'UTC') AS decided_at, {given}",
        {**key, **columns},
    )
    if before:
        run(_KEEP_PRINT_OF_DECIDED, key)
    else:
        (reading,) = read_readings(catalogue, sheet, setting)
        run(_KEEP_PRINT, {**key, "doubts": sorted(reading.doubts)})


def carry_over(catalogue: Catalogue, sheet: str) -> tuple[Finding, ...]:
    """Put the decisions about a sheet that was just written in force; return those that have no reading any more.

    A decision goes with its print to the reading's new id. Where the print is read otherwise, the reading is held
    with a finding. Nothing that was decided is dropped.
    """
    if catalogue.rows("SELECT 1 FROM sheet WHERE digest = ? AND state <> 'read'", [sheet]):
        return ()  # its settings are out of force; they are read anew when it comes back
    readings = {one.id: one for one in read_readings(catalogue, sheet)}
    bound = bind(_read_words(catalogue, sheet), tuple(readings.values()))
    _move(catalogue, sheet, {word.about.id: new for new, word in bound.holding.items() if word.about.id != new})
    held = list(bound.holding)
    catalogue.connection.execute(_PUT_IN_FORCE, {"sheet": sheet, "held": held})
    apply_names(catalogue, sheet, held)
    catalogue.connection.execute(_HOLD_NAMELESS, {"sheet": sheet})
    _ask(catalogue, sheet, bound, readings)
    gone = tuple(_describe_gone(word) for word in bound.gone)
    add_findings(catalogue, sheet, None, gone)
    return gone


def _is_decided(catalogue: Catalogue, sheet: str, setting: str) -> bool:
    """Tell whether a decision about the reading holds: then its names may be given, and no doubt asks."""
    query = """SELECT 1 FROM setting AS s JOIN decision AS d ON d.sheet = s.sheet AND d.setting = s.id
        WHERE s.sheet = $sheet AND s.id = $setting AND s.state <> 'held' LIMIT 1"""
    return bool(catalogue.rows(query, {"sheet": sheet, "setting": setting}))


def read_readings(catalogue: Catalogue, sheet: str, setting: str | None = None) -> list[PrintRead]:
    """Return the readings of a sheet as they are in the catalogue, or the one with the id `setting`."""
    return [_read_print(row) for row in catalogue.rows(_READINGS, {"sheet": sheet, "setting": setting})]


def _read_words(catalogue: Catalogue, sheet: str) -> list[Word]:
    return [
        Word(about=_read_print(row), **{name: row[name] for name in ("decided_at", "verdict", "who", "given")})
        for row in catalogue.rows(_LAST_WORDS, {"sheet": sheet})
    ]


def _read_print(row: Mapping[str, Any]) -> PrintRead:
    doubts = frozenset(code for code in row["doubts"] if _is_doubt(code))
    return PrintRead(id=row["id"], columns={name: row[name] for name in COLUMNS}, doubts=doubts)


def _is_doubt(code: str) -> bool:
    """Tell whether a finding holds by itself; one whose code this version does not know did, as far as we can tell."""
    return code != UNCONFIRMED and (code not in codes() or holds(code))


def _move(catalogue: Catalogue, sheet: str, moved: Mapping[str, str]) -> None:
    if not moved:
        return
    values = {"sheet": sheet, "old": list(moved), "new": list(moved.values())}
    for table in ("decision", "decided_print", "name_given"):
        catalogue.connection.execute(_MOVE.format(table=table), values)


def _ask(catalogue: Catalogue, sheet: str, bound: Bound, readings: Mapping[str, PrintRead]) -> None:
    for setting, word in bound.asking.items():
        add_findings(catalogue, sheet, setting, (_describe_asking(word, readings[setting]),))
    if holds(UNCONFIRMED):
        catalogue.connection.execute(_HOLD, {"sheet": sheet, "asking": list(bound.asking)})


def _describe_asking(word: Word, now: PrintRead) -> Finding:
    parts = tell_differences(word.about, now)
    told = "; ".join(_tell_part(part, word.about, now) for part in parts) or "several readings stand there alike"
    if word.about.columns["page"] is None:
        told = "how it was read then is not known"
    message = f"{_tell_word(word)}, when the print was read otherwise ({told}): look at the sheet and decide anew"
    return Finding(code=UNCONFIRMED, message=message, printed=now.columns["torque_printed"] or "")


def _describe_gone(word: Word) -> Finding:
    columns = word.about.columns
    names = (columns["device_printed"], columns["terminal_printed"], columns["conductor_printed"])
    named = " | ".join(name for name in names if name) or word.about.id
    printed = columns["torque_printed"] or ""
    message = f"{_tell_word(word)} for {named}, and no such print is read any more: the decision is kept; see the sheet"
    place = Place(
        page=columns["page"],
        table=columns["table_number"],
        row=columns["row_number"],
        column=columns["column_number"],
        text=columns["place_text"] or "",
    )
    return Finding(code=WITHOUT_READING, message=message, scope="sheet", place=place, printed=printed)


def _tell_word(word: Word) -> str:
    printed = word.about.columns["torque_printed"]
    done = {"accept": "accepted", "reject": "rejected", "correct": "corrected"}[word.verdict]
    to = f" to {word.given}" if word.given else ""
    return f"{word.who} {done} “{printed or ''}”{to} on {word.decided_at:%Y-%m-%d}"


def _tell_part(part: str, before: PrintRead, now: PrintRead) -> str:
    """Say what differs in one part: the column that differs first, as it was and as it is."""
    if part == "torque":
        was, read = (_tell_torque(one) for one in (before, now))
        return f"torque {was} N·m then, {read} N·m now"
    if part == "doubts":
        return f"new doubts: {', '.join(sorted(now.doubts - before.doubts))}"
    columns = {"place": ("page", "table_number", "row_number"), "printed figure": ("torque_printed",)}.get(part)
    differing = [name for name in columns or PARTS[part] if before.columns[name] != now.columns[name]]
    if not differing:
        return f"another {part}"
    was, read = (_tell_value(one.columns[differing[0]]) for one in (before, now))
    name = part if len(columns or PARTS[part]) == 1 else f"{part}: {differing[0].replace('_', ' ')}"
    return f"{name} {was} then, {read} now"


def _tell_value(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(value) or "not said"
    if isinstance(value, Decimal):
        return f"{shorten(value):f}"
    return f"“{value}”" if isinstance(value, str) else "not said" if value is None else str(value)


def _tell_torque(one: PrintRead) -> str:
    names = ("read_min_nm", "read_nominal_nm", "read_max_nm")
    figures = dict.fromkeys(shorten(one.columns[name]) for name in names)
    setting = "–".join(f"{figure:f}" for figure in figures if figure is not None)
    limit = shorten(one.columns["read_limit_nm"])
    return ", ".join(part for part in (setting, "" if limit is None else f"at most {limit:f}") if part) or "no"
