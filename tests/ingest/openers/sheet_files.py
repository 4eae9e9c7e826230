"""Writes small workbooks part by part, so that a test says exactly what is stored in them."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping
from pathlib import Path
from xml.sax.saxutils import escape

_RELS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_ODS = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" '
    'xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" '
    'xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" '
    'xmlns:number="urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0" '
    'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'
)


def write_parts(path: Path, parts: Mapping[str, str | bytes]) -> Path:
    """Write a zip with these parts."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return path


def xlsx_parts(sheet: str, *, styles: str = "", state: str = "", name: str = "QX breakers") -> dict[str, str]:
    """Return the parts of a workbook of one worksheet; `sheet` is the inside of its <worksheet>."""
    hidden = f' state="{state}"' if state else ""
    return {
        "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}/content-types">'
        '<Default Extension="xml" ContentType="application/xml"/>'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/></Types>',
        "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}/relationships"><Relationship Id="r1" '
        f'Type="{_RELS}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{_MAIN}" xmlns:r="{_RELS}"><sheets>'
        f'<sheet name="{escape(name)}" sheetId="1"{hidden} r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">'
        f'<Relationship Id="r1" Type="{_RELS}/worksheet" Target="worksheets/sheet1.xml"/>'
        f'<Relationship Id="r2" Type="{_RELS}/styles" Target="styles.xml"/></Relationships>',
        "xl/styles.xml": f'<styleSheet xmlns="{_MAIN}">{styles}</styleSheet>',
        "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{_MAIN}">{sheet}</worksheet>',
    }


def texts(row: int, *values: str, attributes: str = "") -> str:
    """Return a row of text cells, from column A."""
    cells = "".join(
        f'<c r="{"ABCDEFGH"[at]}{row}" t="inlineStr"><is><t>{escape(value)}</t></is></c>'
        for at, value in enumerate(values)
        if value
    )
    return f'<row r="{row}"{attributes}>{cells}</row>'


def ods_parts(tables: str, *, styles: str = "", manifest: str = "") -> dict[str, str]:
    """Return the parts of an OpenDocument spreadsheet; `tables` is the inside of <office:spreadsheet>."""
    return {
        "mimetype": "application/vnd.oasis.opendocument.spreadsheet",
        "META-INF/manifest.xml": '<m:manifest xmlns:m="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
        f"{manifest}</m:manifest>",
        "content.xml": f"<office:document-content {_ODS}><office:automatic-styles>{styles}"
        f"</office:automatic-styles><office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body>"
        "</office:document-content>",
    }


def ods_row(*values: str, attributes: str = "") -> str:
    """Return a row of text cells."""
    cells = "".join(
        f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p></table:table-cell>'
        if value
        else "<table:table-cell/>"
        for value in values
    )
    return f"<table:table-row{' ' + attributes if attributes else ''}>{cells}</table:table-row>"
