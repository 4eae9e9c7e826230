"""A German sheet of the invented maker Zwirbelhorn: decimal commas, only horizontal rules, three captions."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, Size, Torque, mm, nm
from drawing.grid import Box, Style, draw_grid, head
from drawing.page import Imprint, Paper

MAKER = "Zwirbelhorn Schaltgeräte"

#: Caption, family, rows of (terminal, conductor kind, size, torque).
TABLES: tuple[tuple[str, str, tuple[tuple[str, str, Size, Torque], ...]], ...] = (
    (
        "Fehlerstromschutzschalter ZF 40 und ZF 63 (RCCB)",
        "rccb",
        (
            ("1, 3, 5, N oben", "ein- und mehrdrähtig", mm("1.5", "35"), nm("2.5", "3.0")),
            ("2, 4, 6, N unten", "feindrähtig mit Aderendhülse", mm("1.5", "25"), nm("2.5", "3.0")),
        ),
    ),
    (
        "FI/LS-Schalter ZL 16 (RCBO)",
        "rcbo",
        (
            ("Eingang 1, N", "ein- und mehrdrähtig", mm("1", "16"), nm("2.2")),
            ("Ausgang 2, N", "ein- und mehrdrähtig", mm("1", "10"), nm("1.8")),
        ),
    ),
    (
        "Leitungsschutzschalter ZB 6 bis 32 A",
        "mcb",
        (
            ("Eingang 1, 3", "ein- und mehrdrähtig", mm("0.75", "25"), nm("2.8")),
            ("Ausgang 2, 4", "feindrähtig mit Aderendhülse", mm("0.75", "16"), nm("2.8")),
        ),
    ),
)


def draw_protective_devices(folder: Path) -> Sheet:
    """Three tables under one another, each with its caption and horizontal rules only."""
    sheet = Sheet(file="zwirbelhorn_schutzgeraete.pdf", maker=MAKER, shows="German, decimal commas, horizontal rules")
    paper = Paper(
        folder / sheet.file,
        Imprint(
            maker=MAKER,
            what="Schutzgeräte der Reihe Z",
            number="DB 318-07",
            edition="Ausgabe 7, Mai 2030",
            foot="Arbeiten nur durch Elektrofachkräfte",
        ),
    )
    y = paper.begin_page()
    y = paper.paragraph(
        56,
        y + 6,
        [
            "Für Verteiler nach DIN-Schiene 35 mm. Bemessungsspannung 230/400 V, 50 Hz.",
            "Vor dem Arbeiten freischalten und Spannungsfreiheit feststellen.",
        ],
    )
    for caption, family, lines in TABLES:
        paper.text(56, y + 26, caption, 10.5, bold=True)
        rows: list[list[Box | str]] = [
            [head("Klemme"), head("Leiter"), head("Querschnitt mm²"), head("Anzugsdrehmoment Nm")]
        ]
        for terminal, kind, size, torque in lines:
            rows.append([terminal, kind, size.text(comma=True), torque.text(comma=True)])
            sheet.add([Row(terminal=terminal, size=size, torque=torque, family=family)])
        y = draw_grid(paper, 56, y + 34, [120, 160, 90, 113], rows, Style(look="horizontal", size=8.5))
    paper.paragraph(56, y + 24, ["Abisolierlänge 13 mm. Nur Kupferleiter."], 8.5)
    paper.close()
    return sheet
