"""Reads `.ods` (OpenDocument 1.3, part 3): each visible table as it shows. The file keeps the shown text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from lxml import etree

from torquary_ingest.document import Doubt
from torquary_ingest.document.runs import Run, join_runs
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.workbook.archive import Archive, attribute, local
from torquary_ingest.openers.workbook.ods_looks import PLAIN, Look, Looks, conditional_areas
from torquary_ingest.openers.workbook.sheet import Extent, Sheet, Shown, Workbook, place_merged
from torquary_ingest.openers.workbook.styles import child

_CONTENT = "content.xml"
_MANIFEST = "META-INF/manifest.xml"
_WIDEST_SPAN = 100_000
_HIDDEN = ("collapse", "filter")
_GROUPS = ("table-row-group", "table-header-rows", "table-rows")
_COLUMN_GROUPS = ("table-column-group", "table-header-columns", "table-columns")


def read_ods(archive: Archive) -> Workbook:
    """Return the workbook; raise `SheetRefused`: sheet_encrypted, sheet_damaged, sheet_too_large."""
    if archive.has(_MANIFEST) and any(local(one) == "encryption-data" for one in archive.tree(_MANIFEST).iter()):
        raise SheetRefused("sheet_encrypted", "the workbook is locked with a password: save it without one")
    root = archive.tree(_CONTENT)
    looks = Looks()
    parts = [archive.tree("styles.xml"), root] if archive.has("styles.xml") else [root]
    for part in (*parts, *parts):  # a style may name one that stands behind it
        looks.read(part)
    visible: list[Sheet] = []
    hidden: list[str] = []
    extent = Extent()
    tables = _find_tables(root)
    for number, table in enumerate(tables, start=1):
        name = attribute(table, "name")
        if looks.of(table).hidden or attribute(table, "display") == "false":
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


def _repeated(element: etree._Element, name: str) -> int:
    text = attribute(element, name)
    return max(1, int(text)) if text.isdecimal() and len(text) < 9 else 1


def _read_table(table: etree._Element, sheet: Sheet, looks: Looks, extent: Extent) -> Sheet:
    columns = _Columns()
    columns.read(table, looks)
    hidden_rows: set[int] = set()
    merged: dict[tuple[int, int], tuple[int, int]] = {}
    cells: list[Shown] = []
    areas = list(conditional_areas(table))
    row = 1
    for element, shows in _walk(table, "table-row", _GROUPS):
        count = _repeated(element, "number-rows-repeated")
        found = list(_read_row(element, row, sheet, looks, columns, merged))
        for again in range(count if found else 0):
            for cell, look in found:
                extent.add(row + again, cell.column)
                cells.append(_doubt_place(replace(cell, row=row + again), look, looks, areas))
        if not shows or attribute(element, "visibility") in _HIDDEN or looks.of(element).zero:
            hidden_rows |= {row + again for again in range(count if found else min(count, 10_000))}
        row += count
    sheet.hidden_rows = {cell.row for cell in cells if cell.row in hidden_rows}
    sheet.hidden_columns = {cell.column for cell in cells if cell.column in columns.hidden}
    sheet.cells = list(place_merged(cells, merged, hidden_rows, columns.hidden))
    return sheet


@dataclass(slots=True)
class _Columns:
    """The columns of a table: those that are hidden, those next to nothing, the looks of their cells."""

    hidden: set[int] = field(default_factory=set)
    slight: set[int] = field(default_factory=set)
    looks: dict[int, Look] = field(default_factory=dict)

    def read(self, table: etree._Element, looks: Looks) -> None:
        """Take note of all columns."""
        column = 1
        for element, shows in _walk(table, "table-column", _COLUMN_GROUPS):
            count = min(_repeated(element, "number-columns-repeated"), 16384)
            places = range(column, min(column + count, 16385))
            own = looks.of(element)
            if not shows or attribute(element, "visibility") in _HIDDEN or own.zero:
                self.hidden |= set(places)
            if own.slight:
                self.slight |= set(places)
            look = looks.named.get(attribute(element, "default-cell-style-name"), PLAIN)
            if look != PLAIN:
                self.looks.update(dict.fromkeys(places, look))
            column += count


def _doubt_place(
    cell: Shown, look: Look, looks: Looks, areas: list[tuple[tuple[int, int, int, int], str]]
) -> Shown:
    """Doubt a cell that a conditional format of its area may hide."""
    if any(
        top <= cell.row <= bottom and left <= cell.column <= right and looks.may_hide(name, look)
        for (top, left, bottom, right), name in areas
    ):
        return _doubt(cell, "has a conditional format that may hide it")
    return cell


def _doubt(cell: Shown, why: str) -> Shown:
    message = f"{cell.text[:40]!r} {why}; look at the sheet"
    return replace(cell, doubts=(*cell.doubts, Doubt(code="text_invisible", message=message)))


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
    columns: _Columns,
    merged: dict[tuple[int, int], tuple[int, int]],
) -> Iterator[tuple[Shown, Look]]:
    column = 1
    own = looks.named.get(attribute(element, "default-cell-style-name"), PLAIN)
    slight = looks.of(element).slight
    for cell in element:
        kind = local(cell)
        if kind not in ("table-cell", "covered-table-cell"):
            continue
        count = _repeated(cell, "number-columns-repeated")
        shown = None
        if kind == "table-cell":
            look = _look_of(cell, column, looks, own, columns)
            shown = _read_cell(cell, row, column, look, looks, sheet)
            span = (_repeated(cell, "number-rows-spanned"), _repeated(cell, "number-columns-spanned"))
            if span[0] * span[1] > _WIDEST_SPAN:
                raise SheetRefused("sheet_too_large", f"a merged cell in row {row} is too large: unmerge it")
            if span != (1, 1):
                merged[(row, column)] = span
        if shown is not None:
            if slight or column in columns.slight:
                shown = _doubt(shown, "stands in a row or column too small to show it")
            for again in range(min(count, 16384)):
                yield replace(shown, column=column + again), look
        column += count


def _look_of(cell: etree._Element, column: int, looks: Looks, of_row: Look, columns: _Columns) -> Look:
    """Return the look of a cell: its own, else its row's, else its column's."""
    if attribute(cell, "style-name"):
        return looks.of(cell)
    return of_row if of_row != PLAIN else columns.looks.get(column, PLAIN)


def _read_cell(cell: etree._Element, row: int, column: int, look: Look, looks: Looks, sheet: Sheet) -> Shown | None:
    """Return what a cell shows; None when it is blank. Notes hung on a cell do not show."""
    runs: list[Run] = []
    for paragraph in cell:
        if local(paragraph) == "p":
            if runs:
                runs.append(Run(text="\n"))
            runs += _read_paragraph(paragraph, looks, PLAIN)
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
    shown = Shown(
        row=row,
        column=column,
        text=spoken.text,
        raw=None if doubts else raw,
        number=number,
        marks=spoken.marks,
        doubts=(*spoken.doubts, *doubts),
    )
    faint = look.gone or any(_is_faint(span, look, looks) for span in cell.iter("{*}span"))
    unseen = looks.unseen(look) or ("has parts that may be taken for its ground" if faint else "")
    return _doubt(shown, unseen) if unseen else shown


def _is_faint(span: etree._Element, look: Look, looks: Looks) -> bool:
    """Tell whether a part of a cell's text may not show on the ground of the cell."""
    own = looks.of(span)
    return own.gone or replace(look, ink=own.ink or look.ink, tiny=own.tiny).blind()


def _read_paragraph(element: etree._Element, looks: Looks, look: Look) -> Iterator[Run]:
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
            own = looks.of(part)
            both = replace(look, struck=look.struck or own.struck, raised=look.raised or own.raised)
            yield from _read_paragraph(part, looks, both)
        if part.tail:
            yield Run(text=part.tail, raised=look.raised, struck=look.struck)
