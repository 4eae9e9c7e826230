"""Layouts of lists of properties, ruled and not, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

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
