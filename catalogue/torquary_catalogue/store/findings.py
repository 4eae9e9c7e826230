"""Writing findings, and rows of values in general, in one statement."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from torquary_catalogue.store.connection import Catalogue
from torquary_catalogue.store.rows import FINDING_TYPES, finding_row
from torquary_schema.values import Finding

_INSERT = "INSERT INTO finding BY NAME SELECT r.* FROM (SELECT unnest(from_json($rows::JSON, $types)) AS r)"

_MOST = """SELECT coalesce(max(number), 0) FROM finding
WHERE sheet = $sheet AND setting IS NOT DISTINCT FROM $setting"""


def insert_findings(catalogue: Catalogue, rows: list[dict[str, Any]]) -> None:
    """Write rows of findings (`finding_row`)."""
    if rows:
        catalogue.connection.execute(_INSERT, as_json(rows, FINDING_TYPES))


def add_findings(catalogue: Catalogue, sheet: str, setting: str | None, findings: Sequence[Finding]) -> None:
    """Write findings after those that a setting has (None: the sheet)."""
    found = catalogue.connection.execute(_MOST, {"sheet": sheet, "setting": setting}).fetchone()
    first = (found[0] if found else 0) + 1
    insert_findings(catalogue, [finding_row(sheet, setting, one, number) for number, one in enumerate(findings, first)])


def as_json(rows: list[dict[str, Any]], types: Mapping[str, Any]) -> dict[str, str]:
    """Return rows and their types for from_json: one value instead of thousands, decimals as digits."""
    return {"rows": json.dumps(rows, default=str), "types": json.dumps([types])}
