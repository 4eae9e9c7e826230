"""A second, independent reading of the stored values, by calamine: where the two differ, the cell is held."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Sequence
from dataclasses import replace

from python_calamine import CalamineError, CalamineWorkbook, PasswordError

from torquary_ingest.document import Doubt
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.workbook.sheet import Shown, Workbook

_CONTENT = "content.xml"
_BETWEEN_TAGS = re.compile(rb">\s+<")


def compare_values(raw: bytes, workbook: Workbook) -> None:
    """Doubt each cell (in place) whose stored number or text calamine reads otherwise.

    Only the sheets that show are read, after their extent has been bounded: calamine lays a sheet out as a
    full grid. Raises `SheetRefused` when calamine cannot read the file or a sheet at all.
    """
    broken = SheetRefused(
        "sheet_damaged", "the workbook is broken inside: open it in a spreadsheet program and save it again"
    )
    try:
        with _open(raw) as second:
            for sheet in workbook.sheets:
                rows = second.get_sheet_by_name(sheet.name).to_python(skip_empty_area=False)
                sheet.cells = [_compare(cell, rows) for cell in sheet.cells]
    except PasswordError:
        raise SheetRefused("sheet_encrypted", "the workbook is locked with a password: save it without one") from None
    except (CalamineError, OSError, ValueError):
        raise broken from None
    except BaseException as error:
        # A panic inside calamine is no Exception, so that nobody takes it for an answer by mistake.
        if type(error).__name__ != "PanicException":
            raise
        raise broken from None


def _open(raw: bytes) -> CalamineWorkbook:
    """Return a workbook as calamine reads it; an OpenDocument one whose lines are indented only without the blanks.

    Blanks in its texts go with them, which do not count where texts are compared.
    """
    try:
        return CalamineWorkbook.from_filelike(io.BytesIO(raw))
    except PasswordError:
        raise
    except CalamineError:
        if not zipfile.is_zipfile(io.BytesIO(raw)):
            raise
        return CalamineWorkbook.from_filelike(io.BytesIO(_without_indents(raw)))


def _without_indents(raw: bytes) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(made, "w") as new:
        for part in old.infolist():
            content = old.read(part)
            new.writestr(part.filename, _BETWEEN_TAGS.sub(b"><", content) if part.filename == _CONTENT else content)
    return made.getvalue()


def _compare(cell: Shown, rows: Sequence[Sequence[object]]) -> Shown:
    if cell.raw is None:
        return cell
    row, column = (number - 1 for number in cell.stored_at or (cell.row, cell.column))
    other = rows[row][column] if row < len(rows) and column < len(rows[row]) else ""
    if _same(cell, other):
        return cell
    message = f"two readers of the file differ: {cell.raw[:40]!r} and {str(other)[:40]!r}; look at the sheet"
    return replace(cell, doubts=(*cell.doubts, Doubt(code="readings_differ", message=message)))


def _same(cell: Shown, other: object) -> bool:
    raw = cell.raw or ""
    if cell.number:
        # Both come from the same digits, so that equal digits are equal floats; no figure is made of them.
        return isinstance(other, (int, float)) and float(raw) == other
    return "".join(raw.split()) == "".join(str(other).split())
