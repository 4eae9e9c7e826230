"""Reads `.xlsx` (ECMA-376 part 1, SpreadsheetML): each visible worksheet as it shows."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from lxml import etree

from torquary_ingest.document import Doubt
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.workbook.archive import Archive, attribute, broken_part, local
from torquary_ingest.openers.workbook.conditional import Area, Conditional
from torquary_ingest.openers.workbook.sheet import (
    Extent,
    Sheet,
    Shown,
    Workbook,
    place_merged,
    write_numbers_like_texts,
)
from torquary_ingest.openers.workbook.styles import Style, child, read_styles
from torquary_ingest.openers.workbook.xlsx_cells import Book, Parts, read_cell, read_parts

_PLACE = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7})")
_WIDEST_SPAN = 100_000
_LOW, _NARROW = 4.0, 1.0
"""Points of a row, letters of a column, below which no figure is seen in it (common practice)."""

_AGAIN = "open the file in a spreadsheet program and save it again"

def read_xlsx(archive: Archive) -> Workbook:
    """Return the workbook; raise `SheetRefused` (sheet_damaged, sheet_too_large) when it cannot be read."""
    folder, name = posixpath.split(_find_workbook(archive))
    root = archive.tree(posixpath.join(folder, name))
    targets = _read_relations(archive, folder, name)
    properties = child(root, "workbookPr")
    styles = read_styles(archive, targets.get("styles", ""), targets.get("theme", ""))
    book = Book(
        texts=_read_shared(archive, targets.get("sharedStrings", ""), styles.theme),
        styles=styles,
        from_1904=properties is not None and attribute(properties, "date1904") in ("1", "true"),
    )
    listed = child(root, "sheets")
    entries = list(listed) if listed is not None else []
    visible: list[Sheet] = []
    hidden: list[str] = []
    extent = Extent()
    for number, entry in enumerate(entries, start=1):
        title = attribute(entry, "name")
        part = targets.get(attribute(entry, "id"), "")
        if attribute(entry, "state") in ("hidden", "veryHidden"):
            hidden.append(title)
        elif "/chartsheets/" not in part and "/dialogsheets/" not in part:
            visible.append(_read_sheet(archive, part, Sheet(name=title, number=number), book, extent))
    write_numbers_like_texts(visible)
    return Workbook(sheets=tuple(visible), hidden=tuple(hidden), count=len(entries))


def _find_workbook(archive: Archive) -> str:
    for name, target in _relations(archive, "_rels/.rels", ""):
        if name == "officeDocument":
            return target
    return "xl/workbook.xml"


def _read_relations(archive: Archive, folder: str, name: str) -> dict[str, str]:
    """Return the parts by relation id, and by kind for those of which there is one."""
    found: dict[str, str] = {}
    part = posixpath.join(folder, "_rels", f"{name}.rels")
    if archive.has(part):
        for relation in archive.tree(part):
            target = _resolve(folder, attribute(relation, "Target"))
            found[attribute(relation, "Id")] = target
            found.setdefault(posixpath.basename(attribute(relation, "Type")), target)
    return found


def _relations(archive: Archive, part: str, folder: str) -> Iterator[tuple[str, str]]:
    if archive.has(part):
        for relation in archive.tree(part):
            kind = posixpath.basename(attribute(relation, "Type"))
            yield kind, _resolve(folder, attribute(relation, "Target"))


def _resolve(folder: str, target: str) -> str:
    return target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))


def _read_shared(archive: Archive, name: str, theme: tuple[str, ...]) -> tuple[Parts, ...]:
    """Return the texts that cells refer to by number."""
    if not name or not archive.has(name):
        return ()
    return tuple(read_parts(item, theme) for item in _stream(archive, name, ("{*}si",)))


def _stream(archive: Archive, name: str, tags: tuple[str, ...]) -> Iterator[etree._Element]:
    """Yield the elements of the tags as they end, each freed when it has been used."""
    stream = archive.open(name)
    try:
        events = etree.iterparse(
            stream, events=("end",), tag=tags, resolve_entities=False, no_network=True, huge_tree=False
        )
        for _, element in events:
            yield element
            element.clear()
            while element.getprevious() is not None:
                del element.getparent()[0]
    except etree.XMLSyntaxError:
        raise broken_part(name) from None


def _read_sheet(archive: Archive, part: str, sheet: Sheet, book: Book, extent: Extent) -> Sheet:
    rows, columns, merged = _Lines(_LOW), _Lines(_NARROW), dict[tuple[int, int], tuple[int, int]]()
    conditional = Conditional()
    cells: list[tuple[Shown, Style]] = []
    row = 0
    for element in _stream(archive, part, ("{*}row", "{*}col", "{*}mergeCell", "{*}conditionalFormatting")):
        kind = local(element)
        if kind == "col":
            columns.add(element, "width", _count(element, "min", 1), min(_count(element, "max", 1), 16384))
        elif kind == "mergeCell":
            merged.update(_read_merge(attribute(element, "ref")))
        elif kind == "conditionalFormatting":
            conditional.add(element, _read_areas(element), book.styles)
        elif kind == "row":
            row = _count(element, "r", row + 1)
            rows.add(element, "ht", row, row)
            cells += _read_row(element, row, sheet, book, extent)
    sheet.hidden_rows = {cell.row for cell, _ in cells if cell.row in rows.hidden}
    sheet.hidden_columns = {cell.column for cell, _ in cells if cell.column in columns.hidden}
    seen = [_doubt_place(cell, style, conditional, rows, columns) for cell, style in cells]
    sheet.cells = list(place_merged(seen, merged, rows.hidden, columns.hidden))
    return sheet


@dataclass(slots=True)
class _Lines:
    """Rows or columns that are hidden, and those that are less high or wide than `least` and may as well be."""

    least: float
    hidden: set[int] = field(default_factory=set)
    slight: set[int] = field(default_factory=set)

    def add(self, element: etree._Element, name: str, first: int, last: int) -> None:
        """Take note of the lines from first to last, whose size stands in the attribute of a name."""
        if attribute(element, "hidden") in ("1", "true") or _is_zero(element, name):
            self.hidden |= set(range(first, last + 1))
        elif _is_below(attribute(element, name), self.least):
            self.slight |= set(range(first, last + 1))


def _doubt_place(cell: Shown, style: Style, conditional: Conditional, rows: _Lines, columns: _Lines) -> Shown:
    """Doubt a cell that a conditional format may hide, or that stands in a row or column next to nothing."""
    if conditional.hides(cell.row, cell.column, style):
        message = f"a conditional format may hide {cell.text[:40]!r} or change how it shows; look at the sheet"
    elif cell.row in rows.slight or cell.column in columns.slight:
        message = f"{cell.text[:40]!r} stands in a row or column too small to show it; look at the sheet"
    else:
        return cell
    return replace(cell, doubts=(*cell.doubts, Doubt(code="text_invisible", message=message)))


def _read_areas(element: etree._Element) -> list[Area]:
    """Return the areas that conditional formats are for; extensions name them in an element of their own."""
    named = attribute(element, "sqref") or " ".join(one.text or "" for one in element if local(one) == "sqref")
    areas: list[Area] = []
    for text in named.split():
        first, _, last = text.partition(":")
        start, end = _read_place(first), _read_place(last or first)
        if start is not None and end is not None:
            areas.append((*start, *end))
        else:
            areas.append((1, 1, 2**21, 2**15))  # whole rows or columns: nothing there is certain
    return areas


def _is_below(text: str, least: float) -> bool:
    try:
        return float(text) < least
    except ValueError:
        return False


def _is_zero(element: etree._Element, name: str) -> bool:
    return re.fullmatch(r"0+(?:\.0+)?", attribute(element, name)) is not None


def _count(element: etree._Element, name: str, otherwise: int) -> int:
    text = attribute(element, name)
    return int(text) if text.isdecimal() and 0 < len(text) < 8 else otherwise


def _read_place(text: str) -> tuple[int, int] | None:
    found = _PLACE.fullmatch(text)
    if not found:
        return None
    column = 0
    for letter in found[1]:
        column = column * 26 + ord(letter) - 64
    return int(found[2]), column


def _read_merge(reference: str) -> dict[tuple[int, int], tuple[int, int]]:
    first, _, last = reference.partition(":")
    start, end = _read_place(first), _read_place(last)
    if start is None or end is None or end[0] < start[0] or end[1] < start[1]:
        return {}
    span = (end[0] - start[0] + 1, end[1] - start[1] + 1)
    if span[0] * span[1] > _WIDEST_SPAN:
        raise SheetRefused("sheet_too_large", f"the merged cell {reference[:30]} is too large: unmerge it")
    return {start: span}


def _read_row(
    element: etree._Element, row: int, sheet: Sheet, book: Book, extent: Extent
) -> Iterator[tuple[Shown, Style]]:
    column = 0
    for cell in element:
        if local(cell) != "c":
            continue
        place = _read_place(attribute(cell, "r"))
        column = place[1] if place else column + 1
        if place and place[0] != row:
            raise SheetRefused("sheet_damaged", f"a cell of row {row} says that it is in row {place[0]}: {_AGAIN}")
        style = book.styles.cell(_count(cell, "s", 0))
        shown = read_cell(cell, style, sheet, book, Shown(row=row, column=column, text=""))
        if shown is not None:
            extent.add(row, column)
            yield shown, style
