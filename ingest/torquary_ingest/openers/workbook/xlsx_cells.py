"""The cells of an `.xlsx` worksheet: what each shows, and whether its print can be told from its ground."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from lxml import etree

from torquary_ingest.document import Doubt
from torquary_ingest.document.runs import Run, join_runs
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.workbook.archive import attribute, local
from torquary_ingest.openers.workbook.formats import colour_of, show_date, show_number, show_text
from torquary_ingest.openers.workbook.sheet import Sheet, Shown
from torquary_ingest.openers.workbook.styles import Face, Style, Styles, child, read_face
from torquary_ingest.openers.workbook.xlsx_colours import colour_named

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_AGAIN = "open the file in a spreadsheet program and save it again"
_PLAIN_FACE = Face()


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A run of a text, and how its own font is set."""

    run: Run
    face: Face = _PLAIN_FACE


Parts = tuple[Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """What the worksheets share: the texts that cells refer to by number, the formats, the first day."""

    texts: tuple[Parts, ...]
    styles: Styles
    from_1904: bool


def read_parts(item: etree._Element, theme: tuple[str, ...]) -> Parts:
    """Return the runs of a text; readings printed above East Asian words (rPh) are none of it."""
    parts: list[Part] = []
    for part in item:
        if local(part) == "t":
            parts.append(Part(run=Run(text=_unescape(part.text))))
        elif local(part) == "r":
            text, setting = child(part, "t"), child(part, "rPr")
            height = child(setting, "vertAlign") if setting is not None else None
            face = read_face(setting, theme) if setting is not None else _PLAIN_FACE
            raised = height is not None and attribute(height, "val") == "superscript"
            if text is not None:
                run = Run(text=_unescape(text.text), raised=raised, struck=face.struck)
                parts.append(Part(run=run, face=face))
    return tuple(parts)


def _unescape(text: str | None) -> str:
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text or "")


def read_cell(cell: etree._Element, style: Style, sheet: Sheet, book: Book, here: Shown) -> Shown | None:
    """Return what a cell at a place shows; None when it is blank."""
    kind = attribute(cell, "t") or "n"
    stored, formula = child(cell, "v"), child(cell, "f")
    value = _unescape(stored.text) if stored is not None else ""
    if kind == "inlineStr":
        inside = child(cell, "is")
        return _speak(here, read_parts(inside, book.styles.theme) if inside is not None else (), style, sheet)
    if formula is not None and stored is None:
        message = "the formula was never calculated: open the file in a spreadsheet program and save it"
        return replace(here, text="=" + (formula.text or "")[:200], doubts=(_unreadable(message),))
    if not value.strip():
        return None
    if kind == "s":
        known = value.strip().isdecimal() and int(value) < len(book.texts)
        if not known:
            missing = f"the text of a cell in row {here.row} is missing in the file: {_AGAIN}"
            raise SheetRefused("sheet_damaged", missing)
        return _speak(here, book.texts[int(value)], style, sheet)
    if kind == "str":
        return _speak(here, (Part(run=Run(text=value)),), style, sheet)
    if kind == "e":
        return replace(here, text=value, doubts=(_unreadable(f"the cell shows the error {value[:20]}"),))
    if kind == "b":
        return replace(here, text="TRUE" if value.strip() == "1" else "FALSE")
    if kind == "d":
        return replace(here, text=value[:10], doubts=(_dated(value[:10]),))
    return _show_number(replace(here, raw=value.strip(), number=True), style, sheet, book)


def _show_number(here: Shown, style: Style, sheet: Sheet, book: Book) -> Shown | None:
    raw = here.raw or ""
    if style.date:
        text = show_date(raw, from_1904=book.from_1904)
        here = replace(here, text=text, raw=None, number=False, doubts=(_dated(text),))
    else:
        text_or_none = show_number(raw, style.code)
        if text_or_none is None:
            here = replace(here, text=raw, doubts=(_not_understood(style),))
        else:
            here = replace(here, text=text_or_none)
    return _judge(here, style, sheet, colour_of(raw, style.code))


def _speak(here: Shown, parts: Parts, style: Style, sheet: Sheet) -> Shown | None:
    """Return a text cell; its raw text is all that is stored, struck or not."""
    raw = "".join(part.run.text for part in parts)
    if not raw.strip():
        return None
    spoken = join_runs([part.run for part in parts])
    sheet.struck += spoken.struck
    text = show_text(spoken.text, style.code)
    shown = replace(here, text=spoken.text if text is None else text, raw=raw, marks=spoken.marks, doubts=spoken.doubts)
    if text is None:
        shown = _doubt(shown, _not_understood(style))
    faint = [one.run.text for one in parts if one.run.text.strip() and (style.blind(one.face.ink) or one.face.tiny)]
    if faint and not style.blind(None):
        shown = _doubt(shown, _invisible(f"{faint[0].strip()!r} may be taken for its ground"))
    return _judge(shown, style, sheet, colour_of(None, style.code))


def _judge(shown: Shown, style: Style, sheet: Sheet, colour: str) -> Shown | None:
    """Take out a cell that shows nothing or is struck through as a whole; doubt one that may not be seen."""
    if style.face.struck:
        sheet.struck.append(shown.text)
        return None
    if not shown.text.strip():
        sheet.unseen.append(shown.raw or "")
        return None
    if style.blind(colour_named(colour) if colour else None):
        return _doubt(shown, _invisible(f"{shown.text!r} stands in the colour of its ground"))
    if style.face.tiny or style.filling:
        what = "is set too small to be read" if style.face.tiny else "is repeated over the width of its cell"
        return _doubt(shown, _invisible(f"{shown.text!r} {what}"))
    return shown


def _doubt(shown: Shown, doubt: Doubt) -> Shown:
    return replace(shown, doubts=(*shown.doubts, doubt))


def _invisible(what: str) -> Doubt:
    return Doubt(code="text_invisible", message=f"{what}; look at the sheet")


def _not_understood(style: Style) -> Doubt:
    return _unreadable(f"the number format {style.code[:40]!r} is not understood: compare the figure with the sheet")


def _unreadable(message: str) -> Doubt:
    return Doubt(code="number_unreadable", message=message)


def _dated(text: str) -> Doubt:
    return Doubt(code="date_for_range", message=f"the cell holds the date {text}; ask what was printed before")
