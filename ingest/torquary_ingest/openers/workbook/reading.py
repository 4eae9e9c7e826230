"""Workbook to `Document`."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from torquary_ingest.document import Document, Page, Word
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.prose import SIZE, set_line
from torquary_ingest.openers.workbook.archive import Archive
from torquary_ingest.openers.workbook.grid import find_tables_in
from torquary_ingest.openers.workbook.ods import read_ods
from torquary_ingest.openers.workbook.second_reading import compare_values
from torquary_ingest.openers.workbook.sheet import Sheet, Workbook
from torquary_ingest.openers.workbook.xlsx import read_xlsx
from torquary_schema.values import Finding, Place

_TITLE = 1.8 * SIZE
_PITCH = 5 * SIZE
"""Points from a cell of text to the next: each is a block of its own, no second line of the one above."""


def read_workbook(path: Path) -> Document:
    """Return a document with a page for each visible worksheet, its tables given.

    Raises `SheetRefused`: sheet_encrypted, sheet_damaged, sheet_too_large, sheet_unknown_kind,
    sheet_no_pages, sheet_not_a_table.
    """
    archive = Archive(path)
    workbook = _read(archive)
    if not workbook.sheets:
        raise SheetRefused("sheet_no_pages", "no worksheet of the workbook shows: unhide the one that is meant")
    compare_values(archive.raw, workbook)
    pages = tuple(_make_page(sheet) for sheet in workbook.sheets)
    if not any(page.tables for page in pages):
        raise SheetRefused(
            "sheet_not_a_table", "no visible cell of the workbook holds text: see whether it is the right file"
        )
    return Document(
        file=path.name,
        kind="workbook",
        pages=pages,
        page_count=workbook.count,
        digest=hashlib.sha256(archive.raw).hexdigest(),
        findings=(*_describe_hidden(workbook), *_describe_twice(archive)),
    )


def _read(archive: Archive) -> Workbook:
    if archive.has("content.xml"):
        return read_ods(archive)
    if archive.has("xl/workbook.xml") or archive.has("[Content_Types].xml"):
        return read_xlsx(archive)
    raise SheetRefused(
        "sheet_unknown_kind", "the file is a zip and no workbook, whatever its name: unpack it and load what is in it"
    )


def _make_page(sheet: Sheet) -> Page:
    tables = find_tables_in(sheet)
    words = () if tables else tuple(_set_lines(sheet))
    findings = tuple(_describe_left_out(sheet))
    return Page(number=sheet.number, words=words, tables=tables, findings=findings)


def _set_lines(sheet: Sheet) -> Iterator[Word]:
    """Yield the words of a worksheet of text, each cell a line: a cover that says what holds for all worksheets.

    The first one is its title.
    """
    cells = sorted(sheet.cells, key=lambda cell: (cell.row, cell.column))
    for at, cell in enumerate(cells):
        text, size = " ".join(cell.text.split()), SIZE if at else _TITLE
        yield from set_line(text, at * _PITCH, size=size, bold=not at, marks=cell.marks, doubts=cell.doubts)


def _describe_hidden(workbook: Workbook) -> Iterator[Finding]:
    if workbook.hidden:
        names = ", ".join(repr(name[:40]) for name in workbook.hidden[:8])
        yield Finding(
            code="page_hidden_text",
            scope="sheet",
            message=f"hidden worksheets were left out: {names}; unhide them if they are meant to be read",
        )


def _describe_twice(archive: Archive) -> Iterator[Finding]:
    if archive.twice():
        names = ", ".join(repr(name[:40]) for name in archive.twice()[:3])
        message = (
            f"parts are in the workbook twice ({names}), and which one counts cannot be told; what is read is held: "
            "open it in a spreadsheet program, look at it and save it again"
        )
        yield Finding(code="sheet_damaged", scope="sheet", message=message)


def _describe_left_out(sheet: Sheet) -> Iterator[Finding]:
    """Say what of a worksheet does not show, or is struck out, and was not read."""
    parts = [
        f"{name} {_list_numbers(numbers)}"
        for name, numbers in (("rows", sheet.hidden_rows), ("columns", sheet.hidden_columns))
        if numbers
    ]
    if parts:
        yield _left_out(sheet, f"hidden {' and '.join(parts)}", "unhide what is meant to be read")
    if sheet.unseen:
        texts = ", ".join(repr(text[:30]) for text in sheet.unseen[:6])
        yield _left_out(sheet, f"values of which their format shows nothing ({texts})", "compare it with the sheet")
    if sheet.struck:
        texts = ", ".join(repr(text[:30]) for text in sheet.struck[:6])
        yield _left_out(sheet, f"struck-out text ({texts})", "compare it with the sheet")


def _left_out(sheet: Sheet, what: str, advice: str) -> Finding:
    return Finding(
        code="page_hidden_text",
        scope="page",
        message=f"worksheet {sheet.name[:40]!r}: left out as not showing: {what}; {advice}",
        place=Place(page=sheet.number),
    )


def _list_numbers(numbers: set[int]) -> str:
    ordered = sorted(numbers)
    more = f" and {len(ordered) - 8} more" if len(ordered) > 8 else ""
    return ", ".join(map(str, ordered[:8])) + more
