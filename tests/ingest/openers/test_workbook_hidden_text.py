"""What a workbook does not show, or may not show, is no figure: left out or held, in both kinds of workbooks."""

from __future__ import annotations

from pathlib import Path

import pytest
from sheet_files import ods_parts, ods_row, texts, write_parts, xlsx_parts

from torquary_ingest.reader import read_sheet
from torquary_schema.values import SheetReport

HEAD = ("Terminal", "Torque N·m")
_WHITE, _GREY = '<color rgb="FFFFFFFF"/>', '<color rgb="FF808080"/>'
_SOLID = '<fill><patternFill patternType="solid"><fgColor rgb="FF{}"/></patternFill></fill>'


def xlsx(folder: Path, cell: str, *, styles: str = "", before: str = "", after: str = "", row: str = "") -> SheetReport:
    line = f'<row r="2"{row}><c r="A2" t="inlineStr"><is><t>Line</t></is></c>{cell}</row>'
    sheet = f"{before}<sheetData>{texts(1, *HEAD)}{line}</sheetData>{after}"
    return read_sheet(write_parts(folder / "qx.xlsx", xlsx_parts(sheet, styles=styles)))


def styled(*, font: str = "", fill: str = "", code: str = "", changed: str = "", aligned: str = "") -> str:
    """Return styles of which number 1 has the font, fill and number format, and a conditional format number 0."""
    return (
        f'<numFmts><numFmt numFmtId="170" formatCode="{code or "0.0"}"/></numFmts>'
        f"<fonts><font/><font>{font}</font></fonts><fills><fill><patternFill/></fill>{fill or '<fill/>'}</fills>"
        f'<cellXfs><xf/><xf fontId="1" fillId="{1 if fill else 0}" numFmtId="170">{aligned}</xf></cellXfs>'
        f"<dxfs><dxf>{changed}</dxf></dxfs>"
    )


NUMBER = '<c r="B2" s="1"><v>2.5</v></c>'
TEXT = '<c r="B2" s="1" t="inlineStr"><is><t>2.5</t></is></c>'
RULED = (
    '<conditionalFormatting sqref="A1:C9"><cfRule type="expression" dxfId="0" priority="1"><formula>1</formula>'
    "</cfRule></conditionalFormatting>"
)
ICONS = (
    '<conditionalFormatting sqref="B2"><cfRule type="iconSet"><iconSet showValue="0"/></cfRule>'
    "</conditionalFormatting>"
)
SCALE = (
    '<conditionalFormatting sqref="B2"><cfRule type="colorScale"><colorScale><cfvo/><cfvo/><color rgb="FF000000"/>'
    '<color rgb="FFFFFFFF"/></colorScale></cfRule></conditionalFormatting>'
)
RUNS = '<c r="B2" t="inlineStr"><is><r><t>2.5</t></r><r><rPr>{}</rPr><t>9</t></r></is></c>'

#: name: (styles, cell, behind the rows, attributes of the row, before the rows)
HELD: dict[str, tuple[str, str, str, str, str]] = {
    "white font": (styled(font=_WHITE), NUMBER, "", "", ""),
    "white font, text": (styled(font=_WHITE), TEXT, "", "", ""),
    "font like the fill": (styled(font=_GREY, fill=_SOLID.format("808080")), NUMBER, "", "", ""),
    "font almost like the fill": (styled(font=_GREY, fill=_SOLID.format("858585")), NUMBER, "", "", ""),
    "black on black": (styled(fill=_SOLID.format("000000")), NUMBER, "", "", ""),
    "font by theme": (styled(font='<color theme="0"/>'), NUMBER, "", "", ""),
    "font by theme and tint": (styled(font='<color theme="1" tint="0.999"/>'), NUMBER, "", "", ""),
    "font by palette": (styled(font='<color indexed="9"/>'), NUMBER, "", "", ""),
    "tiny font": (styled(font='<sz val="1"/>'), NUMBER, "", "", ""),
    "white by number format": (styled(code="[White]0.0"), NUMBER, "", "", ""),
    "white by number of the palette": (styled(code="[Color2]0.0"), NUMBER, "", "", ""),
    "white texts by number format": (styled(code="0.0;0.0;0.0;[White]@"), TEXT, "", "", ""),
    "nothing by number format": (styled(code=";;;"), NUMBER, "", "", ""),
    "nothing of texts": (styled(code="0.0;0.0;0.0;"), TEXT, "", "", ""),
    "filled with a digit": (styled(code="0.0*9"), NUMBER, "", "", ""),
    "repeated": (styled(aligned='<alignment horizontal="fill"/>'), NUMBER, "", "", ""),
    "a white run": (styled(), RUNS.format(_WHITE), "", "", ""),
    "a tiny run": (styled(), RUNS.format('<sz val="1"/>'), "", "", ""),
    "conditional white font": (styled(changed=f"<font>{_WHITE}</font>"), NUMBER, RULED, "", ""),
    "conditional number format": (
        styled(changed='<numFmt numFmtId="171" formatCode=";;;"/>'), NUMBER, RULED, "", "",
    ),
    "conditional fill": (
        styled(changed='<fill><patternFill><bgColor rgb="FF000000"/></patternFill></fill>'), NUMBER, RULED, "", "",
    ),
    "conditional strike": (styled(changed="<font><strike/></font>"), NUMBER, RULED, "", ""),
    "conditional over whole columns": (
        styled(changed=f"<font>{_WHITE}</font>"), NUMBER, RULED.replace("A1:C9", "A:C"), "", "",
    ),
    "icons alone": (styled(), NUMBER, ICONS, "", ""),
    "a scale of colours to black": (styled(), NUMBER, SCALE, "", ""),
    "a low row": (styled(), NUMBER, "", ' ht="0.75"', ""),
    "a narrow column": (styled(), NUMBER, "", "", '<cols><col min="2" max="2" width="0.1"/></cols>'),
}  # fmt: skip

