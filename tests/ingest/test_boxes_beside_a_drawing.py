"""Boxes of text beside a drawing, at one height: each says what it says by itself."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.opening import open_sheet
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_sheet
from torquary_ingest.tables.boxes import find_text_boxes

BOXES = (
    (40, 300, ("Line terminals 1 to 3", "1.5–16 mm²", "torque 1.2 N·m")),
    (360, 300, ("Neutral terminal 7", "1.5–10 mm²", "torque 1.0 N·m")),
    (40, 160, ("Pulse terminals 20, 21", "0.25–1.5 mm²", "torque 0.2 N·m")),
)


def draw(path: Path, gap: float = 160) -> Path:
    """A meter with its leader lines, and boxes left and right of it, `gap` points between them."""
    canvas = Canvas(str(path), pagesize=(560, 400))
    canvas.setFont("Helvetica-Bold", 14)
    canvas.drawString(40, 370, "Energy meter QE 3")
    for left, top, lines in BOXES:
        at = left if left < 100 else 40 + 160 + gap
        canvas.rect(at, top - 34, 160, 46)
        for row, text in enumerate(lines):
            canvas.setFont("Helvetica" if row else "Helvetica-Bold", 9)
            canvas.drawString(at + 4, top - 13 * row, text)
    canvas.line(200, 290, 260, 240)
    canvas.save()
    return path


def test_boxes_at_one_height_are_no_table(tmp_path: Path) -> None:
    found = read_sheet(draw(tmp_path / "boxes.pdf")).settings
    assert {(s.terminal.printed, s.conductor.printed, s.torque.printed, s.state) for s in found} == {
        ("Line terminals 1 to 3", "1.5–16 mm²", "1.2 N·m", "released"),
        ("Neutral terminal 7", "1.5–10 mm²", "1.0 N·m", "released"),
        ("Pulse terminals 20, 21", "0.25–1.5 mm²", "0.2 N·m", "released"),
    }


@pytest.mark.parametrize(("gap", "count"), [(160, 3), (8, 1)])
def test_boxes_right_beside_each_other_are_cells(tmp_path: Path, gap: float, count: int) -> None:
    page = open_sheet(draw(tmp_path / "boxes.pdf", gap), OpenWish()).document.pages[0]
    assert len(find_text_boxes(page, page.words)) == count
