"""A French sheet of the invented maker Pelquorre: properties and values, no table head."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, mm, nm
from drawing.grid import Box, Style, draw_grid
from drawing.page import Imprint, Paper

MAKER = "Pelquorre Appareillage"


def draw_main_switch(folder: Path) -> Sheet:
    """Two lists of properties, each under the name of the terminals it speaks for."""
    sheet = Sheet(file="pelquorre_interrupteur.pdf", maker=MAKER, shows="French, key and value lists")
    paper = Paper(
        folder / sheet.file,
        Imprint(
            maker=MAKER,
            what="Interrupteur-sectionneur PQ 125",
            number="FT 0452",
            edition="Édition 5, septembre 2029",
        ),
    )
    y = paper.begin_page()
    y = paper.paragraph(
        56,
        y + 6,
        ["Interrupteur général de tableau, 4 pôles, 125 A, catégorie AC-22A.", "Montage sur rail ou sur platine."],
    )
    parts = (
        ("Bornes amont et aval", mm("2.5", "50"), nm("3.5"), "14 mm", "fente 1 x 6,5"),
        ("Borne de neutre", mm("2.5", "35"), nm("3.0"), "14 mm", "fente 1 x 6,5"),
        ("Bornes auxiliaires 13, 14", mm("0.75", "2.5"), nm("0.8"), "9 mm", "fente 0,8 x 4"),
    )
    for terminal, size, torque, strip, blade in parts:
        paper.text(56, y + 24, terminal, 10.5, bold=True)
        rows: list[list[Box | str]] = [
            ["Section des conducteurs", size.text(comma=True, dash=" à ", unit=True)],
            ["Longueur de dénudage", strip],
            ["Empreinte de la vis", blade],
            ["Couple de serrage", torque.text(comma=True, unit=True)],
        ]
        y = draw_grid(paper, 56, y + 32, [190, 180], rows, Style(look="horizontal", heading_rows=0, size=9.5))
        sheet.add([Row(terminal=terminal, size=size, torque=torque, family="switch_disc")])
    paper.close()
    return sheet
