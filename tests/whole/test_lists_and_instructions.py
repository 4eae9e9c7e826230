"""Property lists without rules and instructions in running text, read as the office reads them."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import SheetReport


def read(folder: Path, lines: list[tuple[float, float, str]]) -> SheetReport:
    """Set each text with its left end and baseline at these points, under a title, and read the page."""
    path = folder / "sheet.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=True)
    canvas.setFont("Helvetica-Bold", 16)
    canvas.drawString(60, 780, "Switch-disconnector LQ 160")
    canvas.setFont("Helvetica", 9)
    for x, y, text in lines:
        canvas.drawString(x, y, text)
    canvas.save()
    return read_one(path, OpenWish())


@pytest.mark.parametrize("dots", [" ... ", "...", " \u2013 "])
def test_dots_between_two_figures_are_a_range(tmp_path: Path, dots: str) -> None:
    rows = (("Connection", "Screw terminal"), ("Conductor, solid", f"1{dots}25 mm²"), ("Torque", f"2{dots}2,5 Nm"))
    lines = [(x, 720 - 18 * r, text) for r, row in enumerate(rows) for x, text in zip((60, 300), row, strict=True)]
    (setting,) = read(tmp_path, lines).settings
    assert setting.state == "released"
    assert setting.torque is not None
    assert (str(setting.torque.min_nm), str(setting.torque.max_nm)) == ("2", "2.5")
    assert (str(setting.conductor.min_mm2), str(setting.conductor.max_mm2)) == ("1", "25")


def test_an_instruction_is_read_whole_and_no_line_of_it_counts_as_unread(tmp_path: Path) -> None:
    report = read(
        tmp_path,
        [
            (60, 700, "1. Isolate the supply and prove it dead."),
            (60, 688, "2. Insert the conductor 16-70 mm² into the main terminal and tighten the screw to 8 Nm."),
            (60, 676, "3. Tighten the earth terminal (M6) to 5 Nm. Torque for the mounting screws: 1.5 Nm."),
        ],
    )
    told = {
        (s.terminal.printed, s.terminal.thread, s.torque.printed, s.purpose, s.state)
        for s in report.settings
        if s.torque is not None
    }
    assert told == {
        ("main terminal", None, "8 Nm", "electrical_terminal", "released"),
        ("earth terminal", "M6", "5 Nm", "electrical_terminal", "released"),
        ("mounting screws", None, "1.5 Nm", "mounting", "released"),
    }
    assert report.findings == ()


def test_a_condition_in_an_instruction_still_holds(tmp_path: Path) -> None:
    report = read(tmp_path, [(60, 700, "Insert the greased conductor into the main terminal and tighten to 8 Nm.")])
    assert [s.state for s in report.settings] == ["held"]


def test_a_bracket_behind_a_square_closes_and_is_no_note(tmp_path: Path) -> None:
    rows = (("Conductor", "1,5 to 50 mm²"), ("Main terminal torque", "10 Nm (up to 10 mm²), 15 Nm (16 mm² to 50 mm²)"))
    lines = [(x, 720 - 18 * r, text) for r, row in enumerate(rows) for x, text in zip((60, 240), row, strict=True)]
    settings = read(tmp_path, lines).settings
    assert settings
    assert not [f for s in settings for f in s.findings if f.code.startswith("note")]
