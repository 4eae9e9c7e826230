"""The record of the work on boards in the catalogue: entries are added, and never changed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.findings import as_json
from torquary_catalogue.store.given_out import GivenOut, keep_given

COLUMNS = {
    **dict.fromkeys(("board", "visit", "terminal", "found"), "VARCHAR"),
    "done": "BOOLEAN",
    **dict.fromkeys(("who", "worked_at", "driver", "calibrated"), "VARCHAR"),
    "set_nm": "DECIMAL(38,24)",
    **dict.fromkeys(("sheet", "setting", "photo", "remark"), "VARCHAR"),
}
"""Columns that an entry gives → their types."""

_MOST = "SELECT coalesce(max(number), 0) AS number FROM work_entry"
_KEEP = """
INSERT INTO work_entry BY NAME
SELECT (now() AT TIME ZONE 'UTC') AS taken_at, r.*
FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)"""
_FIGURES = """
SELECT sheet, setting, min_nm, nominal_nm, max_nm, limit_nm FROM (
    SELECT f.sheet, f.setting, f.min_nm, f.nominal_nm, f.max_nm, f.limit_nm, f.number
    FROM given_figure AS f
    UNION ALL
    SELECT s.sheet, s.id, s.min_nm, s.nominal_nm, s.max_nm, s.limit_nm, 0
    FROM setting AS s WHERE s.state = 'released'
) AS every WHERE list_contains($pairs::VARCHAR[], sheet || ' ' || setting)
QUALIFY row_number() OVER (PARTITION BY sheet, setting ORDER BY number DESC) = 1"""


def keep_work(catalogue: Catalogue, rows: Sequence[dict[str, Any]], given: GivenOut) -> int:
    """Keep entries, rows of `COLUMNS`, and what they used of the catalogue, to be recalled; the
    number of figures.

    The figures are those that were given out last, with the plan of the work, or else those of
    today.
    """
    first = int(catalogue.rows(_MOST)[0]["number"]) + 1
    numbered = [{"number": number, **row} for number, row in enumerate(rows, start=first)]
    catalogue.connection.execute(_KEEP, as_json(numbered, {"number": "INTEGER", **COLUMNS}))
    pairs = sorted({f"{row['sheet']} {row['setting']}" for row in rows if row["setting"]})
    figures = catalogue.rows(_FIGURES, {"pairs": pairs})
    keep_given(catalogue, given, figures)
    return len(figures)


def read_work(catalogue: Catalogue, board: str | None = None) -> list[dict[str, Any]]:
    """Return the entries of a board, or of all, in the order in which they were taken in."""
    query = "SELECT * FROM work_entry WHERE $board IS NULL OR lower(board) = lower($board)"
    return catalogue.rows(f"{query} ORDER BY number", {"board": board})


def read_last(
    catalogue: Catalogue, keys: Iterable[tuple[str, str, str]]
) -> dict[tuple[str, str, str], dict[str, Any]]:
    """Return the entry that holds for each (board, visit, terminal) that has one."""
    wanted = set(keys)
    found = {(row["board"], row["visit"], row["terminal"]): row for row in read_work(catalogue)}
    return {key: row for key, row in found.items() if key in wanted}
