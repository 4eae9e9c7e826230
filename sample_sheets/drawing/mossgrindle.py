"""Sheets of the invented maker Mossgrindle: a table over three pages, and a spreadsheet's CSV."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, mm, nm
from drawing.grid import Box, Style, draw_grid, head
from drawing.page import Imprint, Paper

MAKER = "Mossgrindle Terminals"

#: Type, smallest and largest conductor, torque or torque range: the whole series of feed-through blocks.
SERIES = (
    ("2.5", "0.2", "4", "0.5", "0.6"),
    ("4", "0.2", "6", "0.6", "0.8"),
    ("6", "0.5", "10", "1.2", "1.5"),
    ("10", "0.5", "16", "1.5", "1.8"),
    ("16", "1.5", "25", "2.0", "2.4"),
    ("25", "2.5", "35", "2.5", "3.0"),
    ("35", "2.5", "50", "3.2", "3.7"),
    ("50", "10", "70", "6", "8"),
    ("70", "16", "95", "8", "10"),
    ("95", "25", "120", "15", "18"),
)
KINDS = (
    ("MG", "feed-through"),
    ("MGN", "neutral, with slider"),
    ("MGE", "earth, green-yellow"),
    ("MGT", "with test socket"),
    ("MGD", "disconnect"),
    ("MGF", "for fuse cartridge"),
    ("MGX", "with cross-connection"),
)

#: Rows on page 1 and on page 2; the rest stand on page 3.
FIRST, SECOND = 30, 31


def draw_terminal_blocks(folder: Path) -> Sheet:
    """One table over three pages: page 2 repeats the heading, page 3 does not."""
    sheet = Sheet(
        file="mossgrindle_terminal_blocks.pdf",
        maker=MAKER,
        shows="three pages, zebra, English and German headings, overleaf with and without the heading",
    )
    paper = Paper(
        folder / sheet.file,
        Imprint(maker=MAKER, what="Terminal blocks MG / Reihenklemmen MG", number="MG-40", edition="Edition 9, 2031"),
    )
    heading: list[Box | str] = [
        head("Type\nTyp"),
        head("Version"),
        head("Conductor mm²\nLeiter mm²"),
        head("Torque N·m\nDrehmoment N·m"),
    ]
    lines: list[list[Box | str]] = []
    for kind, version in KINDS:
        for name, low, high, least, most in SERIES:
            size, torque = mm(low, high), nm(least, most)
            lines.append([f"{kind} {name}", version, size.text(), torque.text()])
            sheet.add([Row(terminal=f"{kind} {name}", size=size, torque=torque, family="tb")])
    widths = [90, 150, 110, 120]
    y = paper.begin_page()
    y = paper.paragraph(56, y + 6, ["Screw terminal blocks for the 35 mm rail. Polyamide, V0. Copper conductors."])
    draw_grid(paper, 56, y + 12, widths, [heading, *lines[:FIRST]], Style(look="zebra"))
    y = paper.begin_page()
    draw_grid(paper, 56, y, widths, [heading, *lines[FIRST : FIRST + SECOND]], Style(look="zebra"))
    y = paper.begin_page()
    draw_grid(paper, 56, y, widths, lines[FIRST + SECOND :], Style(look="zebra", heading_rows=0))
    paper.close()
    return sheet


def write_spreadsheet(folder: Path) -> Sheet:
    """A spreadsheet's CSV: semicolons, decimal commas, Windows code page, lines above, units under the heading."""
    sheet = Sheet(
        file="mossgrindle_verteilerklemmen.csv",
        maker=MAKER,
        shows="CSV from a spreadsheet: semicolons, decimal commas, cp1252, preamble, units row, footer",
    )
    lines = (
        ("MGV 16", "Durchgangsklemme", mm("1.5", "25"), nm("2.0", "2.4")),
        ("MGV 35", "Durchgangsklemme", mm("2.5", "50"), nm("3.2", "3.7")),
        ("MGV 70", "Durchgangsklemme", mm("16", "95"), nm("8", "10")),
        ("MGV PE 16", "Schutzleiterklemme grün/gelb", mm("1.5", "25"), nm("2.0")),
    )
    text = [
        "Mossgrindle Terminals;;;",
        "Reihenklemmen MGV für Verteiler;;;",
        ";;;",
        "Typ;Ausführung;Querschnitt;Anzugsdrehmoment",
        ";;mm²;N·m",
    ]
    for name, version, size, torque in lines:
        text.append(f"{name};{version};{size.text(comma=True)};{torque.text(comma=True)}")
        sheet.add([Row(terminal=name, size=size, torque=torque, family="tb")])
    text += [";;;", "Nur Kupferleiter, Abisolierlänge nach Prägung am Gehäuse;;;"]
    (folder / sheet.file).write_bytes(("\r\n".join(text) + "\r\n").encode("cp1252"))
    return sheet
