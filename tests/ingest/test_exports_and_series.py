"""Exports, workbooks and series tables: groups of columns and rows, records in a cell, numbers that are no figures."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import draw
from text_sheets import settings_of


def test_a_thread_before_a_unit_is_no_torque_of_its_own(tmp_path: Path) -> None:
    rows = "Contactors QK\n\nType;Main terminals mm²;Main terminals torque N·m;Fixing screws M4 N·m\n"
    rows += "QK 9;1-4;1.2;1.0\nQK 25;2.5-10;2.5;1.2\n"
    found = settings_of(tmp_path / "sheet.csv", rows)
    assert {(one.purpose, one.torque.printed, one.state) for one in found} == {
        ("electrical_terminal", "1.2", "released"), ("electrical_terminal", "2.5", "released"),
        ("mounting", "1.0", "released"), ("mounting", "1.2", "released"),
    }  # fmt: skip


SCHEDULE = """Board Q, torque schedule

Tag;Device;Type;Terminal;Wire mm²;Wire kind;Torque N·m
-Q1;Main switch;QL 160;L1 L2 L3;16-70;stranded;8
-Q1;;;N;16-70;stranded;6
-F1;Circuit breaker;QC 16;top;1-25;solid;2
-F1;;;bottom;1-25;;2.5
-F2;Circuit breaker;QC 32;top;1-35;solid;3
"""


def test_a_file_names_a_device_in_the_first_row_of_its_group(tmp_path: Path) -> None:
    found = {(one.terminal.printed, one.torque.printed): one for one in settings_of(tmp_path / "sheet.csv", SCHEDULE)}
    neutral, bottom = found["N", "6"], found["bottom", "2.5"]
    assert (neutral.state, neutral.device.model) == ("released", "QL 160")
    assert (bottom.state, bottom.device.model) == ("released", "QC 16")


def test_a_kind_that_is_printed_again_is_left_blank_for_none(tmp_path: Path) -> None:
    found = {(one.terminal.printed, one.torque.printed): one for one in settings_of(tmp_path / "sheet.csv", SCHEDULE)}
    assert found["bottom", "2.5"].conductor.stranding == ()
    assert found["N", "6"].conductor.stranding == ("stranded",)


def test_a_kind_that_is_never_printed_again_may_be_left_blank_for_the_same(tmp_path: Path) -> None:
    rows = SCHEDULE.replace("N;16-70;stranded", "N;16-70;").replace("QC 32;top;1-35;solid", "QC 32;top;1-35;flexible")
    found = {(one.terminal.printed, one.torque.printed): one.state for one in settings_of(tmp_path / "sheet.csv", rows)}
    assert found["N", "6"] == "held"


def test_headings_over_groups_of_columns_in_an_export(tmp_path: Path) -> None:
    rows = "Motor switches QM\n\n;;Cross-section mm²;;Tightening torque;\n"
    rows += "Terminal;Conductor;from;to;N·m;lb·in\nMain;solid;0.75;6;1.7;15\nAuxiliary;solid;0.5;2.5;0.8;7\n"
    found = settings_of(tmp_path / "sheet.csv", rows)
    sizes = ((one, str(one.conductor.min_mm2), str(one.conductor.max_mm2)) for one in found)
    assert {(one.terminal.printed, low, high, one.state) for one, low, high in sizes} == {
        ("Main", "0.75", "6", "released"), ("Auxiliary", "0.5", "2.5", "released"),
    }  # fmt: skip


def test_limits_of_nothing_named_hold_the_row(tmp_path: Path) -> None:
    rows = "Motor switches QM\n\nTerminal;from;to;AWG;Tightening torque N·m\n"
    rows += "Main;0.75;6;18-10;1.7\nAux;0.5;2.5;20-14;0.8\n"
    assert {one.state for one in settings_of(tmp_path / "sheet.csv", rows)} == {"held"}


def test_records_in_a_cell_are_rows(tmp_path: Path) -> None:
    inner = [
        [{"terminal": "line", "conductor": "1-16 mm²", "torque": "2 N·m"}, {"terminal": "load", "torque": "2.5 N·m"}],
        [{"terminal": "coil A1 A2", "conductor": "0.5-2.5 mm²", "torque": "0.5 N·m"}],
    ]
    cells = ['"' + json.dumps(one).replace('"', '""') + '"' for one in inner]
    rows = f"sku,name,terminals,stock\n4102-01,Fuse holder QF 32,{cells[0]},45\n"
    rows += f"4110-24,Relay socket QR 2,{cells[1]},8\n"
    found = settings_of(tmp_path / "sheet.csv", rows)
    assert {(one.device.model, one.terminal.printed, one.torque.printed) for one in found} == {
        ("4102-01", "line", "2 N·m"), ("4102-01", "load", "2.5 N·m"), ("4110-24", "coil A1 A2", "0.5 N·m"),
    }  # fmt: skip


def test_sizes_and_torque_in_groups_of_one_list_with_types_across(tmp_path: Path) -> None:
    rows = [
        ["Type", "QT 2,5", "QT 4"],
        ["Electrical data", "", ""],
        ["Rated current (A)", "24", "32"],
        ["Conductors (mm²)", "", ""],
        ["Solid", "0,2-4", "0,2-6"],
        ["Flexible with ferrule", "0,25-2,5", "0,25-4"],
        ["Screw and tightening", "", ""],
        ["Tightening torque (N·m)", "0,4-0,5", "0,6-0,8"],
    ]
    canvas = draw(tmp_path / "sheet.pdf", rows, title="Screw terminal blocks QT")
    canvas.save()
    found = read_sheet(tmp_path / "sheet.pdf").settings
    sizes = {(one.device.model, one.conductor.printed, one.torque.printed) for one in found}
    assert sizes == {
        ("QT 2,5", "0,2-4", "0,4-0,5"), ("QT 2,5", "0,25-2,5", "0,4-0,5"),
        ("QT 4", "0,2-6", "0,6-0,8"), ("QT 4", "0,25-4", "0,6-0,8"),
    }  # fmt: skip


def test_what_is_unknown_and_takes_no_conductor_is_no_terminal_for_a_line_over_it(tmp_path: Path) -> None:
    rows = "Sensor QS 18\n\nBusbar joints and mechanical screws\n"
    rows += "Item;Screw;Torque N·m\nBar support;M6;6\nWire tray;M5;2.5\n"
    found = settings_of(tmp_path / "sheet.csv", rows)
    assert not any(one.state == "released" and one.purpose == "electrical_terminal" for one in found)


def test_an_item_that_is_another_screw_is_no_terminal_s(tmp_path: Path) -> None:
    rows = "Distribution blocks QH\n\nItem;For;Screw;Torque N·m\nFixing screw to plate;all blocks;M4 × 12;1.5\n"
    rows += "Cover screw;QH 250;M3;0.5\n"
    purposes = {one.torque.printed: one.purpose for one in settings_of(tmp_path / "sheet.csv", rows)}
    assert purposes == {"1.5": "mounting", "0.5": "enclosure"}