SHOWN: dict[str, tuple[str, str, str, str]] = {
    "white on black": (styled(font=_WHITE, fill=_SOLID.format("000000")), NUMBER, "", "2.5"),
    "red by number format": (styled(code="[Red]0.0"), NUMBER, "", "2.5"),
    "a unit by number format": (styled(code="@&quot; N·m&quot;"), TEXT, "", "2.5 N·m"),
    "a red run": (styled(), RUNS.format('<color rgb="FFC00000"/>'), "", "2.59"),
    "conditional red font": (styled(changed='<font><color rgb="FFC00000"/></font>'), NUMBER, RULED, "2.5"),
    "conditional format elsewhere": (
        styled(changed=f"<font>{_WHITE}</font>"), NUMBER, RULED.replace("A1:C9", "D1:D9 A7"), "2.5",
    ),
}  # fmt: skip


def torques(report: SheetReport) -> list[tuple[str, str]]:
    return [(s.torque.printed if s.torque else "", s.state) for s in report.settings]


@pytest.mark.parametrize("name", HELD)
def test_print_of_a_workbook_that_may_not_show_is_held(tmp_path: Path, name: str) -> None:
    styles, cell, after, row, before = HELD[name]
    report = xlsx(tmp_path, cell, styles=styles, after=after, row=row, before=before)
    assert {state for _, state in torques(report)} <= {"held"}


@pytest.mark.parametrize("name", SHOWN)
def test_print_of_a_workbook_that_shows_is_released(tmp_path: Path, name: str) -> None:
    styles, cell, after, shown = SHOWN[name]
    assert torques(xlsx(tmp_path, cell, styles=styles, after=after)) == [(shown, "released")]


def test_values_of_which_the_format_shows_nothing_are_named(tmp_path: Path) -> None:
    for cell in (NUMBER, TEXT):
        report = xlsx(tmp_path, cell, styles=styled(code=";;;"))
        assert any("'2.5'" in finding.message for finding in report.findings)


def style(name: str, inside: str, more: str = "") -> str:
    return f'<style:style style:name="{name}" style:family="table-cell"{more}>{inside}</style:style>'


_INK = '<style:text-properties fo:color="{}"/>'
_MAP = '<style:map style:condition="value()&gt;0" style:apply-style-name="w"/>'
_FORMATS = (
    f'<number:number-style style:name="n">{_INK.format("#ffffff")}<number:number/></number:number-style>'
    '<number:number-style style:name="m"><number:number/>'
    '<style:map style:condition="value()&gt;0" style:apply-style-name="n"/></number:number-style>'
)
_ON = (
    '<calcext:conditional-formats><calcext:conditional-format calcext:target-range-address="QX.A1:QX.B9">'
    '<calcext:condition calcext:apply-style-name="{}" calcext:value="&gt;0"/></calcext:conditional-format>'
    "</calcext:conditional-formats>"
)
_CELL = (
    '<table:table-cell table:style-name="x" office:value-type="float" office:value="2.5"><text:p>{}</text:p>'
    "</table:table-cell>"
)
_PLAIN_CELL = _CELL.format("2.5")

