"""Bullets beside a drawing, whose labels stand at their height; figures and names of our own."""

from __future__ import annotations

from pathlib import Path

from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

BULLETS = (
    "· Supply A1-A2: 24-240 V AC/DC", "- rigid 0.75-4 mm²", "- fine-stranded with ferrule 0.75-2.5 mm²",
    "- tightening torque 0.9 N·m", "· Contact 15-16-18: 8 A, 250 V AC", "- rigid 0.5-4 mm²",
    "- fine-stranded with ferrule 0.5-2.5 mm²", "- tightening torque 0.7 N·m",
)  # fmt: skip
LABELS = (("A1", 0, 0), ("15", 40, 0), ("S", 80, 0), ("Time", 30, 62), ("Mode", 30, 92), ("A2", 0, 118))


def test_bullets_beside_a_drawing_keep_their_sizes_and_figures(tmp_path: Path) -> None:
    registerFont(TTFont("Vera", "Vera.ttf"))
    canvas = Canvas(str(tmp_path / "relay.pdf"), pagesize=(595, 842), invariant=1)
    canvas.setFont("Vera", 18)
    canvas.drawString(50, 780, "Vellmar time relay TR 12")
    for row, line in enumerate(BULLETS):
        canvas.setFont("Vera", 10 if line[0] == "·" else 9)
        canvas.drawString(200 if line[0] == "·" else 212, 700 - 14 * row, line)
    canvas.setFont("Vera", 7)
    for text, x, down in LABELS:
        canvas.drawString(60 + x, 712 - down, text)
    canvas.save()
    found = read_sheet(tmp_path / "relay.pdf").settings
    got = [
        (one.terminal.printed, one.conductor.printed, one.conductor.ferrule, one.torque.printed)
        for one in found
        if one.state == "released" and one.torque is not None
    ]
    assert got == [
        ("Supply A1-A2", "0.75-4 mm²", None, "0.9 N·m"), ("Supply A1-A2", "0.75-2.5 mm²", True, "0.9 N·m"),
        ("Contact 15-16-18", "0.5-4 mm²", None, "0.7 N·m"), ("Contact 15-16-18", "0.5-2.5 mm²", True, "0.7 N·m"),
    ]  # fmt: skip
