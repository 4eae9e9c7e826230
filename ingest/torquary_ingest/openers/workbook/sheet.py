"""A worksheet as it shows: cells by place with the text a reader sees, and what is hidden."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from torquary_ingest.document import Doubt, Mark
from torquary_ingest.errors import SheetRefused

MOST_CELLS = 200_000
"""Cells with text that all worksheets of a file may have; they take some fifteen seconds."""

MOST_PLACES = 2_000_000
"""Rows times columns of one worksheet, up to its last cell with text: readers lay it out as a full grid."""

_COMMA = re.compile(r"(?<![\d.,])\d+,\d{1,2}(?![\d,.])")
_POINT = re.compile(r"(?<![\d.,])\d+\.\d{1,2}(?![\d,.])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One cell: row and column from 1 as in the worksheet; `text` as it shows, `raw` as it is stored.

    `raw` is None where the stored value is no plain number or text (dates, errors, truth values); `stored_at` is
    the (row, column) at which the file keeps it, where a hidden first row or column made it show elsewhere.
    """

    row: int
    column: int
    text: str
    raw: str | None = None
    number: bool = False
    stored_at: tuple[int, int] | None = None
    row_span: int = 1
    column_span: int = 1
    marks: tuple[Mark, ...] = ()
    doubts: tuple[Doubt, ...] = ()


@dataclass(slots=True, kw_only=True)
class Sheet:
    """One visible worksheet; `number` counts from 1 among all sheets of the workbook, hidden ones too.

    `hidden_rows` and `hidden_columns` are numbers from 1 of those that hold text and do not show;
    `unseen` are stored values of which their format shows nothing.
    """

    name: str
    number: int
    cells: list[Shown] = field(default_factory=list)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    struck: list[str] = field(default_factory=list)
    unseen: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Workbook:
    """The visible worksheets in order, the names of the hidden ones, and the number of all."""

    sheets: tuple[Sheet, ...]
    hidden: tuple[str, ...]
    count: int


def write_numbers_like_texts(sheets: Iterable[Sheet]) -> None:
    """Give number cells (in place) the decimal comma if the text cells of the workbook are written with it.

    A file stores numbers without a mark; a program shows them with the one of its user, whose hand wrote the
    texts. A workbook with both marks, or with none in its texts, keeps the point.
    """
    sheets = tuple(sheets)
    texts = [cell.text for sheet in sheets for cell in sheet.cells if not cell.number]
    if not any(_COMMA.search(text) for text in texts) or any(_POINT.search(text) for text in texts):
        return
    for sheet in sheets:
        sheet.cells = [replace(cell, text=cell.text.replace(".", ",")) if cell.number else cell for cell in sheet.cells]


@dataclass(slots=True, kw_only=True)
class Extent:
    """Counts the cells of a workbook while they are read, so that a bomb stops early."""

    cells: int = 0

    def add(self, row: int, column: int) -> None:
        """Count a cell with text; raise `SheetRefused` (sheet_too_large) beyond the bounds."""
        self.cells += 1
        if self.cells > MOST_CELLS:
            raise SheetRefused(
                "sheet_too_large", f"the workbook has more than {MOST_CELLS} cells: split off the rows with torques"
            )
        if row * column > MOST_PLACES:
            raise SheetRefused(
                "sheet_too_large",
                f"a cell stands as far out as row {row}, column {column}: delete what lies far from the tables",
            )


def place_merged(
    cells: list[Shown],
    merged: dict[tuple[int, int], tuple[int, int]],
    rows: set[int],
    columns: set[int],
) -> Iterator[Shown]:
    """Yield the cells that show, with their spans; hidden rows and columns shorten a span and hide a cell.

    `merged` gives (row span, column span) by the place of the top left cell; what it covers does not show.
    A merged cell with a hidden first row shows in the rest, and is placed there.
    Raises `SheetRefused` (sheet_too_large) when merged cells cover more than `MOST_PLACES`.
    """
    if sum(down * across for down, across in merged.values()) > MOST_PLACES:
        raise SheetRefused("sheet_too_large", "the merged cells of a worksheet cover too much of it: unmerge them")
    covered = {
        (r, c)
        for (row, column), (down, across) in merged.items()
        for r in range(row, row + down)
        for c in range(column, column + across)
        if (r, c) != (row, column)
    }
    for cell in cells:
        if (cell.row, cell.column) in covered:
            continue
        down, across = merged.get((cell.row, cell.column), (1, 1))
        if (down, across) == (1, 1):
            if cell.row not in rows and cell.column not in columns:
                yield cell
            continue
        seen_rows = [r for r in range(cell.row, cell.row + down) if r not in rows]
        seen_columns = [c for c in range(cell.column, cell.column + across) if c not in columns]
        if seen_rows and seen_columns:
            yield replace(
                cell,
                stored_at=(cell.row, cell.column),
                row=seen_rows[0],
                column=seen_columns[0],
                row_span=seen_rows[-1] - seen_rows[0] + 1,
                column_span=seen_columns[-1] - seen_columns[0] + 1,
            )
