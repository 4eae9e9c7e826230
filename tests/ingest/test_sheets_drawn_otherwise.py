"""Sheets that say the usual in another way of drawing: bands in parts, strokes of signs, headings of another order."""

from __future__ import annotations

import sys
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import HEADS, codes, draw, released


def test_a_unit_at_the_other_end_of_a_row_of_words_is_that_of_the_rows_beneath(tmp_path: Path) -> None:
    path = tmp_path / "band.pdf"
    rows = [HEADS, ("N", "6", "2.5"), ("Bars", "", ""), ("M8", "70", "14"), ("M10", "95", "22")]
    canvas = draw(path, rows)
    canvas.drawRightString(376, 740 - 36, "torque in lb·ft")
    canvas.save()
    read = {label: figure[:5] for label, figure in released(path).items()}
    assert read == {"N": "2.5", "M8": "18.98", "M10": "29.82"}


def test_a_unit_alone_under_the_torques_is_that_of_the_rows_beneath(tmp_path: Path) -> None:
    path = tmp_path / "band.csv"
    lines = ";mm²;Nm\nN;6;2.5\nPE;6;2.5\nBars;;lb·ft\nM8;70;14\nM10;95;22\n"
    path.write_text("Terminal" + lines, encoding="utf-8")
    assert {label: figure[:5] for label, figure in released(path).items()}["M8"] == "18.98"


def test_a_stroke_of_a_sign_in_the_first_row_costs_no_row(tmp_path: Path) -> None:
    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.drawString(x, y, "2.0 + 0.2")
        canvas.line(x + 15, y - 0.2, x + 20, y - 0.2)

    path = tmp_path / "stroke.pdf"
    draw(path, [HEADS, ("N", "6", write), ("PE", "10", "2"), ("A1", "4", "1")]).save()
    assert released(path) == {"PE": "2", "A1": "1"}
    assert codes(path)["N"]
