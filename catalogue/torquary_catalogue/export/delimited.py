"""CSV: as printed, or so that a spreadsheet takes no cell for a formula."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from torquary_catalogue.store import Catalogue

# What makes a spreadsheet take a cell for a formula: a sign, plain or full-width, a tab or a line break at its
# beginning, or behind a mark that another spreadsheet takes for the end of a cell (OWASP, CSV injection). Invisible
# characters and blanks before it are passed over.
_RUNS = re.compile(r"""(?:^|(?<=[;,|"'\t\r\n]))(?=[\s\ufeff\u200b-\u200f]*[=+\-@＝＋－＠\t\r\n])""")

_LINE_END = "\r\n"
"""RFC 4180, 2.1."""


def write_csv(catalogue: Catalogue, target: Path, *, no_formulas: bool = False) -> int:
    """Write the settings in force as UTF-8 CSV; return their number. Several values stand as "a; b".

    The mark of UTF-8 stands first: without it a spreadsheet takes letters with accents for others.

    Texts stand as printed: + and − are markings of terminals. With `no_formulas` an apostrophe stands before
    whatever a spreadsheet would take for a formula.
    """
    from torquary_catalogue.export.frame import settings_frame

    shape = _defuse if no_formulas else str
    frame = settings_frame(catalogue)
    texts = frame.map(lambda value: _write_cell(value, shape), na_action="ignore")
    with target.open("w", encoding="utf-8-sig", newline="") as file:
        texts.to_csv(file, index=False, lineterminator=_LINE_END)
    return len(frame)


def _write_cell(value: Any, shape: Callable[[str], str]) -> str:
    """Return the cell's text: figures as figures, any other text shaped."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Decimal | int):
        return f"{value:f}" if isinstance(value, Decimal) else str(value)
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="seconds")
    return shape(_join(value) if isinstance(value, list) else str(value))


def _defuse(text: str) -> str:
    return _RUNS.sub("'", text)


def _join(values: Iterable[Any]) -> str:
    return "; ".join(_join_parts(value) if isinstance(value, dict) else str(value) for value in values)


def _join_parts(value: dict[str, Any]) -> str:
    return " ".join(str(part) for part in value.values() if part is not None)
