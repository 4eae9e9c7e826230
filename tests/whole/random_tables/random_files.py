"""The same random tables as workbooks and saved web pages, with figures that do not show planted among them.

A planted figure (`PLANTED`) stands in hidden rows, columns and worksheets, is struck out or not displayed; no
reading may release it.
"""

from __future__ import annotations

import html
import random
from collections.abc import Sequence
from pathlib import Path
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile

import openpyxl
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.worksheet.worksheet import Worksheet
from random_sheets import UNITS, Sheet, choose_rows, choose_words

PLANTED = "7.77"
KINDS = ("xlsx", "ods", "html")
_SPACES = " ".join(
    f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"' for name in ("office", "table", "text", "style")
)
_STYLES = (
    '<style:style style:name="struck"><style:text-properties style:text-line-through-style="solid"/></style:style>'
)
_PLACES = {"head": "{} {}", "round": "{} ({})", "square": "{} [{}]", "cell": "{}"}

Rows = Sequence[Sequence[str]]


def write_file(folder: Path, seed: int) -> Sheet:
    """Write the file of this seed into the folder."""
    dice = random.Random(seed)
    kind = dice.choice(KINDS)
    language, head, labels = choose_words(dice, printable=False)
    unit, mark, place = dice.choice(list(UNITS)), dice.choice(".,"), dice.choice(list(_PLACES))
    printed, stated = choose_rows(dice, labels, unit if place == "cell" else "", UNITS[unit], mark)
    rows = [[head[0], f"{head[1]} mm²", _PLACES[place].format(head[2], unit)], *printed]
    order = dice.sample(range(3), 3)
    rows = [[row[i] for i in order] for row in rows]
    path = folder / f"file_{seed}.{kind}"
    torque = order.index(2)
    {"xlsx": write_xlsx, "ods": write_ods, "html": write_html}[kind](path, rows, torque, dice)
    return Sheet(path=path, layout=kind, language=language, stated=tuple(stated))


def plant_row(rows: Rows, torque: int, dice: random.Random) -> tuple[int, list[str]]:
    """Return where a planted row goes in, and the row: a copy of another with the planted figure."""
    at = dice.randint(1, len(rows))
    planted = list(rows[dice.randint(1, len(rows) - 1)])
    planted[torque] = PLANTED
    return at, planted


def write_xlsx(path: Path, rows: Rows, torque: int, dice: random.Random) -> None:
    """Write a workbook: the table somewhere on the sheet, figures as numbers or texts, some parts hidden."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    first, left = dice.randint(1, 5), dice.randint(1, 3)
    if first > 2:
        sheet.cell(1, left, "Lantern Quay breakers")
        sheet.merge_cells(start_row=1, end_row=1, start_column=left, end_column=left + 2)
    at, planted = plant_row(rows, torque, dice)
    hidden = dice.random() < 0.6
    told = [*rows[:at], planted, *rows[at:]] if hidden else list(rows)
    for down, row in enumerate(told):
        for across, text in enumerate(row):
            _fill(
                sheet, first + down, left + across, text, struck=across == torque and down > 0 and dice.random() < 0.2
            )
    if hidden:
        sheet.row_dimensions[first + at].hidden = True
    if dice.random() < 0.3:
        column = left + 3
        for down, row in enumerate(told):
            sheet.cell(first + down, column, row[torque] if down == 0 else float(PLANTED))
        sheet.column_dimensions[openpyxl.utils.get_column_letter(column)].hidden = True
    if dice.random() < 0.3:
        old = book.create_sheet("Old", 0)
        for row in (rows[0], planted):
            old.append(list(row))
        old.sheet_state = "hidden"
    book.save(path)


def _fill(sheet: Worksheet, row: int, column: int, text: str, *, struck: bool) -> None:
    """Put a text into a cell, as a number with that many decimals shown where it is a plain figure."""
    whole, _, part = text.partition(".")
    if struck:
        sheet.cell(row, column, CellRichText(TextBlock(InlineFont(strike=True), PLANTED), f" {text}"))
    elif whole.isdecimal() and (part.isdecimal() or text == whole):
        cell = sheet.cell(row, column, float(text))
        cell.number_format = "0." + "0" * len(part) if part else "0"
    else:
        cell = sheet.cell(row, column, text)
        cell.data_type = "s"


def write_ods(path: Path, rows: Rows, torque: int, dice: random.Random) -> None:
    """Write an OpenDocument spreadsheet with a planted row that is filtered out, and struck texts."""
    at, planted = plant_row(rows, torque, dice)
    lines = [_ods_row(row, torque if at and dice.random() < 0.2 else None) for row in rows[1:]]
    lines.insert(0, _ods_row(rows[0], None))
    lines.insert(at, _ods_row(planted, None, 'table:visibility="filter"'))
    if dice.random() < 0.5:
        title = "<table:table-cell><text:p>Lantern Quay breakers</text:p></table:table-cell>"
        lines.insert(0, f"<table:table-row>{title}</table:table-row>")
    content = (
        f"<office:document-content {_SPACES}><office:automatic-styles>{_STYLES}</office:automatic-styles>"
        f'<office:body><office:spreadsheet><table:table table:name="Sheet1">{"".join(lines)}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    with ZipFile(path, "w", ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", content)
        archive.writestr(
            "META-INF/manifest.xml", '<m:manifest xmlns:m="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>'
        )


def _ods_row(row: Sequence[str], struck: int | None, attributes: str = "") -> str:
    cells = []
    for at, text in enumerate(row):
        old = f'<text:span text:style-name="struck">{PLANTED}</text:span> ' if at == struck else ""
        cells.append(
            f'<table:table-cell office:value-type="string"><text:p>{old}{escape(text)}</text:p></table:table-cell>'
        )
    return f"<table:table-row {attributes}>{''.join(cells)}</table:table-row>"


def write_html(path: Path, rows: Rows, torque: int, dice: random.Random) -> None:
    """Write a page: the table between prose, a planted row that is not displayed, deleted texts, other tables."""
    at, planted = plant_row(rows, torque, dice)
    hiding = dice.choice(("hidden", 'class="old"', 'style="display:none"', 'id="gone"'))
    lines = [_html_row(row, "td", torque if dice.random() < 0.2 else None) for row in rows[1:]]
    lines.insert(at - 1, _html_row(planted, "td", None, hiding))
    head = _html_row(rows[0], dice.choice(("th", "td")), None)
    body = f"<thead>{head}</thead><tbody>{''.join(lines)}</tbody>" if dice.random() < 0.5 else head + "".join(lines)
    outer = "<table><tr><td>Start<td>{}</table>" if dice.random() < 0.3 else "<div>{}</div>"
    style = "<style>.old, #gone { display: none } @media print { table { display: none } }</style>"
    page = (
        f"<html><head><meta charset='utf-8'><title>Breakers</title>{style}</head><body><h1>Lantern Quay breakers</h1>"
        f"<p>For copper conductors.</p>{outer.format(f'<table>{body}</table>')}<p>Printed once a year.</body></html>"
    )
    path.write_text(page, encoding="utf-8")


def _html_row(row: Sequence[str], tag: str, struck: int | None, attributes: str = "") -> str:
    cells = []
    for at, text in enumerate(row):
        old = f"<del>{PLANTED}</del> " if at == struck else ""
        cells.append(f"<{tag}>{old}{html.escape(text).replace('mm²', 'mm<sup>2</sup>')}</{tag}>")
    return f"<tr {attributes}>{''.join(cells)}</tr>"
