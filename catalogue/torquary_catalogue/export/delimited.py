"""CSV: as printed, or so that a spreadsheet takes no cell for a formula."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from pathlib import Path

from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.settings import read_kinds, read_written

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
    kinds = read_kinds(catalogue)
    texts = [kind.startswith("VARCHAR") or kind.endswith("[]") for kind in kinds.values()]
    count = 0
    with target.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.writer(file, lineterminator=_LINE_END)
        writer.writerow(kinds)
        for rows in read_written(catalogue):
            writer.writerows((_defuse(row, texts) for row in rows) if no_formulas else rows)
            count += len(rows)
    return count


def _defuse(row: Sequence[str | None], texts: Sequence[bool]) -> list[str | None]:
    return [_RUNS.sub("'", cell) if cell and text else cell for cell, text in zip(row, texts, strict=True)]
