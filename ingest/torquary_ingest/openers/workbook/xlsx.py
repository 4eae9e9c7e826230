"""Reads `.xlsx` (ECMA-376 part 1, SpreadsheetML): each visible worksheet as it shows."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from lxml import etree

from torquary_ingest.document import Doubt
from torquary_ingest.document.runs import Run, join_runs
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.workbook.archive import Archive, attribute, broken_part, local
from torquary_ingest.openers.workbook.formats import show_date, show_number
from torquary_ingest.openers.workbook.sheet import (
    Extent,
    Sheet,
    Shown,
    Workbook,
    place_merged,
    write_numbers_like_texts,
)
from torquary_ingest.openers.workbook.styles import PLAIN, Style, child, flag, read_styles

_PLACE = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7})")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_WIDEST_SPAN = 100_000
_AGAIN = "open the file in a spreadsheet program and save it again"

Runs = tuple[Run, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Book:
    """What the worksheets share."""

    texts: tuple[Runs, ...]
    styles: tuple[Style, ...]
    from_1904: bool


def read_xlsx(archive: Archive) -> Workbook:
    """Return the workbook; raise `SheetRefused` (sheet_damaged, sheet_too_large) when it cannot be read."""
    folder, name = posixpath.split(_find_workbook(archive))
    root = archive.tree(posixpath.join(folder, name))
    targets = _read_relations(archive, folder, name)
    properties = child(root, "workbookPr")
    book = _Book(
        texts=_read_shared(archive, targets.get("sharedStrings", "")),
        styles=read_styles(archive, targets.get("styles", "")),
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


def _read_shared(archive: Archive, name: str) -> tuple[Runs, ...]:
    """Return the texts that cells refer to by number."""
    if not name or not archive.has(name):
        return ()
    return tuple(_read_runs(item) for item in _stream(archive, name, ("{*}si",)))


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


def _read_runs(item: etree._Element) -> Runs:
    """Return the runs of a text; readings printed above East Asian words (rPh) are none of it."""
    runs: list[Run] = []
    for part in item:
        if local(part) == "t":
            runs.append(Run(text=_unescape(part.text)))
        elif local(part) == "r":
            text = child(part, "t")
            setting = child(part, "rPr")
            raised = struck = False
            if setting is not None:
                height = child(setting, "vertAlign")
                raised = height is not None and attribute(height, "val") == "superscript"
                struck = flag(child(setting, "strike"))
            if text is not None:
                runs.append(Run(text=_unescape(text.text), raised=raised, struck=struck))
    return tuple(runs)


def _unescape(text: str | None) -> str:
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text or "")


def _read_sheet(archive: Archive, part: str, sheet: Sheet, book: _Book, extent: Extent) -> Sheet:
    rows: set[int] = set()
    columns: set[int] = set()
    merged: dict[tuple[int, int], tuple[int, int]] = {}
    cells: list[Shown] = []
    row = 0
    for element in _stream(archive, part, ("{*}row", "{*}col", "{*}mergeCell")):
        kind = local(element)
        if kind == "col" and (attribute(element, "hidden") in ("1", "true") or _is_zero(element, "width")):
            columns |= set(range(_count(element, "min", 1), min(_count(element, "max", 1), 16384) + 1))
        elif kind == "mergeCell":
            merged.update(_read_merge(attribute(element, "ref")))
        elif kind == "row":
            row = _count(element, "r", row + 1)
            if attribute(element, "hidden") in ("1", "true") or _is_zero(element, "ht"):
                rows.add(row)
            cells += _read_row(element, row, sheet, book, extent)
    sheet.hidden_rows = {cell.row for cell in cells if cell.row in rows}
    sheet.hidden_columns = {cell.column for cell in cells if cell.column in columns}
    sheet.cells = list(place_merged(cells, merged, rows, columns))
    return sheet


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


def _read_row(element: etree._Element, row: int, sheet: Sheet, book: _Book, extent: Extent) -> Iterator[Shown]:
    column = 0
    for cell in element:
        if local(cell) != "c":
            continue
        place = _read_place(attribute(cell, "r"))
        column = place[1] if place else column + 1
        if place and place[0] != row:
            raise SheetRefused("sheet_damaged", f"a cell of row {row} says that it is in row {place[0]}: {_AGAIN}")
        shown = _read_cell(cell, row, column, sheet, book)
        if shown is not None:
            extent.add(row, column)
            yield shown


def _read_cell(cell: etree._Element, row: int, column: int, sheet: Sheet, book: _Book) -> Shown | None:
    """Return what a cell shows; None when it is blank."""
    number = _count(cell, "s", 0)
    style = book.styles[number] if number < len(book.styles) else PLAIN
    kind = attribute(cell, "t") or "n"
    stored, formula = child(cell, "v"), child(cell, "f")
    value = _unescape(stored.text) if stored is not None else ""
    here = Shown(row=row, column=column, text="")
    if kind == "inlineStr":
        inside = child(cell, "is")
        return _speak(here, _read_runs(inside) if inside is not None else (), style, sheet)
    if formula is not None and stored is None:
        message = "the formula was never calculated: open the file in a spreadsheet program and save it"
        return replace(here, text="=" + (formula.text or "")[:200], doubts=(_unreadable(message),))
    if not value.strip():
        return None
    if kind == "s":
        known = value.strip().isdecimal() and int(value) < len(book.texts)
        if not known:
            raise SheetRefused("sheet_damaged", f"the text of a cell in row {row} is missing in the file: {_AGAIN}")
        return _speak(here, book.texts[int(value)], style, sheet)
    if kind == "str":
        return _speak(here, (Run(text=value),), style, sheet)
    if kind == "e":
        return replace(here, text=value, doubts=(_unreadable(f"the cell shows the error {value[:20]}"),))
    if kind == "b":
        return replace(here, text="TRUE" if value.strip() == "1" else "FALSE")
    if kind == "d":
        return replace(here, text=value[:10], doubts=(_dated(value[:10]),))
    return _show_number(replace(here, raw=value.strip(), number=True), style, sheet, book)


def _show_number(here: Shown, style: Style, sheet: Sheet, book: _Book) -> Shown | None:
    raw = here.raw or ""
    if style.date:
        text = show_date(raw, from_1904=book.from_1904)
        here = replace(here, text=text, raw=None, number=False, doubts=(_dated(text),))
    else:
        text_or_none = show_number(raw, style.code)
        if text_or_none is None:
            message = f"the number format {style.code[:40]!r} is not understood: compare the figure with the sheet"
            here = replace(here, text=raw, doubts=(_unreadable(message),))
        else:
            here = replace(here, text=text_or_none)
    return _strike(here, style, sheet)


def _speak(here: Shown, runs: Runs, style: Style, sheet: Sheet) -> Shown | None:
    """Return a text cell; its raw text is all that is stored, struck or not."""
    raw = "".join(run.text for run in runs)
    if not raw.strip():
        return None
    spoken = join_runs(runs)
    sheet.struck += spoken.struck
    shown = replace(here, text=spoken.text, raw=raw, marks=spoken.marks, doubts=spoken.doubts)
    return _strike(shown, style, sheet)


def _strike(shown: Shown, style: Style, sheet: Sheet) -> Shown | None:
    """Take out a cell that is struck through as a whole; doubt one printed in the colour of the ground."""
    if style.struck:
        sheet.struck.append(shown.text)
        return None
    if style.white:
        doubt = Doubt(code="text_invisible", message=f"{shown.text!r} is white on white; look at the sheet")
        return replace(shown, doubts=(*shown.doubts, doubt))
    return shown


def _unreadable(message: str) -> Doubt:
    return Doubt(code="number_unreadable", message=message)


def _dated(text: str) -> Doubt:
    return Doubt(code="date_for_range", message=f"the cell holds the date {text}; ask what was printed before")
