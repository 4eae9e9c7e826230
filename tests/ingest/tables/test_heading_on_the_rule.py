"""Tables with a rule under each row and none above the heading."""

from __future__ import annotations

from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.one_sheet import read_one
from torquary_ingest.opening import open_sheet
from torquary_ingest.plugins import OpenWish

ROWS = (("Conductor mm²", "Terminal", "Torque daNm"), ("10–50", "Incoming", "0.6"), ("2.5–16", "13", "0.2"))


def draw(path: Path, rows: tuple[tuple[str, ...], ...]) -> None:
    canvas = Canvas(str(path))
    canvas.drawString(60, 760, "Lantern Quay breakers")
    for number, row in enumerate(rows):
        y = 700 - 20 * number
        for column, text in enumerate(row):
            canvas.drawString(60 + 150 * column, y, text)
        canvas.line(55, y - 6, 500, y - 6)
    canvas.save()


def test_the_heading_above_the_first_rule_is_the_tables(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    draw(path, ROWS)
    (table,) = open_sheet(path, OpenWish()).tables
    assert [cell.text for cell in table.cells if cell.row == 1] == list(ROWS[0])


def test_no_terminal_number_is_taken_for_a_torque(tmp_path: Path) -> None:
    """13 in the column of terminals is a name: read as a torque it would be 130 N·m."""
    path = tmp_path / "sheet.pdf"
    draw(path, ROWS)
    released = [s for s in read_one(path, OpenWish()).settings if s.state == "released"]
    assert [(s.terminal.printed, s.torque.printed if s.torque else "") for s in released] == [
        ("Incoming", "0.6"), ("13", "0.2"),
    ]  # fmt: skip
