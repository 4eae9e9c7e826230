"""Layouts of labels on distribution boards and of busbar systems, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released

from torquary_ingest.reader import read_sheet


def test_two_units_under_one_heading_between_rules_across_name_no_device(tmp_path: Path) -> None:
    rows = [
        ["Busbar thickness", "Bolt", "Strength class", "Torque", "Torque"],
        ["", "", "", "Nm", "lb-ft"],
        ["5 mm", "M8", "8.8", "20", "15"],
        ["10 mm", "M10", "8.8", "40", "30"],
    ]
    found = read_sheet(draw(tmp_path / "bars.pdf", "Halvern busbar HS 185", (rows, []), across=True)).settings
    assert [(s.device.printed, s.torque and s.torque.printed) for s in found] == [
        ("Halvern busbar HS 185", "20"), ("Halvern busbar HS 185", "40"),
    ]  # fmt: skip


def test_torque_and_units_across_over_the_terminals_of_a_board(tmp_path: Path) -> None:
    rows = [
        ["", "Main switch", "Neutral bar", "Outgoing ways 1-8"],
        ["Torque Nm", "3.5", "2.0", "2.5"],
        ["Torque lb-in", "31", "17.7", "22"],
        ["Screw", "hex 5 mm", "slot 6.5 mm", "PZ2"],
    ]
    found = released(draw(tmp_path / "label.pdf", "Halvern HB-8 board label", (rows, [])))
    assert [(label, torque) for _, label, torque in found] == [
        ("Main switch", "3.5"), ("Neutral bar", "2.0"), ("Outgoing ways 1-8", "2.5"),
    ]  # fmt: skip


def test_a_line_without_a_type_under_a_title_with_one_names_no_device(tmp_path: Path) -> None:
    rows = [["Bolt", "Torque (Nm)"], ["M6", "9"], ["M8", "20"]]
    found = released(draw(tmp_path / "joints.pdf", "Halvern busbar system HS 60", "Busbar joints, bolted", (rows, [])))
    assert [(device, label.split(" / ")[0], torque) for device, label, torque in found] == [
        ("Halvern busbar system HS 60", "Busbar joints, bolted", "9"),
        ("Halvern busbar system HS 60", "Busbar joints, bolted", "20"),
    ]


def test_a_remark_in_brackets_in_a_heading_keeps_both_of_them(tmp_path: Path) -> None:
    rows = [["Size", "Incoming (bolt M8)"], ["00", "12 Nm"], ["1", "20 Nm"]]
    found = released(draw(tmp_path / "brackets.pdf", "Halvern fuse rail HF 160", (rows, [])))
    assert [label for _, label, _ in found] == ["00 / Incoming (bolt M8)", "1 / Incoming (bolt M8)"]


def test_a_torque_in_the_corner_beside_its_units_heads_the_names(tmp_path: Path) -> None:
    rows = [["Tightening torques", "Nm", "lb-in"], ["Main switch", "3.5", "31"], ["Outgoing ways 1-12", "2.5", "22"]]
    found = released(draw(tmp_path / "corner.pdf", "Halvern distribution board HB-12", (rows, [])))
    assert [(label, torque) for _, label, torque in found] == [("Main switch", "3.5"), ("Outgoing ways 1-12", "2.5")]
    rows = [["Tightening torques", "Nm", "Screw"], ["Main switch", "3.5", "4"], ["Outgoing ways", "2.5", "5"]]
    assert released(draw(tmp_path / "other.pdf", "Halvern distribution board HB-12", (rows, []))) == []


def test_a_row_that_is_one_of_the_kinds_over_it_is_named_by_its_description(tmp_path: Path) -> None:
    rows = [
        ["Type", "Description", "Conductor (mm²)", "Screw", "Torque (Nm)"],
        ["Neutral and earth bars", "", "", "", ""],
        ["HN-8", "8-way neutral bar", "1.5-10", "M4", "1.6"],
        ["HE-8", "8-way earth bar", "2.5-16", "M5", "2.2"],
    ]
    found = released(draw(tmp_path / "bars.pdf", "Halvern distribution board HB-12", (rows, [((0, 1), (4, 1))])))
    assert [(label, torque) for _, label, torque in found] == [
        ("HN-8 / 8-way neutral bar / M4", "1.6"), ("HE-8 / 8-way earth bar / M5", "2.2"),
    ]  # fmt: skip


def test_a_numbered_title_names_the_terminals_of_its_table(tmp_path: Path) -> None:
    rows = [
        ["Type", "Terminal screw", "Copper conductor (mm²)", "Torque (Nm)"],
        ["HB3-100", "M6", "2.5-35", "5"],
        ["HB3-250", "M8", "50-120", "11"],
    ]
    title = "Table 3: Line and load terminals"
    found = released(draw(tmp_path / "title.pdf", "Halvern HB3 moulded-case circuit-breakers", title, (rows, [])))
    assert [(label, torque) for _, label, torque in found] == [
        ("Line and load terminals / M6", "5"), ("Line and load terminals / M8", "11"),
    ]  # fmt: skip
