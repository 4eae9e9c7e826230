"""Reading settings back: as rows of the view, and as records."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.lacking import lacks, lacks_nothing_else
from torquary_catalogue.store.rows import read_finding, read_setting
from torquary_schema.findings import WANTED, WITNESSED, wanted
from torquary_schema.values import Finding, Setting
from torquary_schema.words import fold

PUBLIC_COLUMNS = (
    "id",
    "state",
    "purpose",
    "maker",
    "family",
    "series",
    "model",
    "device_printed",
    "rated_current",
    "terminal_printed",
    "roles",
    "clamp",
    "thread",
    "drive",
    "conductor_printed",
    "system",
    "min_mm2",
    "max_mm2",
    "min_awg",
    "max_awg",
    "material",
    "stranding",
    "ferrule",
    "conductor_count",
    "conditions",
    "torque_printed",
    "unit_printed",
    "min_nm",
    "nominal_nm",
    "max_nm",
    "limit_nm",
    "findings",
    "verdict",
    "who",
    "decided_at",
    "why",
    "torque_given",
    "file",
    "title",
    "edition",
    "page",
    "table_number",
    "row_number",
    "place_text",
    "evidence",
    "missing",
    "scope",
    "sheet",
)
"""Columns of current_setting that exports give; the rest serves searching."""


_AT_ONCE = 2_000
"""Rows that are in memory at once."""
_SHEETS_AT_ONCE = 500
"""Sheets whose records are in memory at once."""
_PART = re.compile(r'"?(\w+)"? (?:VARCHAR|INTEGER)')
"""The name of a part in the type of a structure."""

_TOLD = """
SELECT sheet, id, file, title, edition, verdict, who, why, torque_given, decided_at FROM current_setting
WHERE sheet_number IN (SELECT unnest($numbers::BIGINT[]))"""
_FINDINGS = """
SELECT * FROM finding WHERE setting IS NOT NULL AND sheet IN (SELECT unnest($sheets::VARCHAR[])) ORDER BY number"""
_SETTINGS = """
SELECT s.* FROM setting AS s JOIN sheet AS h ON h.number = s.sheet_number
WHERE s.sheet_number IN (SELECT unnest($numbers::BIGINT[])) AND s.state <> 'superseded'
ORDER BY h.file, s.sheet, s.number"""


def read_current(catalogue: Catalogue) -> list[dict[str, Any]]:
    """Return the rows of the view current_setting, sheet by sheet."""
    columns = ", ".join(PUBLIC_COLUMNS)
    return catalogue.rows(f"SELECT {columns} FROM current_setting ORDER BY file, sheet, number")


def read_written(catalogue: Catalogue) -> Iterator[list[tuple[str | None, ...]]]:
    """Yield the rows of `read_current` in parts, every cell as its text: figures exact, several values as "a; b"."""
    cells = ", ".join(_write_cell(name, kind) for name, kind in read_kinds(catalogue).items())
    found = catalogue.connection.execute(f"SELECT {cells} FROM current_setting ORDER BY file, sheet, number")
    while rows := found.fetchmany(_AT_ONCE):
        yield rows


def _write_cell(name: str, kind: str) -> str:
    """Return SQL for the text of a cell; a figure bears no zeros that its column adds."""
    if kind.startswith("DECIMAL"):
        return f"rtrim(rtrim({name}::VARCHAR, '0'), '.')"
    if kind == "TIMESTAMP":
        return f"strftime({name}, '%Y-%m-%d %H:%M:%S')"
    if kind.startswith("STRUCT"):
        parts = ", ".join(f"v.{part}" for part in _PART.findall(kind))
        return f"array_to_string(list_transform({name}, lambda v: concat_ws(' ', {parts})), '; ')"
    return f"array_to_string({name}, '; ')" if kind.endswith("[]") else f"{name}::VARCHAR"


def read_released(catalogue: Catalogue) -> list[dict[str, Any]]:
    """Return sheet, id (`setting`) and figures of all that is released."""
    return catalogue.rows(
        "SELECT sheet, id AS setting, min_nm, nominal_nm, max_nm, limit_nm FROM current_setting"
        " WHERE state = 'released' ORDER BY sheet, number"
    )


def read_kinds(catalogue: Catalogue) -> dict[str, str]:
    """Return the type of each column of `read_current`, as DuckDB names it ("VARCHAR", "DECIMAL(38,24)")."""
    columns = ", ".join(PUBLIC_COLUMNS)
    found = catalogue.rows(f"DESCRIBE SELECT {columns} FROM current_setting")
    return {row["column_name"]: row["column_type"] for row in found}


def read_held(catalogue: Catalogue, sheets: tuple[str, ...] | None = None) -> list[dict[str, Any]]:
    """Return the rows of the view held_setting, of the sheets with these digests or of all.

    Each has what people can give it in `lacks` (keys of `WANTED`, in their order), in `settles` whether nothing else
    holds it, and its maker as answers are bound to it in `maker_key`; what was given is no reason any more.
    """
    query = "SELECT * FROM held_setting WHERE $sheets IS NULL OR list_contains($sheets::VARCHAR[], sheet)"
    rows = catalogue.rows(f"{query} ORDER BY file, sheet, number", {"sheets": None if sheets is None else [*sheets]})
    return [_tell_lacking(row) for row in rows]


def _tell_lacking(row: dict[str, Any]) -> dict[str, Any]:
    given = {field for fields in row["given"] for field in fields.split()}
    codes = [reason["code"] for reason in row["reasons"]]
    lacking = lacks(codes, row["missing"]) - given
    return row | {
        "reasons": [
            reason for reason in row["reasons"]
            if wanted(reason["code"]) not in given and reason["code"] != WITNESSED
            and not (reason["code"] == "contradicted" and "no_torque" in given)
        ],
        "lacks": [field for field in WANTED if field in lacking],
        "settles": lacks_nothing_else(codes, row["file"]),
        "maker_key": fold(row["maker"] or ""),
    }


def read_unread(catalogue: Catalogue, sheets: tuple[str, ...]) -> list[str]:
    """Return the files, of the sheets with these digests, that gave no setting although they may hold torques."""
    from torquary_schema.findings import codes

    query = """
        SELECT DISTINCT h.file FROM sheet AS h JOIN finding AS f ON f.sheet = h.digest
        WHERE h.state = 'read' AND list_contains($sheets::VARCHAR[], h.digest)
        AND list_contains($unread::VARCHAR[], f.code)
        AND NOT EXISTS (SELECT 1 FROM setting AS s WHERE s.sheet = h.digest) ORDER BY h.file"""
    unread = [code.key for code in codes().values() if code.unread]
    return [row["file"] for row in catalogue.rows(query, {"sheets": [*sheets], "unread": unread})]


def read_settings(catalogue: Catalogue) -> tuple[Setting, ...]:
    """Return the records of the sheets in force, sheet by sheet."""
    return tuple(setting for setting, _ in read_records(catalogue))


def read_records(catalogue: Catalogue) -> Iterator[tuple[Setting, dict[str, Any]]]:
    """Yield the records of the sheets in force, sheet by sheet, each with the `sheet` that it is from and the last
    `decision` about it, None where there is none.
    """
    sheets = catalogue.rows("SELECT digest, number FROM sheet WHERE state = 'read' ORDER BY file, digest")
    for first in range(0, len(sheets), _SHEETS_AT_ONCE):
        some = sheets[first : first + _SHEETS_AT_ONCE]
        yield from _read_records_of(catalogue, [one["digest"] for one in some], [one["number"] for one in some])


def _read_records_of(
    catalogue: Catalogue, sheets: list[str], numbers: list[int]
) -> Iterator[tuple[Setting, dict[str, Any]]]:
    """Yield the records of some sheets in force, told by their digests and their numbers."""
    findings: dict[tuple[str, str], list[Finding]] = {}
    for row in catalogue.rows(_FINDINGS, {"sheets": sheets}):
        findings.setdefault((row["sheet"], row["setting"]), []).append(read_finding(row))
    told = {(row["sheet"], row["id"]): row for row in catalogue.rows(_TOLD, {"numbers": numbers})}
    for row in catalogue.rows(_SETTINGS, {"numbers": numbers}):
        key = (row["sheet"], row["id"])
        yield read_setting(row, tuple(findings.get(key, ()))), _tell_origin(told[key])


def _tell_origin(row: Mapping[str, Any]) -> dict[str, Any]:
    decision = None
    if row["verdict"]:
        decision = {name: row[name] for name in ("verdict", "who", "why", "torque_given")}
        decision["decided_at"] = row["decided_at"].isoformat(sep=" ", timespec="seconds")
    return {
        "sheet": {"digest": row["sheet"], "file": row["file"], "title": row["title"], "edition": row["edition"]},
        "decision": decision,
    }