#: name: (styles, cell, columns before the rows, behind the rows, attributes of the row)
ODS_HELD: dict[str, tuple[str, str, str, str, str]] = {
    "white font": (style("x", _INK.format("#ffffff")), _PLAIN_CELL, "", "", ""),
    "font like its ground": (
        style("x", '<style:table-cell-properties fo:background-color="#808080"/>' + _INK.format("#828282")),
        _PLAIN_CELL, "", "", "",
    ),
    "inherited": (
        style("p", _INK.format("#ffffff")) + style("x", "", ' style:parent-style-name="p"'), _PLAIN_CELL, "", "", "",
    ),
    "tiny": (style("x", '<style:text-properties fo:font-size="1pt"/>'), _PLAIN_CELL, "", "", ""),
    "text hidden": (style("x", '<style:text-properties text:display="none"/>'), _PLAIN_CELL, "", "", ""),
    "a white part": (
        style("w", _INK.format("#ffffff")),
        '<table:table-cell office:value-type="string"><text:p>2.5<text:span text:style-name="w">9</text:span>'
        "</text:p></table:table-cell>", "", "", "",
    ),
    "conditional style": (style("w", _INK.format("#ffffff")) + style("x", _MAP), _PLAIN_CELL, "", "", ""),
    "conditional format": (style("w", _INK.format("#ffffff")), _PLAIN_CELL, "", _ON.format("w"), ""),
    "conditional format of a number format": (
        _FORMATS + style("w", "", ' style:data-style-name="n"'), _PLAIN_CELL, "", _ON.format("w"), "",
    ),
    "white by number format": (_FORMATS + style("x", "", ' style:data-style-name="n"'), _PLAIN_CELL, "", "", ""),
    "white by number format on a condition": (
        _FORMATS + style("x", "", ' style:data-style-name="m"'), _PLAIN_CELL, "", "", "",
    ),
    "nothing shown": (_FORMATS + style("x", "", ' style:data-style-name="n"'), _CELL.format(""), "", "", ""),
    "by its column": (
        style("w", _INK.format("#ffffff")), _PLAIN_CELL.replace(' table:style-name="x"', ""),
        '<table:table-column/><table:table-column table:default-cell-style-name="w"/>', "", "",
    ),
    "by its row": (
        style("w", _INK.format("#ffffff")), _PLAIN_CELL.replace(' table:style-name="x"', ""), "", "",
        ' table:default-cell-style-name="w"',
    ),
    "a narrow column": (
        style("c", '<style:table-column-properties style:column-width="0.5mm"/>'), _PLAIN_CELL,
        '<table:table-column/><table:table-column table:style-name="c"/>', "", "",
    ),
    "a column of no width": (
        style("c", '<style:table-column-properties style:column-width="0cm"/>'), _PLAIN_CELL,
        '<table:table-column/><table:table-column table:style-name="c"/>', "", "",
    ),
    "a low row": (
        style("r", '<style:table-row-properties style:row-height="0.02cm"/>'), _PLAIN_CELL, "", "",
        ' table:style-name="r"',
    ),
    "a row of no height": (
        style("r", '<style:table-row-properties style:row-height="0cm"/>'), _PLAIN_CELL, "", "",
        ' table:style-name="r"',
    ),
}  # fmt: skip


def ods(folder: Path, styles: str, cell: str, columns: str = "", after: str = "", row: str = "") -> SheetReport:
    line = ods_row("Line", attributes=row.strip()).replace("</table:table-row>", cell + "</table:table-row>")
    table = f'<table:table table:name="QX">{columns}{ods_row(*HEAD)}{line}{after}</table:table>'
    return read_sheet(write_parts(folder / "qx.ods", ods_parts(table, styles=styles)))


@pytest.mark.parametrize("name", ODS_HELD)
def test_print_of_an_ods_that_may_not_show_is_held(tmp_path: Path, name: str) -> None:
    assert {state for _, state in torques(ods(tmp_path, *ODS_HELD[name]))} <= {"held"}


def test_print_of_an_ods_that_shows_is_released(tmp_path: Path) -> None:
    dark = '<style:table-cell-properties fo:background-color="#000000"/>'
    for styles in (style("x", dark + _INK.format("#ffffff")), style("w", _INK.format("#c00000")) + style("x", _MAP)):
        assert torques(ods(tmp_path, styles, _PLAIN_CELL)) == [("2.5", "released")]
    assert torques(ods(tmp_path, style("w", _INK.format("#c00000")), _PLAIN_CELL, "", _ON.format("w"))) == [
        ("2.5", "released")
    ]
