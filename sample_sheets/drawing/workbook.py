"""Writes workbooks part by part, always the same bytes: stored, not packed, with one date for all parts."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from xml.sax.saxutils import escape

_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_ODF = "urn:oasis:names:tc:opendocument:xmlns"
_OPENING = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'

#: Number formats by the name under which a cell asks for one; the number is the place in cellXfs.
FORMATS = {"": 0, "two decimals": 1, "day": 2}
_STYLES = (
    f'<styleSheet xmlns="{_MAIN}"><numFmts count="1"><numFmt numFmtId="170" formatCode="d\\-mmm"/></numFmts>'
    '<fonts count="1"><font><sz val="11"/><name val="Calibri"/></font></fonts>'
    '<fills count="1"><fill><patternFill patternType="none"/></fill></fills><borders count="1"><border/></borders>'
    '<cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="3"><xf/><xf numFmtId="2" applyNumberFormat="1"/>'
    '<xf numFmtId="170" applyNumberFormat="1"/></cellXfs>'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A cell that stores a number and shows it in a format of `FORMATS`."""

    digits: str
    format: str = "two decimals"


@dataclass(frozen=True, slots=True, kw_only=True)
class Worksheet:
    """Rows of cells (texts, numbers, None), merged places ("A1:E1"), hidden row numbers from 1."""

    name: str
    rows: Sequence[Sequence[str | Number | None]]
    merged: Sequence[str] = ()
    hidden_rows: frozenset[int] = frozenset()
    hidden: bool = False


def write_xlsx(path: Path, sheets: Sequence[Worksheet]) -> None:
    """Write the worksheets as `.xlsx`."""

    def state(sheet: Worksheet) -> str:
        return "hidden" if sheet.hidden else "visible"

    numbers = range(1, len(sheets) + 1)
    kinds = "".join(
        f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{_TYPES}.worksheet+xml"/>' for n in numbers
    )
    listed = "".join(
        f'<sheet name="{escape(s.name)}" sheetId="{n}" state="{state(s)}" r:id="r{n}"/>'
        for n, s in zip(numbers, sheets, strict=True)
    )
    relations = "".join(
        f'<Relationship Id="r{n}" Type="{_OFFICE}/worksheet" Target="worksheets/sheet{n}.xml"/>' for n in numbers
    )
    parts = {
        "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{_TYPES}.sheet.main+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{_TYPES}.styles+xml"/>{kinds}</Types>',
        "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">'
        f'<Relationship Id="r1" Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}"><sheets>{listed}</sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">{relations}'
        f'<Relationship Id="s1" Type="{_OFFICE}/styles" Target="styles.xml"/></Relationships>',
        "xl/styles.xml": _STYLES,
    }
    parts |= {f"xl/worksheets/sheet{n}.xml": _write_sheet(s) for n, s in zip(numbers, sheets, strict=True)}
    _write_parts(path, {name: _OPENING + text for name, text in parts.items()})


def _write_sheet(sheet: Worksheet) -> str:
    rows = []
    for number, cells in enumerate(sheet.rows, start=1):
        hidden = ' hidden="1"' if number in sheet.hidden_rows else ""
        told = "".join(_write_cell(f"{chr(64 + at)}{number}", cell) for at, cell in enumerate(cells, start=1))
        rows.append(f'<row r="{number}"{hidden}>{told}</row>')
    merged = "".join(f'<mergeCell ref="{place}"/>' for place in sheet.merged)
    block = f'<mergeCells count="{len(sheet.merged)}">{merged}</mergeCells>' if merged else ""
    return f'<worksheet xmlns="{_MAIN}"><sheetData>{"".join(rows)}</sheetData>{block}</worksheet>'


def _write_cell(place: str, cell: str | Number | None) -> str:
    if cell is None:
        return ""
    if isinstance(cell, Number):
        return f'<c r="{place}" s="{FORMATS[cell.format]}"><v>{cell.digits}</v></c>'
    return f'<c r="{place}" t="inlineStr"><is><t>{escape(cell)}</t></is></c>'


def write_ods(path: Path, name: str, rows: Sequence[Sequence[str | Number]]) -> None:
    """Write one table as `.ods`; numbers show two decimals with a decimal comma."""
    told = "".join(f"<table:table-row>{''.join(map(_write_ods_cell, cells))}</table:table-row>" for cells in rows)
    spaces = " ".join(f'xmlns:{one}="{_ODF}:{one}:1.0"' for one in ("office", "table", "text"))
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    entries = "".join(
        f'<manifest:file-entry manifest:full-path="{part}" manifest:media-type="{media}"/>'
        for part, media in (("/", kind), ("content.xml", "text/xml"))
    )
    _write_parts(
        path,
        {
            "mimetype": kind,
            "content.xml": f'{_OPENING}<office:document-content {spaces} office:version="1.3"><office:body>'
            f'<office:spreadsheet><table:table table:name="{escape(name)}">{told}</table:table>'
            "</office:spreadsheet></office:body></office:document-content>",
            "META-INF/manifest.xml": f'{_OPENING}<manifest:manifest xmlns:manifest="{_ODF}:manifest:1.0" '
            f'manifest:version="1.3">{entries}</manifest:manifest>',
        },
    )


def _write_ods_cell(cell: str | Number) -> str:
    if isinstance(cell, Number):
        shown = f"{cell.digits}0".replace(".", ",")
        stored = f'office:value-type="float" office:value="{cell.digits}"'
        return f"<table:table-cell {stored}><text:p>{shown}</text:p></table:table-cell>"
    if not cell:
        return "<table:table-cell/>"
    return f'<table:table-cell office:value-type="string"><text:p>{escape(cell)}</text:p></table:table-cell>'


def _write_parts(path: Path, parts: Mapping[str, str]) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as archive:
        for name, text in parts.items():
            archive.writestr(zipfile.ZipInfo(name, (2030, 1, 1, 0, 0, 0)), text.encode("utf-8"))
