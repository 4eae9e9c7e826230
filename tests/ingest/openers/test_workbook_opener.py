"""A workbook is read as it shows: formats, merged cells, hidden parts, struck text; places are the sheet's own."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Font
from openpyxl.worksheet.worksheet import Worksheet
from sheet_files import ods_parts, ods_row, texts, write_parts, xlsx_parts

from torquary_ingest.document import Cell, Document
from torquary_ingest.openers.workbook import WorkbookOpener
from torquary_ingest.openers.workbook.sheet import Shown
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_sheet
from torquary_schema.values import SheetReport

HEAD = ("Terminal", "Conductor mm²", "Torque N·m")
Change = Callable[[Worksheet], None]


def make(path: Path, change: Change) -> Path:
    """Write a sheet with three terminals, changed by the test before it is saved."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "QX breakers"
    for row in (HEAD, ("Line", "1.5–16", 2.5), ("Load", "1.5–10", 2), ("Coil", "0.5–2.5", 0.5)):
        sheet.append(row)
    for row in (2, 3, 4):
        sheet.cell(row, 3).number_format = "0.00"
    change(sheet)
    book.save(path)
    return path


def open_changed(tmp_path: Path, change: Change) -> Document:
    return WorkbookOpener().open(make(tmp_path / "qx.xlsx", change), OpenWish())


def cell_at(document: Document, row: int, column: int) -> Cell | None:
    tables = [table for page in document.pages for table in page.tables or ()]
    return next((c for table in tables for c in table.cells if (c.row, c.column) == (row, column)), None)


def torques(report: SheetReport) -> dict[str, tuple[str, str]]:
    return {s.terminal.printed: (s.torque.printed if s.torque else "", s.state) for s in report.settings}


def codes(report: SheetReport) -> set[str]:
    return {finding.code for setting in report.settings for finding in setting.findings}


def test_a_cell_that_shows_two_decimals_has_two(tmp_path: Path) -> None:
    report = read_sheet(make(tmp_path / "qx.xlsx", lambda sheet: None))
    assert torques(report) == {
        "Line": ("2.50", "released"),
        "Load": ("2.00", "released"),
        "Coil": ("0.50", "released"),
    }
    assert [(s.place.page, s.place.row, s.place.column) for s in report.settings] == [(1, 2, 3), (1, 3, 3), (1, 4, 3)]


