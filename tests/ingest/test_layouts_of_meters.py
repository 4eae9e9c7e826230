"""Layouts of meters, chargers, inverters and power supplies, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from reportlab.lib.styles import getSampleStyleSheet
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from torquary_ingest.reader import read_sheet
from torquary_ingest.skeleton.names import find_name

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released


def test_no_row_of_a_table_without_rules_names_the_device(tmp_path: Path) -> None:
    rows = [
        ["Terminal", "Wire size", "Stripping length", "Tightening torque", "Tightening torque"],
        ["", "mm²", "mm", "Nm", "lb-in"],
        ["Input (AC)", "4 – 10", "12", "1.5", "13.3"],
        ["Battery (DC)", "10 – 16", "15", "2.5", "22.1"],
    ]
    path = tmp_path / "units.pdf"
    title = Paragraph("Brackmoor UPS 6", getSampleStyleSheet()["BodyText"])
    look = TableStyle([("FONTSIZE", (0, 0), (-1, -1), 8)])
    SimpleDocTemplate(str(path)).build([title, Spacer(1, 8), Table(rows, style=look)])
    assert released(path) == [
        ("Brackmoor UPS 6", "Input (AC)", "1.5"), ("Brackmoor UPS 6", "Battery (DC)", "2.5"),
    ]  # fmt: skip


@pytest.mark.parametrize(("line", "nothing"), [("mm² mm", True), ("Nm lb-ft", True), ("NM 8 A", False)])
def test_units_without_a_figure_are_no_name(line: str, nothing: bool) -> None:
    assert (find_name(line) == "") == nothing


@pytest.mark.parametrize(("first", "state"), [("BAT +", "released"), ("L1", "held")])
def test_a_dash_names_a_terminal_beside_a_plus_only(tmp_path: Path, first: str, state: str) -> None:
    rows = [["Terminal", "Screw", "Torque"], [first, "M6", "6.0 Nm"], ["–", "M6", "5.0 Nm"]]
    settings = read_sheet(draw(tmp_path / "dash.pdf", "Brackmoor UPS 9", (rows, []))).settings
    assert [(s.terminal.printed, s.state) for s in settings] == [(first, "released"), ("–", state)]
    assert state == "released" or "terminal_missing" in {f.code for f in settings[1].findings}


def test_cables_are_the_terminals_that_they_go_to_where_another_column_gives_their_sizes(tmp_path: Path) -> None:
    rows = [
        ["Cable", "Area", "Bolt", "Torque (Nm)"],
        ["Rectifier input L1, L2, L3", "35 mm²", "M8", "13"],
        ["Battery +/-", "50 mm²", "M10", "25"],
        ["Protective earth", "25 mm²", "M8", "12"],
    ]
    found = read_sheet(draw(tmp_path / "cables.pdf", "Brackmoor UPS 40", (rows, []))).settings
    assert [(s.state, s.terminal.printed, s.conductor.printed) for s in found] == [
        ("released", "Rectifier input L1, L2, L3", "35 mm²"), ("released", "Battery +/-", "50 mm²"),
        ("released", "Protective earth", "25 mm²"),
    ]  # fmt: skip
