"""CSV that a spreadsheet shows and never runs."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from torquary_catalogue.decimals import shorten
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.settings import PUBLIC_COLUMNS, read_current

# Signs that make a spreadsheet take a cell for a formula, plain and full-width (OWASP, CSV injection).
_RUNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def write_csv(catalogue: Catalogue, target: Path) -> int:
    """Write the settings in force as UTF-8 CSV; return their number. Several values stand as "a; b"."""
    rows = read_current(catalogue)
    with target.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(PUBLIC_COLUMNS)
        writer.writerows([write_cell(row[name]) for name in PUBLIC_COLUMNS] for row in rows)
    return len(rows)


def write_cell(value: Any) -> str:
    """Return the cell's text: figures as figures, any other text defused with an apostrophe if it would run."""
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{shorten(value):f}"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return str(value)
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="seconds")
    text = _join(value) if isinstance(value, list) else str(value)
    return f"'{text}" if text.startswith(_RUNS) else text


def _join(values: Iterable[Any]) -> str:
    return "; ".join(" ".join(map(str, v.values())) if isinstance(v, dict) else str(v) for v in values)
