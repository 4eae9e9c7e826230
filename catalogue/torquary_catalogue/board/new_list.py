"""An empty board list to fill in: text with the columns explained above them, or a workbook with
drop-downs.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

from torquary_catalogue.board.columns import Column, columns
from torquary_schema.vocabulary import vocabulary

DROP_DOWN_ROWS = 1000
"""Rows of a new workbook that have drop-downs; a list may be longer."""
_WIDTH = 14
_LONGEST_LIST = 255
"""Signs that a drop-down may list in its own formula (OOXML workbooks, from memory); longer ones
stand on a sheet.
"""


def write_new_text(path: Path) -> None:
    """Write an empty list as CSV: lines with # explain the columns and are passed over when it is
    read.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for column in columns().values():
        writer.writerow([f"# {column.key}: {_explain(column)}"])
    writer.writerow(list(columns()))
    path.write_text(out.getvalue(), "utf-8-sig", newline="")


def write_new_workbook(path: Path) -> None:
    """Write an empty list as workbook: its second worksheet explains the columns."""
    from openpyxl import Workbook
    from openpyxl.styles import Font
    from openpyxl.worksheet.datavalidation import DataValidation

    book = Workbook()
    book.remove(book.worksheets[0])
    sheet = book.create_sheet("Board")
    explained = book.create_sheet("Columns")
    explained.append(["Column", "What it holds", "For example"])
    for at, column in enumerate(columns().values(), start=1):
        cell = sheet.cell(row=1, column=at, value=column.key)
        cell.font = Font(bold=True)
        letter = cell.column_letter
        sheet.column_dimensions[letter].width = _WIDTH
        explained.append([column.key, _explain(column), column.example])
        words = column.allowed or _suggest(column.key)
        if words and sum(map(len, words)) + len(words) <= _LONGEST_LIST:
            drop = DataValidation(type="list", formula1=f'"{",".join(words)}"', allow_blank=True)
            drop.showErrorMessage = bool(column.allowed)
            drop.add(f"{letter}2:{letter}{DROP_DOWN_ROWS}")
            sheet.add_data_validation(drop)
    sheet.freeze_panes = "A2"
    for letter, width in (("A", _WIDTH), ("B", 90), ("C", 20)):
        explained.column_dimensions[letter].width = width
    book.save(path)


def _explain(column: Column) -> str:
    needed = " Needed." if column.needed else ""
    allowed = f" One of: {', '.join(column.allowed)}." if column.allowed else ""
    return f"{column.meaning}{needed}{allowed}"


def _suggest(key: str) -> tuple[str, ...]:
    """Return words that may help in a column that takes any text."""
    if key != "terminal":
        return ()
    common = ("line_in", "load_out", "line", "neutral", "protective_earth", "earth", "coil")
    return tuple(vocabulary("role")[role].term for role in common)