def test_places_are_those_of_the_worksheet_wherever_the_table_stands(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet.insert_rows(1, 4)
        sheet.insert_cols(1, 2)
        sheet["C2"] = "Quelmoor miniature circuit breakers"

    report = read_sheet(make(tmp_path / "qx.xlsx", change))
    assert [(s.place.row, s.place.column) for s in report.settings] == [(6, 5), (7, 5), (8, 5)]
    assert report.title == "Quelmoor miniature circuit breakers"
    assert all("Quelmoor" in s.device.printed for s in report.settings)


def test_a_date_that_was_a_range_is_held(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["C3"] = datetime.date(2026, 3, 2)
        sheet["C3"].number_format = "d-mmm"

    report = read_sheet(make(tmp_path / "qx.xlsx", change))
    assert torques(report)["Load"] == ("2026-03-02", "held")
    assert "date_for_range" in codes(report)


@pytest.mark.parametrize(("text", "shown"), [("1,5–16", "2,500"), ("1.5–16", "2.500"), ("16", "2.500")])
def test_numbers_are_shown_with_the_mark_of_the_texts(tmp_path: Path, text: str, shown: str) -> None:
    """Otherwise the 2.500 of a German workbook would be taken for two thousand five hundred."""

    def change(sheet: Worksheet) -> None:
        for row in (2, 3, 4):
            sheet.cell(row, 2, text)
        sheet["C2"].number_format = "0.000"

    cell = cell_at(open_changed(tmp_path, change), 2, 3)
    assert cell is not None
    assert cell.text == shown


def test_merged_cells_are_spans_and_a_label_speaks_for_its_rows(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["A3"] = None
        sheet.merge_cells("A2:A3")

    document = open_changed(tmp_path, change)
    label = cell_at(document, 2, 1)
    assert label is not None
    assert (label.row_span, label.column_span) == (2, 1)
    report = read_sheet(tmp_path / "qx.xlsx")
    assert [s.terminal.printed for s in report.settings] == ["Line", "Line", "Coil"]


@pytest.mark.parametrize("part", ["row", "column"])
def test_hidden_rows_and_columns_are_not_read_and_are_named(tmp_path: Path, part: str) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["D1"], sheet["D2"] = "Torque (old) N·m", 1.2
        sheet.row_dimensions[3].hidden = part == "row"
        sheet.column_dimensions["D"].hidden = part == "column"

    document = open_changed(tmp_path, change)
    hidden = cell_at(document, 3, 1) if part == "row" else cell_at(document, 2, 4)
    assert hidden is None
    assert [f.code for page in document.pages for f in page.findings] == ["page_hidden_text"]
    number = "rows 3" if part == "row" else "columns 4"
    assert number in document.pages[0].findings[0].message


def test_a_merged_cell_whose_first_row_is_hidden_shows_in_the_rest(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["A3"] = None
        sheet.merge_cells("A2:A3")
        sheet.row_dimensions[2].hidden = True

    report = read_sheet(make(tmp_path / "qx.xlsx", change))
    assert torques(report)["Line"] == ("2.00", "released")


def test_hidden_worksheets_are_not_read_and_are_named(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        assert sheet.parent is not None
        old = sheet.parent.create_sheet("edition 1", 0)
        for row in (HEAD, ("Line", "1.5–16", 9.9)):
            old.append(row)
        old.sheet_state = "veryHidden"

    report = read_sheet(make(tmp_path / "qx.xlsx", change))
    assert torques(report)["Line"] == ("2.50", "released")
    assert {s.place.page for s in report.settings} == {2}
    assert any("'edition 1'" in finding.message for finding in report.findings)


def test_struck_text_is_left_out_and_a_struck_figure_gives_none(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["C2"] = CellRichText(TextBlock(InlineFont(strike=True), "2.5"), " 3.5")
        sheet["C3"].font = Font(strike=True)

    report = read_sheet(make(tmp_path / "qx.xlsx", change))
    assert torques(report)["Line"] == ("3.5", "released")
    assert ("2.00", "released") not in torques(report).values()
    assert any("'2.5'" in finding.message and "'2.00'" in finding.message for finding in report.findings)


def test_struck_characters_that_touch_live_ones_hold_the_figure(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet["C2"] = CellRichText(TextBlock(InlineFont(strike=True), "2."), "5")

    report = read_sheet(make(tmp_path / "qx.xlsx", change))
    assert torques(report)["Line"][1] == "held"
    assert "text_struck_out" in codes(report)


def test_raised_marks_are_no_part_of_a_figure_and_a_raised_two_is_a_square(tmp_path: Path) -> None:
    raised = InlineFont(vertAlign="superscript")

    def change(sheet: Worksheet) -> None:
        sheet["B1"] = CellRichText("Conductor mm", TextBlock(raised, "2"))
        sheet["C2"] = CellRichText("2.5", TextBlock(raised, "1)"))
        sheet["A7"] = "1) With ferrules 2.2 N·m"

    document = open_changed(tmp_path, change)
    heading, figure = cell_at(document, 1, 2), cell_at(document, 2, 3)
    assert heading is not None
    assert heading.text == "Conductor mm²"
    assert figure is not None
    assert (figure.text, [mark.text for mark in figure.marks]) == ("2.5", ["1)"])
    report = read_sheet(tmp_path / "qx.xlsx")
    assert torques(report)["Line"] == ("2.5", "held")
    assert "note_changes_value" in codes(report)


@pytest.mark.parametrize(
    ("cell", "shown", "code"),
    [
        ('<c r="C2" s="0"><f>B2*2</f><v>2.5</v></c>', "2.5", None),
        ('<c r="C2" s="0"><f>B2*2</f></c>', "=B2*2", "number_unreadable"),
        ('<c r="C2" t="e"><v>#REF!</v></c>', "#REF!", "number_unreadable"),
        ('<c r="C2" s="1"><v>2.5</v></c>', "2.5", "number_unreadable"),
        ('<c r="C2" s="2"><v>2.5</v></c>', "2.5", "text_invisible"),
        ('<c r="C2" t="d"><v>2026-03-02T00:00:00</v></c>', "2026-03-02", "date_for_range"),
    ],
)
def test_what_is_not_plainly_shown_is_doubted(tmp_path: Path, cell: str, shown: str, code: str | None) -> None:
    styles = (
        '<numFmts count="1"><numFmt numFmtId="170" formatCode="# ?/?"/></numFmts>'
        '<fonts><font/><font><color rgb="FFFFFFFF"/></font></fonts><fills><fill><patternFill/></fill></fills>'
        '<cellXfs><xf/><xf numFmtId="170"/><xf fontId="1"/></cellXfs>'
    )
    row = f'<row r="2"><c r="A2" t="inlineStr"><is><t>Line</t></is></c>{cell}</row>'
    parts = xlsx_parts(f"<sheetData>{texts(1, *HEAD)}{row}</sheetData>", styles=styles)
    document = WorkbookOpener().open(write_parts(tmp_path / "qx.xlsx", parts), OpenWish())
    found = cell_at(document, 2, 3)
    assert found is not None
    assert found.text == shown
    assert [doubt.code for doubt in found.doubts] == ([code] if code else [])


def test_two_readers_that_differ_hold_the_cell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from torquary_ingest.openers.workbook import second_reading

    compare = second_reading._compare

    def read_otherwise(cell: Shown, rows: list[list[object]]) -> Shown:
        return compare(cell, [[3.5 if value == 2.5 else value for value in row] for row in rows])

    monkeypatch.setattr(second_reading, "_compare", read_otherwise)
    report = read_sheet(make(tmp_path / "qx.xlsx", lambda sheet: None))
    assert torques(report)["Line"] == ("2.50", "held")
    assert torques(report)["Load"] == ("2.00", "released")
    assert "readings_differ" in codes(report)


ODS_STYLES = (
    '<style:style style:name="gone" style:family="table"><style:table-properties table:display="false"/></style:style>'
    '<style:style style:name="struck"><style:text-properties style:text-line-through-style="solid"/></style:style>'
    '<style:style style:name="up"><style:text-properties style:text-position="super 58%"/></style:style>'
)
NUMBER = '<table:table-cell office:value-type="float" office:value="{}"><text:p>{}</text:p></table:table-cell>'


def ods_report(tmp_path: Path, rows: str, more: str = "") -> SheetReport:
    table = f'<table:table table:name="QX breakers">{ods_row(*HEAD)}{rows}</table:table>{more}'
    return read_sheet(write_parts(tmp_path / "qx.ods", ods_parts(table, styles=ODS_STYLES)))


def row_of(label: str, cell: str, attributes: str = "") -> str:
    return ods_row(label, "1.5–16", attributes=attributes).replace("</table:table-row>", cell + "</table:table-row>")


def test_ods_shows_the_text_it_keeps(tmp_path: Path) -> None:
    report = ods_report(tmp_path, row_of("Line", NUMBER.format("2.5", "2.50")))
    assert torques(report) == {"Line": ("2.50", "released")}


def test_ods_hidden_rows_and_tables_struck_text_and_dates(tmp_path: Path) -> None:
    date = '<table:table-cell office:value-type="date" office:date-value="2026-03-02"><text:p>2-3</text:p>'
    struck = '<text:p><text:span text:style-name="struck">2.5</text:span> 3.5<text:span text:style-name="up">1'
    rows = (
        row_of("Line", f"<table:table-cell>{struck}</text:span></text:p></table:table-cell>")
        + row_of("Load", date + "</table:table-cell>")
        + row_of("Coil", NUMBER.format("9", "9"), 'table:visibility="collapse"')
        + row_of("N", NUMBER.format("2", "2.0").replace("<text:p>", "<office:annotation>8</office:annotation><text:p>"))
    )
    hidden = f'<table:table table:name="old" table:style-name="gone">{ods_row(*HEAD)}</table:table>'
    report = ods_report(tmp_path, rows, hidden)
    assert torques(report) == {"Line": ("3.5", "held"), "Load": ("2-3", "held"), "N": ("2.0", "released")}
    assert {"date_for_range", "note_unresolved"} <= codes(report)
    said = " ".join(finding.message for finding in report.findings)
    assert "'old'" in said
    assert "rows 4" in said
    assert "'2.5'" in said


def test_ods_repeated_rows_are_each_a_row(tmp_path: Path) -> None:
    blank = '<table:table-row table:number-rows-repeated="1048000"><table:table-cell/></table:table-row>'
    rows = row_of("Line", NUMBER.format("2.5", "2.5"), 'table:number-rows-repeated="2"') + blank
    report = ods_report(tmp_path, rows)
    assert [(s.place.row, s.state) for s in report.settings] == [(2, "released"), (3, "released")]


def test_two_tables_on_a_sheet_have_each_their_own_name(tmp_path: Path) -> None:
    def change(sheet: Worksheet) -> None:
        sheet.insert_rows(1)
        sheet["A1"] = "QX 16"
        sheet["A7"] = "QX 63"
        for column, heading in enumerate(HEAD, start=1):
            sheet.cell(8, column, heading)
            sheet.cell(9, column, ("Line", "2–35", 3.5)[column - 1])
        # Beside the second table stands a third.
        for column, text in enumerate(("Terminal", "Torque N·m"), start=5):
            sheet.cell(8, column, text)
            sheet.cell(9, column, ("PE", "4.5")[column - 1 - 4])

    report = read_sheet(make(tmp_path / "qx.xlsx", change))
    told = {(s.device.printed, s.terminal.printed, s.place.row, s.place.column) for s in report.settings}
    assert {("QX 16", "Line", 3, 3), ("QX 63", "Line", 9, 3), ("QX 63", "PE", 9, 6)} <= told
    assert len(told) == 5


def test_a_worksheet_of_text_is_read_and_speaks_for_all_worksheets(tmp_path: Path) -> None:
    def add_cover(sheet: Worksheet) -> None:
        cover = sheet.parent.create_sheet("Read me", 0)
        title = "Norbrek – Breakers QX, connection data"
        for line in (title, "File QX-DATA-07", "Copper conductors.", "Earth screw 3 N·m"):
            cover.append((line,))

    report = read_sheet(make(tmp_path / "qx.xlsx", add_cover))
    assert report.product == "Breakers QX"
    assert {one.conductor.material for one in report.settings} == {("copper",)}
    assert "3 N·m" in {one.torque.printed for one in report.settings}
