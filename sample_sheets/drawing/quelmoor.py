"""Sheets of the invented maker Quelmoor that are no paper: two workbooks and a saved web page."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, mm, nm
from drawing.workbook import Number, Worksheet, write_ods, write_xlsx

MAKER = "Quelmoor"


def write_workbook(folder: Path) -> Sheet:
    """RCBOs: merged labels and headings, two decimals shown, a hidden row and sheet, a range made a date."""
    sheet = Sheet(
        file="quelmoor_rcbo.xlsx",
        maker=MAKER,
        shows="workbook: merged cells, number formats, a range turned into a date, a hidden row and a hidden sheet",
    )
    lines = (
        ("RCBO QR 16", "Line L, N", mm("1", "16"), nm("2.5"), ""),
        ("", "Load L', N'", mm("1", "10"), nm("2"), ""),
        ("RCBO QR 40", "Line L, N", mm("1.5", "25"), nm("3"), ""),
        ("", "Outgoing L', N'", mm("1.5", "16"), None, "the spreadsheet made 2 March of a range"),
        ("RCBO QR 40", "Earth lead FE", mm("0.5", "2.5"), nm("0.5"), ""),
    )
    rows: list[list[str | Number | None]] = [
        ["Quelmoor QR residual-current breakers with overcurrent protection", None, None, None],
        ["Torques for copper conductors", None, None, None],
        [],
        ["Device", "Terminal", "Conductor", "Tightening torque"],
        [None, None, "mm²", "N·m"],
    ]
    for device, terminal, size, torque, why in lines:
        shown = Number(digits=torque.low) if torque else Number(digits="47909", format="day")
        rows.append([device or None, terminal, size.text(), shown])
        sheet.add([Row(terminal=terminal, size=None if why else size, torque=torque, why=why, family="rcbo")])
    rows.append(["RCBO QR 10", "Line L, N", "1–6", Number(digits="1.2")])
    current = Worksheet(
        name="QR in force",
        rows=rows,
        merged=("A1:D1", "A4:A5", "B4:B5", "A6:A7", "A8:A9"),
        hidden_rows=frozenset({len(rows)}),
    )
    draft = Worksheet(
        name="QR draft",
        hidden=True,
        rows=[["Device", "Terminal", "Torque N·m"], ["RCBO QR 16", "Line L, N", Number(digits="9")]],
    )
    write_xlsx(folder / sheet.file, [draft, current])
    return sheet


def write_open_document(folder: Path) -> Sheet:
    """Contactors in an OpenDocument spreadsheet: French headings, decimal commas."""
    sheet = Sheet(file="quelmoor_contacteur.ods", maker=MAKER, shows="OpenDocument spreadsheet, French, decimal commas")
    lines = (
        ("Contacteur QC 20", "1/L1, 3/L2, 5/L3", mm("1", "6"), nm("1.2")),
        ("Contacteur QC 20", "Bobine A1, A2", mm("0.75", "2.5"), nm("0.6")),
        ("Contacteur QC 40", "1/L1, 3/L2, 5/L3", mm("2.5", "25"), nm("3.5")),
        ("Contacteur QC 40", "Bobine A1, A2", mm("0.75", "4"), nm("0.8")),
    )
    rows: list[list[str | Number]] = [["Appareil", "Borne", "Section mm²", "Couple de serrage N·m"]]
    for device, terminal, size, torque in lines:
        rows.append([device, terminal, size.text(comma=True), Number(digits=torque.low)])
        sheet.add([Row(terminal=terminal, size=size, torque=torque, family="contactor")])
    write_ods(folder / sheet.file, "Contacteurs QC", rows)
    return sheet


_PAGE = """<!DOCTYPE html>
<html lang="de"><head><meta charset="utf-8"><title>QF 63 | Quelmoor</title>
<style>
nav li {{ display: inline }}
table {{ border-collapse: collapse }}
.archiv {{ display: none }}
@media print {{ table {{ display: none }} }}
</style></head>
<body>
<nav><ul><li>Start</li><li>Produkte</li><li>Dokumente</li></ul></nav>
<h1>Quelmoor Fehlerstrom-Schutzschalter QF 63</h1>
<h2>Anschluss</h2>
<p>Nur Kupferleiter. Schrauben nach einem Tag nicht nachziehen.</p>
<table>
<caption>Anzugsdrehmomente</caption>
<thead>
<tr><th rowspan="2">Klemme<th rowspan="2">Leiter<th>Querschnitt<th>Drehmoment
<tr><th>mm<sup>2</sup><th>N&middot;m
</thead>
<tfoot><tr><td colspan="4"><sup>1)</sup> Aderendh&uuml;lse ohne Kunststoffkragen</tfoot>
<tbody>
{rows}
<tr class="archiv"><td>Ausgabe 2027: Zuleitung<td>starr<td>1&ndash;25<td>9,0
</tbody>
</table>
<p>Bestellnummern auf der n&auml;chsten Seite.</p>
</body></html>
"""


def save_web_page(folder: Path) -> Sheet:
    """Residual-current switches on a saved page: spans, a struck figure, a note mark, a row that does not show."""
    sheet = Sheet(
        file="quelmoor_fi_schalter.html",
        maker=MAKER,
        shows="saved web page, German: spans, struck-out figure, raised note mark, row that does not show",
    )
    lines = (
        ("Zuleitung 1, N", "starr", mm("1.5", "35"), nm("3"), "<del>2,5</del> <ins>{}</ins>"),
        ("Zuleitung 1, N", "feindrähtig", mm("1.5", "25"), nm("2.8"), "{}<sup>1)</sup>"),
        ("Abgang 2, N", "starr", mm("1.5", "35"), nm("2.5", "3.0"), "{}"),
    )
    rows = []
    for at, (terminal, kind, size, torque, form) in enumerate(lines):
        label = {0: f'<td rowspan="2">{terminal}', 1: ""}.get(at, f"<td>{terminal}")
        told = form.format(torque.text(comma=True, dash="&ndash;"))
        rows.append(f"<tr>{label}<td>{kind}<td>{size.text(comma=True, dash='&ndash;')}<td>{told}")
        sheet.add([Row(terminal=terminal, size=size, torque=torque, family="rccb")])
    page = _PAGE.format(rows="\n".join(rows))
    (folder / sheet.file).write_text(page, encoding="utf-8", newline="\n")
    return sheet
