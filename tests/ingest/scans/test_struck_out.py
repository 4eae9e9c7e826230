"""A line through a scanned figure is said, be it long enough for a table's rule or not."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas
from scanner import HEAD, ROWS, SIZE, draw_table, save, scan

from torquary_ingest.reader import read_sheet


def draw(left: float, right: float, *, up: float = 3.2) -> bytes:
    """Draw the table and a line at the height of the second row's figures; its torque stands at 225 to 239."""
    target = io.BytesIO()
    canvas = Canvas(target, pagesize=SIZE)
    canvas.setFont("Helvetica", 10)
    draw_table(canvas, left=30, top=180, rows=[HEAD, *ROWS])
    canvas.setLineWidth(0.8)
    canvas.line(left, 180 - 20 - 14 + up, right, 180 - 20 - 14 + up)
    canvas.save()
    return target.getvalue()


@pytest.mark.parametrize(("left", "right"), [(221, 243), (215, 260), (224, 240)])
@pytest.mark.parametrize("slant", [0.0, 1.5])
def test_a_figure_with_a_line_through_it_is_struck_out(tmp_path: Path, left: float, right: float, slant: float) -> None:
    sheet = save(tmp_path / "sheet.png", scan(draw(left, right), slant=slant))
    told = {s.terminal.printed: {f.code for f in s.findings} for s in read_sheet(sheet).settings}
    assert "text_struck_out" in told["L1"]
    assert not any("text_struck_out" in codes for name, codes in told.items() if name != "L1")


def test_rules_of_a_table_and_underlines_strike_nothing_out(tmp_path: Path) -> None:
    sheet = save(tmp_path / "sheet.png", scan(draw(221, 243, up=-2.0), slant=1.0))
    settings = read_sheet(sheet).settings
    assert len(settings) == len(ROWS)
    assert not any(f.code == "text_struck_out" for setting in settings for f in setting.findings)
