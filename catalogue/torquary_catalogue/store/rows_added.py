"""Rows that people added, of what the reader missed or could not read: settings as long as their decision stands."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.findings import add_findings, as_json
from torquary_catalogue.store.record import read_made
from torquary_catalogue.store.rows import SETTING_TYPES
from torquary_schema.values import Finding

ADDED = "row_added"
MISSED, NOT_READABLE = "missed", "not readable"
"""State of a row before it was added (decision.state_before): of a sheet that was read, and of one that was not."""

_INSERT = """
INSERT INTO setting BY NAME
SELECT r.*, r.state AS read_state, gauge_rank(r.min_awg) AS min_gauge, gauge_rank(r.max_awg) AS max_gauge,
    '' AS device_words, '' AS terminal_words, '' AS all_words
FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)"""

_ADDED = """
SELECT a.number, a.setting, a.setting_row FROM row_added AS a JOIN decision_record AS r ON r.number = a.number
WHERE a.sheet = $sheet AND r.undone_by IS NULL ORDER BY a.number"""

_IDS = "(SELECT setting FROM row_added WHERE sheet = $sheet)"


def insert_rows(catalogue: Catalogue, rows: list[dict[str, Any]]) -> None:
    """Write rows of settings (`setting_row`) as they were read; their words are written by `note_words`."""
    if rows:
        catalogue.connection.execute(_INSERT, as_json(rows, SETTING_TYPES))


def keep_row(catalogue: Catalogue, number: int, columns: Mapping[str, Any]) -> None:
    """Keep a row that a person added by the decision of this number, and say with it that it was added."""
    row = json.dumps(columns, default=str, ensure_ascii=False)
    catalogue.connection.execute(
        "INSERT INTO row_added VALUES (?, ?, ?, ?)", [number, columns["sheet"], columns["id"], row]
    )
    _say_added(catalogue, columns["sheet"], columns["id"], number)


def _say_added(catalogue: Catalogue, sheet: str, setting: str, number: int) -> None:
    (made,) = read_made(catalogue, number=number)
    (row,) = catalogue.rows("SELECT state_before FROM decision WHERE number = ?", [number])
    told = "the reader missed this row: {} added it"
    if row["state_before"] == NOT_READABLE:
        told = "the file could not be read: {} added this row by hand"
    message = f"{told.format(made.who)} on {made.decided_at:%Y-%m-%d} ({made.why})"
    add_findings(catalogue, sheet, setting, (Finding(code=ADDED, message=message),))


def put_rows_added(catalogue: Catalogue, sheet: str) -> None:
    """Put the rows that were added to a sheet, and whose decision stands, into its settings; take out the others."""
    run = catalogue.connection.execute
    standing = {row["setting"]: row for row in catalogue.rows(_ADDED, {"sheet": sheet})}
    there = {row["id"] for row in catalogue.rows(f"SELECT id FROM setting WHERE id IN {_IDS}", {"sheet": sheet})}
    for gone in there - set(standing):
        run("DELETE FROM finding WHERE sheet = ? AND setting = ?", [sheet, gone])
        run("DELETE FROM setting WHERE sheet = ? AND id = ?", [sheet, gone])
    for setting in set(standing) - there:
        insert_rows(catalogue, [json.loads(standing[setting]["setting_row"])])
        _say_added(catalogue, sheet, setting, standing[setting]["number"])
