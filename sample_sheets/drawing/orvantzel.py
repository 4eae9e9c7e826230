"""Sheets of the invented maker Orvantzel: figures in sentences, and a UTF-16 list with tabs."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, mm, nm
from drawing.page import Imprint, Paper

MAKER = "Orvantzel"


def draw_surge_device(folder: Path) -> Sheet:
    """No table: the torques stand in sentences, English and German."""
    sheet = Sheet(file="orvantzel_spd.pdf", maker=MAKER, shows="sentences in English and German, serif")
    paper = Paper(
        folder / sheet.file,
        Imprint(
            maker=MAKER,
            what="Surge protective device OV-T2, type 2",
            number="OV 12/2",
            edition="Edition 2, February 2030",
        ),
        family="serif",
    )
    phase, earth = (mm("4", "25"), nm("3.0")), (mm("6", "35"), nm("4.5"))
    remote = (mm("0.5", "1.5"), nm("0.25"))
    y = paper.begin_page()
    y = paper.paragraph(
        56,
        y + 8,
        [
            "The device limits surges in low-voltage boards. Fit it close to the main switch and keep the",
            "conductors short and straight. Replace the cartridge when the window shows red.",
        ],
        10.5,
    )
    paper.text(56, y + 20, "Connection", 12, bold=True)
    y = paper.paragraph(
        56,
        y + 40,
        [
            f"Terminals L1, L2, L3 and N: conductors {phase[0].text(unit=True)}, tightening torque "
            f"{phase[1].text(unit=True)}.",
            f"Tighten the earth terminal PE to {earth[1].text(unit=True)}; it takes {earth[0].text(unit=True)}.",
        ],
        10.5,
    )
    paper.text(56, y + 20, "Anschluss der Fernmeldung", 12, bold=True)
    paper.paragraph(
        56,
        y + 40,
        [
            f"Anzugsdrehmoment der Klemmen 11, 12, 14: {remote[1].text(comma=True)} Nm, "
            f"Leiter {remote[0].text(comma=True, unit=True)}.",
        ],
        10.5,
    )
    sheet.add(
        [
            Row(terminal="L1, L2, L3 and N", size=phase[0], torque=phase[1], family="spd"),
            Row(terminal="PE", size=earth[0], torque=earth[1], family="spd"),
            Row(terminal="11, 12, 14", size=remote[0], torque=remote[1], family="spd"),
        ]
    )
    paper.close()
    return sheet


def write_unicode_text(folder: Path) -> Sheet:
    """A spreadsheet's "Unicode text": UTF-16 with byte order mark, tabs, Spanish headings, decimal commas."""
    sheet = Sheet(file="orvantzel_lista.tsv", maker=MAKER, shows="UTF-16 with tabs, Spanish, decimal commas")
    lines = (
        ("Interruptor diferencial OV-D40", "Línea 1, N", "rccb", mm("1.5", "35"), nm("2.5", "3.0")),
        ("Interruptor diferencial OV-D40", "Carga 2, N", "rccb", mm("1.5", "35"), nm("2.5", "3.0")),
        ("Contactor OV-K25", "L1, L2, L3", "contactor", mm("1", "10"), nm("1.5", "1.8")),
        ("Contactor OV-K25", "Bobina A1, A2", "contactor", mm("0.75", "2.5"), nm("0.8")),
    )
    text = ["Aparato\tBorne\tSección mm²\tPar de apriete N·m"]
    for device, terminal, family, size, torque in lines:
        text.append(f"{device}\t{terminal}\t{size.text(comma=True)}\t{torque.text(comma=True)}")
        sheet.add([Row(terminal=terminal, size=size, torque=torque, family=family)])
    (folder / sheet.file).write_bytes(b"\xff\xfe" + ("\r\n".join(text) + "\r\n").encode("utf-16-le"))
    return sheet
