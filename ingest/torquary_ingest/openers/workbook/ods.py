"""Reads `.ods` (OpenDocument 1.3, part 3): each visible table as it shows. The file keeps the shown text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from lxml import etree

from torquary_ingest.document import Doubt
from torquary_ingest.document.runs import Run, join_runs
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.workbook.archive import Archive, attribute, local
from torquary_ingest.openers.workbook.sheet import Extent, Sheet, Shown, Workbook, place_merged
from torquary_ingest.openers.workbook.styles import child

_CONTENT = "content.xml"
_MANIFEST = "META-INF/manifest.xml"
_WIDEST_SPAN = 100_000
_HIDDEN = ("collapse", "filter")
_GROUPS = ("table-row-group", "table-header-rows", "table-rows")
_COLUMN_GROUPS = ("table-column-group", "table-header-columns", "table-columns")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """What a style says that matters here: struck out, raised, a table that does not show, a number format."""

    struck: bool = False
    raised: bool = False
    hidden: bool = False
    formatted: bool = False


Looks = dict[str, _Look]
_PLAIN = _Look()


def read_ods(archive: Archive) -> Workbook:
    """Return the workbook; raise `SheetRefused`: sheet_encrypted, sheet_damaged, sheet_too_large."""
    if archive.has(_MANIFEST) and any(local(one) == "encryption-data" for one in archive.tree(_MANIFEST).iter()):
        raise SheetRefused("sheet_encrypted", "the workbook is locked with a password: save it without one")
    root = archive.tree(_CONTENT)
    looks: Looks = {}
    if archive.has("styles.xml"):
        _read_looks(archive.tree("styles.xml"), looks)
    _read_looks(root, looks)
    visible: list[Sheet] = []
    hidden: list[str] = []
    extent = Extent()
    tables = _find_tables(root)
    for number, table in enumerate(tables, start=1):
        name = attribute(table, "name")
        if _look_of(table, looks).hidden or attribute(table, "display") == "false":
            hidden.append(name)
        else:
            visible.append(_read_table(table, Sheet(name=name, number=number), looks, extent))
    return Workbook(sheets=tuple(visible), hidden=tuple(hidden), count=len(tables))


def _find_tables(root: etree._Element) -> list[etree._Element]:
    body = child(root, "body")
    inside = child(body, "spreadsheet") if body is not None else None
    if inside is None:
        raise SheetRefused("sheet_not_a_table", "the file is no spreadsheet: save its tables as .ods or .xlsx")
    return [one for one in inside if local(one) == "table"]


def _read_looks(root: etree._Element, looks: Looks) -> None:
    for part in root:
        if local(part) not in ("styles", "automatic-styles"):
            continue
        for style in part:
            if local(style) == "style":
                looks[attribute(style, "name")] = _read_look(style, looks)


def _read_look(style: etree._Element, looks: Looks) -> _Look:
    look = looks.get(attribute(style, "parent-style-name"), _PLAIN)
    if attribute(style, "data-style-name"):
        look = replace(look, formatted=True)
    for part in style:
        if local(part) == "text-properties":
            through = attribute(part, "text-line-through-style") or attribute(part, "text-line-through-type")
            position = attribute(part, "text-position")
            raised = position.startswith("super") or (position[:1].isdigit() and not position.startswith("0"))
            struck = through not in ("", "none") if through else look.struck
            look = replace(look, struck=struck, raised=raised or look.raised)
        elif local(part) == "table-properties" and attribute(part, "display") == "false":
            look = replace(look, hidden=True)
    return look


def _look_of(element: etree._Element, looks: Looks) -> _Look:
    return looks.get(attribute(element, "style-name"), _PLAIN)


def _repeated(element: etree._Element, name: str) -> int:
    text = attribute(element, name)
    return max(1, int(text)) if text.isdecimal() and len(text) < 9 else 1


def _read_table(table: etree._Element, sheet: Sheet, looks: Looks, extent: Extent) -> Sheet:
    hidden_columns: set[int] = set()
    default: dict[int, _Look] = {}
    column = 1
    for element, shows in _walk(table, "table-column", _COLUMN_GROUPS):
        count = min(_repeated(element, "number-columns-repeated"), 16384)
        places = range(column, min(column + count, 16385))
        if not shows or attribute(element, "visibility") in _HIDDEN:
            hidden_columns |= set(places)
        look = looks.get(attribute(element, "default-cell-style-name"), _PLAIN)
        if look != _PLAIN:
            default.update(dict.fromkeys(places, look))
        column += count
    hidden_rows: set[int] = set()
    merged: dict[tuple[int, int], tuple[int, int]] = {}
    cells: list[Shown] = []
    row = 1
    for element, shows in _walk(table, "table-row", _GROUPS):
        count = _repeated(element, "number-rows-repeated")
        found = list(_read_row(element, row, sheet, looks, default, merged))
        for again in range(count if found else 0):
            for cell in found:
                extent.add(row + again, cell.column)
                cells.append(replace(cell, row=row + again))
            if not shows or attribute(element, "visibility") in _HIDDEN:
                hidden_rows.add(row + again)
        if not shows or attribute(element, "visibility") in _HIDDEN:
            hidden_rows |= set(range(row, row + min(count, 10_000)))
        row += count
    sheet.hidden_rows = {cell.row for cell in cells if cell.row in hidden_rows}
    sheet.hidden_columns = {cell.column for cell in cells if cell.column in hidden_columns}
    sheet.cells = list(place_merged(cells, merged, hidden_rows, hidden_columns))
    return sheet


def _walk(
    parent: etree._Element, name: str, groups: tuple[str, ...], shows: bool = True
) -> Iterator[tuple[etree._Element, bool]]:
    """Yield rows or columns in order, those inside groups too, and whether their group shows."""
    for element in parent:
        kind = local(element)
        if kind == name:
            yield element, shows
        elif kind in groups:
            yield from _walk(element, name, groups, shows and attribute(element, "display") != "false")


def _read_row(
    element: etree._Element,
    row: int,
    sheet: Sheet,
    looks: Looks,
    default: dict[int, _Look],
    merged: dict[tuple[int, int], tuple[int, int]],
) -> Iterator[Shown]:
    column = 1
    for cell in element:
        kind = local(cell)
        if kind not in ("table-cell", "covered-table-cell"):
            continue
        count = _repeated(cell, "number-columns-repeated")
        shown = None
        if kind == "table-cell":
            look = _look_of(cell, looks) if attribute(cell, "style-name") else default.get(column, _PLAIN)
            shown = _read_cell(cell, row, column, look, looks, sheet)
            span = (_repeated(cell, "number-rows-spanned"), _repeated(cell, "number-columns-spanned"))
            if span[0] * span[1] > _WIDEST_SPAN:
                raise SheetRefused("sheet_too_large", f"a merged cell in row {row} is too large: unmerge it")
            if span != (1, 1):
                merged[(row, column)] = span
        if shown is not None:
            for again in range(min(count, 16384)):
                yield replace(shown, column=column + again)
        column += count


def _read_cell(cell: etree._Element, row: int, column: int, look: _Look, looks: Looks, sheet: Sheet) -> Shown | None:
    """Return what a cell shows; None when it is blank. Notes hung on a cell do not show."""
    runs: list[Run] = []
    for paragraph in cell:
        if local(paragraph) == "p":
            if runs:
                runs.append(Run(text="\n"))
            runs += _read_paragraph(paragraph, looks, _PLAIN)
    kind = attribute(cell, "value-type")
    number = kind in ("float", "percentage", "currency")
    stored = attribute(cell, "value") if number else ""
    doubts: tuple[Doubt, ...] = ()
    if not any(run.text.strip() for run in runs):
        if not stored:
            return None
        runs = [Run(text=stored)]
        if look.formatted:
            doubts = (Doubt(code="number_unreadable", message="the file does not keep what this cell shows"),)
    if kind in ("date", "time"):
        told = attribute(cell, "date-value") or attribute(cell, "time-value")
        message = f"the cell holds the date {told[:10]}; ask what was printed before"
        doubts = (Doubt(code="date_for_range", message=message),)
    spoken = join_runs(runs)
    if spoken.text.startswith(("#", "Err:")) and attribute(cell, "formula"):
        doubts = (Doubt(code="number_unreadable", message=f"the cell shows the error {spoken.text[:20]}"),)
    sheet.struck += spoken.struck
    if look.struck:
        sheet.struck.append(spoken.text)
        return None
    raw = stored if number else "".join(run.text for run in runs)
    return Shown(
        row=row,
        column=column,
        text=spoken.text,
        raw=None if doubts else raw,
        number=number,
        marks=spoken.marks,
        doubts=(*spoken.doubts, *doubts),
    )


def _read_paragraph(element: etree._Element, looks: Looks, look: _Look) -> Iterator[Run]:
    """Yield the runs of a paragraph or span; blanks and tabs are elements of their own."""
    if element.text:
        yield Run(text=element.text, raised=look.raised, struck=look.struck)
    for part in element:
        kind = local(part)
        if kind == "s":
            yield Run(text=" ")
        elif kind in ("tab", "line-break"):
            yield Run(text="\t" if kind == "tab" else "\n")
        elif kind in ("span", "a", "ruby", "ruby-base"):
            own = _look_of(part, looks)
            both = replace(look, struck=look.struck or own.struck, raised=look.raised or own.raised)
            yield from _read_paragraph(part, looks, both)
        if part.tail:
            yield Run(text=part.tail, raised=look.raised, struck=look.struck)
