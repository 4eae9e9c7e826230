"""Layouts of lists of properties, ruled and not, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released

TITLE = "Wrenlow WS24 contactor"


@pytest.mark.parametrize("ruled", [True, False])
def test_properties_that_begin_with_their_terminal_stay_with_it(tmp_path: Path, ruled: bool) -> None:
    rows = [
        ["Main terminals: tightening torque", "2.5 N·m"],
        ["Main terminals: conductor, solid", "1–6 mm²"],
        ["Coil terminals: tightening torque", "1.0 N·m"],
        ["Coil terminals: conductor, solid", "0.75–2.5 mm²"],
    ]
    settings = read_sheet(draw(tmp_path / "list.pdf", TITLE, (rows, []), ruled=ruled)).settings
    assert [(s.state, s.terminal.printed, s.torque and s.torque.printed, s.conductor.printed) for s in settings] == [
        ("released", "Main terminals", "2.5 N·m", "1–6 mm²"),
        ("released", "Coil terminals", "1.0 N·m", "0.75–2.5 mm²"),
    ]


def test_a_list_of_two_rows_is_no_table_with_a_heading(tmp_path: Path) -> None:
    rows = [["Connection screws", "2 x M4"], ["Tightening torque", "1.5 N·m"]]
    [(_, label, torque)] = released(draw(tmp_path / "two.pdf", TITLE, (rows, []), ruled=False))
    assert ("orque" in label, torque) == (False, "1.5 N·m")


def test_names_within_names_over_a_list_in_three_columns(tmp_path: Path) -> None:
    rows = [
        ["Property", "Unit", "Value"],
        ["Connections", "", ""],
        ["Main terminals", "", ""],
        ["Terminal screw", "", "M4"],
        ["Solid", "mm²", "1 ... 6"],
        ["Tightening torque", "N·m", "2 ... 2.5"],
        ["Auxiliary contacts", "", ""],
        ["Terminal screw", "", "M3.5"],
        ["Solid", "mm²", "0.75 ... 2.5"],
        ["Tightening torque", "N·m", "0.8 ... 1.2"],
    ]
    found = released(draw(tmp_path / "three.pdf", TITLE, (rows, []), ruled=False))
    assert [(label, torque) for _, label, torque in found] == [
        ("Main terminals / M4", "2 ... 2.5"), ("Auxiliary contacts / M3.5", "0.8 ... 1.2"),
    ]  # fmt: skip


def test_a_list_of_lines_goes_on_over_properties_that_say_nothing_of_terminals(tmp_path: Path) -> None:
    lines = (
        "Main terminals", "Colour: grey", "Solid: 1 ... 6 mm²", "Torque: 2 ... 2.5 N·m", "Weight: 0.2 kg", "Tool: PZ2",
        "Auxiliary contacts", "Colour: blue", "Solid: 0.75 ... 2.5 mm²", "Torque: 0.8 ... 1.2 N·m", "Tool: PZ1",
    )  # fmt: skip
    canvas = Canvas(str(tmp_path / "lines.pdf"), pagesize=(595, 842), invariant=1)
    for number, line in enumerate((TITLE, "", *lines)):
        canvas.setFont("Helvetica-Bold" if line and ":" not in line else "Helvetica", 9)
        canvas.drawString(50, 780 - 14 * number, line)
    canvas.save()
    settings = read_sheet(tmp_path / "lines.pdf").settings
    assert [(s.state, s.terminal.printed, s.conductor.printed, s.terminal.drive[0].size) for s in settings] == [
        ("released", "Main terminals", "1 ... 6 mm²", "2"),
        ("released", "Auxiliary contacts", "0.75 ... 2.5 mm²", "1"),
    ]


def test_lists_side_by_side_are_named_by_what_stands_over_them(tmp_path: Path) -> None:
    rows = [
        ["Main terminals", "", "Auxiliary contacts", ""],
        ["Terminal screw", "M4", "Terminal screw", "M3.5"],
        ["Solid", "1 ... 6 mm²", "Solid", "0.75 ... 2.5 mm²"],
        ["Tightening torque", "2 ... 2.5 N·m", "Tightening torque", "0.8 ... 1.2 N·m"],
    ]
    found = released(draw(tmp_path / "beside.pdf", TITLE, (rows, []), ruled=False))
    assert [(label, torque) for _, label, torque in found] == [
        ("Main terminals", "2 ... 2.5 N·m"), ("Auxiliary contacts", "0.8 ... 1.2 N·m"),
    ]  # fmt: skip


def test_a_torque_under_the_name_of_mounting_screws_is_theirs(tmp_path: Path) -> None:
    rows = [["Mounting screws", "2 x M4"], ["Tightening torque", "1.5 N·m"]]
    [setting] = read_sheet(draw(tmp_path / "mounting.pdf", TITLE, (rows, []), ruled=False)).settings
    assert setting.purpose == "mounting"


def test_terminals_across_over_their_kind_of_connection_keep_their_names(tmp_path: Path) -> None:
    rows = [
        ["", "Main circuit", "Auxiliary circuit"],
        ["Type of connection", "Screw terminals", "Screw terminals"],
        ["Terminal screw", "M4", "M3.5"],
        ["Tightening torque", "2 ... 2.5 N·m", "0.8 ... 1.2 N·m"],
        ["AWG", "16 ... 10", "20 ... 14"],
    ]
    found = released(draw(tmp_path / "across.pdf", TITLE, (rows, []), ruled=False))
    assert [("Main" in label, "Auxiliary" in label, torque) for _, label, torque in found] == [
        (True, False, "2 ... 2.5 N·m"), (False, True, "0.8 ... 1.2 N·m"),
    ]  # fmt: skip


def test_a_list_that_gives_torques_in_sentences_is_named(tmp_path: Path) -> None:
    rows = [
        ["Connections", "power circuit: screw clamp terminals, solid\ncontrol circuit: screw clamp terminals, solid"],
        ["Tightening torque", "power circuit: 1.7 N·m - driver PZ2\ncontrol circuit: 1.2 N·m - driver PH2"],
    ]
    report = read_sheet(draw(tmp_path / "said.pdf", TITLE, (rows, [])))
    assert report.settings or any(f.code in ("table_no_headings", "figure_not_placed") for f in report.findings)


def test_a_second_name_of_terminals_in_a_list_is_for_the_torque_after_it(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "second.pdf"), pagesize=(595, 842), invariant=1)
    lines = (TITLE, "", "Main terminals", "Torque: 2.0 N·m", "Finish: tin", "Coil terminals: A1, A2", "Torque: 0.8 N·m")
    for number, line in enumerate(lines):
        canvas.drawString(50, 780 - 15 * number, line)
    canvas.save()
    found = released(tmp_path / "second.pdf")
    assert [("Main" in label, torque) for _, label, torque in found] == [(True, "2.0 N·m"), (False, "0.8 N·m")]


def test_a_look_elsewhere_is_no_name_of_a_terminal(tmp_path: Path) -> None:
    path = tmp_path / "see.csv"
    path.write_text("Terminal,Torque N·m\nLine,2.0\nsee page 4,0.8\n", encoding="utf-8")
    assert [(s.state, [f.code for f in s.findings]) for s in read_sheet(path).settings] == [
        ("released", []), ("held", ["terminal_missing"]),
    ]  # fmt: skip
