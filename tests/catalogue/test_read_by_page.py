"""`torquary read --pages`: what became of every torque that a sheet prints, page by page."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner
from reportlab.pdfgen.canvas import Canvas

from torquary_catalogue.command import main

LINES = {
    1: ("Switch QS 40", "Line terminals: 4–16 mm², tightening torque 2.5 N·m.", "Cover screws: 0.8 N·m."),
    2: ("Transport", "Keep the switch dry."),
    3: ("Checks", "Neutral terminal: tightening torque 4 N·m if damp.", "Motor torque: 12 N·m."),
}


def draw(path: Path) -> Path:
    canvas = Canvas(str(path), pagesize=(500, 300))
    for lines in LINES.values():
        for row, text in enumerate(lines):
            canvas.setFont("Helvetica", 9 if row else 14)
            canvas.drawString(40, 260 - 20 * row, text)
        canvas.showPage()
    canvas.save()
    return path


def test_every_torque_is_told_by_its_page(tmp_path: Path) -> None:
    arguments = ["read", "--pages", str(draw(tmp_path / "switch.pdf"))]
    done = CliRunner().invoke(main, arguments, catch_exceptions=False)
    assert done.exit_code == 1, "one is held"
    lines = done.stdout.splitlines()
    assert lines[:4] == [
        "switch.pdf: 3 pages",
        "page 1: 1 released, 1 of other screws",
        "  “2.5 N·m” in the text: Line terminals | 4–16 mm²: released",
        "  “0.8 N·m” in the text: Cover screws: released, of another screw (enclosure)",
    ]
    assert "page 3: 1 held" in lines
    assert any(line.startswith("  “4 N·m” in the text: no name: held: ") for line in lines)
    assert any("12 N·m" in line and line.endswith("[other_torque]") for line in lines)
    assert "page 2: no torque was seen" in lines


def test_pages_are_no_json(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["read", "--pages", "--json", str(draw(tmp_path / "switch.pdf"))])
    assert done.exit_code == 2
    assert "--pages is told in text" in done.stderr
