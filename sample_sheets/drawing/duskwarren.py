"""A sheet of the invented maker Duskwarren: letter size, AWG, pound-inch beside newton metre."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, awg, lbin, nm
from drawing.grid import Box, Style, draw_grid, head
from drawing.page import LETTER, Imprint, Paper

MAKER = "Duskwarren Controls"


def draw_contactor(folder: Path) -> Sheet:
    """Two heading rows with cells merged across, and notes below that leave the figures alone."""
    sheet = Sheet(file="duskwarren_contactor.pdf", maker=MAKER, shows="AWG and lb·in, two heading rows, footnotes")
    paper = Paper(
        folder / sheet.file,
        Imprint(maker=MAKER, what="Contactor DW3, 40 A", number="PUB 77-3", edition="Rev. C, 11/2030"),
        size=LETTER,
    )
    y = paper.begin_page()
    y = paper.paragraph(
        56,
        y + 6,
        ["Three-pole contactor for motor and heating loads, 600 V AC max.", "Coil 24 V or 120 V AC."],
    )
    paper.text(56, y + 22, "Ratings", 11, bold=True)
    ratings: list[list[Box | str]] = [
        [head("Poles"), head("Motor load at 480 V"), head("Heating load"), head("Mechanical life"), head("Weight")],
        ["3", "25 hp", "50 A", "5 million", "1.3 lb"],
    ]
    y = draw_grid(paper, 56, y + 32, [60, 120, 90, 110, 80], ratings, Style(look="ruled")) + 14
    paper.text(56, y + 22, "Wire range and torque", 11, bold=True)
    lines = (
        ("Line L1, L2, L3", awg("14", "8"), lbin("22"), nm("2.5"), "1"),
        ("Load T1, T2, T3", awg("14", "8"), lbin("22"), nm("2.5"), "1"),
        ("Line and load, large wire", awg("6", "4"), lbin("35"), nm("4.0"), ""),
        ("Coil A1, A2", awg("18", "14"), lbin("7"), nm("0.8"), "2"),
        ("Ground", awg("14", "8"), lbin("31"), nm("3.5"), ""),
    )
    rows: list[list[Box | str]] = [
        [head("Terminal", down=2), head("Wire size\nAWG", down=2), head("Torque", across=2, align="centre")],
        [head("lb·in", align="centre"), head("N·m", align="centre")],
    ]
    for terminal, size, pounds, metres, mark in lines:
        rows.append(
            [
                Box(text=terminal, mark=mark),
                size.text(),
                Box(text=pounds.text(), align="centre"),
                Box(text=metres.text(), align="centre"),
            ]
        )
        sheet.add([Row(terminal=terminal, size=size, torque=metres, family="contactor")])
    bottom = draw_grid(paper, 56, y + 32, [170, 90, 70, 70], rows, Style(look="ruled", heading_rows=2))
    paper.paragraph(
        56,
        bottom + 20,
        ["1  Copper wire, 75 °C.", "2  Two wires of the same size are allowed."],
        8.5,
    )
    paper.close()
    return sheet
