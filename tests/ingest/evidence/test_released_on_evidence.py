"""A figure is released as a terminal's setting only with each of its proofs in print."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting, SheetReport

TITLE = "Main switch QS 63\n\n"
HEAD = "Terminal;Conductor mm²;Tightening torque N·m\n"


def report(folder: Path, text: str) -> SheetReport:
    path = folder / "sheet.csv"
    path.write_text(text, encoding="utf-8")
    return read_one(path, OpenWish())


def only(folder: Path, text: str) -> Setting:
    (setting,) = report(folder, text).settings
    return setting


def missing(setting: Setting) -> list[str]:
    return [one.field for one in setting.missing]


def test_a_released_setting_shows_the_print_of_each_proof(tmp_path: Path) -> None:
    setting = only(tmp_path, TITLE + HEAD + "L1;1.5-6;2.5\n")
    assert setting.state == "released"
    assert {one.field: one.printed for one in setting.evidence} == {
        "unit": "N·m",
        "quantity": "Tightening torque N·m",
        "screw": "L1",
        "terminal": "L1",
        "device": "Main switch QS 63",
    }
    assert setting.missing == ()


@pytest.mark.parametrize("name", ["8.8", "16 A", "PZ2", "IEC 60947-2", "6 kA", "Datasheet"])
def test_a_class_current_drive_standard_size_or_kind_of_document_names_no_terminal(
    tmp_path: Path, name: str
) -> None:
    setting = only(tmp_path, TITLE + HEAD + f"{name};1.5-6;2.5\n")
    assert (setting.state, "terminal" in missing(setting)) == ("held", True)


def test_a_thread_marks_a_terminal_under_a_heading_for_terminals_and_names_none_elsewhere(tmp_path: Path) -> None:
    for heading, state in (("Terminal", "released"), ("Screw size", "held")):
        setting = only(tmp_path, TITLE + f"{heading};Conductor mm²;Tightening torque N·m\nM5;1.5-6;2.5\n")
        assert (setting.state, "terminal" in missing(setting)) == (state, state == "held")


@pytest.mark.parametrize(
    "heading",
    ["Rated torque N·m", "Nominal torque N·m", "Nenndrehmoment N·m", "Couple nominal N·m", "定格トルク N·m"],
)
def test_a_rated_or_nominal_torque_is_no_tightening_torque(tmp_path: Path, heading: str) -> None:
    setting = only(tmp_path, TITLE + f"Terminal;Conductor mm²;{heading}\nL1;1.5-6;2.5\n")
    assert (setting.state, missing(setting)) == ("held", ["quantity"])


@pytest.mark.parametrize(
    "rows",
    [
        "Type;Rated torque N·m;Rated speed r/min\nQM 1;2.4;3000\nQM 2;4.8;3000\n",
        "Type;Torque N·m;Speed rpm\nQM 1;2.4;3000\nQM 2;4.8;3000\n",
        "Type;Drehmoment N·m;Trägheitsmoment kg·cm²\nQM 1;2.4;1.3\nQM 2;4.8;2.6\n",
    ],
)
def test_torques_of_machines_are_no_settings_and_cost_one_finding(tmp_path: Path, rows: str) -> None:
    """Common practice: a bare torque beside speed or inertia is a machine's."""
    read = report(tmp_path, "Servo drives QM\n\n" + rows)
    assert read.settings == ()
    assert [finding.code for finding in read.findings if finding.code == "other_torque"] == ["other_torque"]


@pytest.mark.parametrize(
    ("name", "purpose"),
    [("Cover screws", "enclosure"), ("Cable gland M20", "gland"), ("Mounting screws", "mounting"),
     ("Terminal cover", "enclosure"), ("Heat sink screw", "other")],
)  # fmt: skip
def test_another_screw_is_recorded_with_its_purpose(tmp_path: Path, name: str, purpose: str) -> None:
    settings = report(tmp_path, TITLE + f"Screw;Tightening torque N·m\nTerminal screws;2.0\n{name};1.2\n").settings
    assert [setting.purpose for setting in settings] == ["electrical_terminal", purpose]


def test_the_screw_of_an_unread_thing_is_no_terminal_s_for_its_column_s_heading(tmp_path: Path) -> None:
    rows = "Terminal;Conductor mm²;Tightening torque N·m\nPV input;4;1.2\nWall plate screws;;1.7\n"
    by_name = {one.terminal.printed: one for one in report(tmp_path, f"Solar controller QC 30\n{rows}").settings}
    assert by_name["PV input"].state == "released"
    assert missing(by_name["Wall plate screws"]) == ["screw"]


def test_a_screw_that_nothing_calls_a_terminal_s_is_held(tmp_path: Path) -> None:
    setting = only(tmp_path, TITLE + "Position;Tightening torque N·m\nUpper left;2.5\n")
    assert (setting.state, missing(setting)) == ("held", ["screw"])


@pytest.mark.parametrize("line", ["Quillhaven Works", "Installation manual", "Quillhaven GmbH · Data sheet 12"])
def test_a_maker_or_a_kind_of_document_is_no_device(tmp_path: Path, line: str) -> None:
    setting = only(tmp_path, f"{line}\n\n" + HEAD + "L1;1.5-6;2.5\n")
    assert "Quillhaven" not in setting.device.printed
    assert (setting.state, missing(setting)) in [("held", ["device"]), ("released", [])]
    # A sheet that is one list and prints no product, or none that shows itself one, goes by its own name.
    assert (setting.state == "released") == ("Data sheet" not in line)


def test_a_plain_list_without_any_title_releases_under_its_own_name(tmp_path: Path) -> None:
    setting = only(tmp_path, HEAD + "L1;1.5-6;2.5\n")
    assert (setting.state, setting.device.printed) == ("released", "")


def test_the_type_of_a_bar_names_its_terminals_and_no_other_type_does(tmp_path: Path) -> None:
    rows = "Type;Conductor mm²;Tightening torque N·m\nQB 6;1.5-16;2.0\n"
    bar = only(tmp_path, "Earth bars QB\n\n" + rows)
    switch = only(tmp_path, "Main switches QB\n\n" + rows)
    assert (bar.state, bar.terminal.printed) == ("released", "QB 6")
    assert (switch.state, missing(switch)) == ("held", ["terminal"])


def test_a_bare_number_beside_a_type_counts_its_terminals(tmp_path: Path) -> None:
    rows = "Type;Terminals;Conductor mm²;Tightening torque N·m\nQB 6;7;1.5-16;2.0\nQB 9;12;1.5-16;2.5\n"
    names = [setting.terminal.printed for setting in report(tmp_path, "Earth bars QB\n\n" + rows).settings]
    assert names == ["QB 6", "QB 9"]


def test_a_spring_terminal_is_set_with_no_torque(tmp_path: Path) -> None:
    head = "Terminal;Connection type;Tightening torque N·m\n"
    settings = report(tmp_path, TITLE + head + "A1, A2;Screw terminal;0.5\n13, 14;Push-in;0.6\n").settings
    assert [(setting.state, missing(setting)) for setting in settings] == [("released", []), ("held", ["screw"])]


def test_the_rows_own_screw_goes_before_the_terminals_in_the_torques_heading(tmp_path: Path) -> None:
    head = "Screw;Conductor mm²;Torque of terminal screws N·m\n"
    settings = report(tmp_path, TITLE + head + "Line;1.5-6;2.0\nMounting screw;–;4.0\n").settings
    assert [setting.purpose for setting in settings] == ["electrical_terminal", "mounting"]


def test_a_number_with_a_nought_before_it_counts_nothing(tmp_path: Path) -> None:
    head = "Type;Terminal;Cross-section mm²;Tightening torque N·m\n"
    numbered = report(tmp_path, TITLE + head + "QS 16;01;1.5-6;2.0\nQS 16;02;1.5-10;2.5\n").settings
    assert [setting.terminal.printed for setting in numbered] == ["01", "02"]
    assert {setting.state for setting in numbered} == {"released"}


def test_a_number_beside_a_type_names_a_terminal_where_its_column_names_others(tmp_path: Path) -> None:
    head = "Type;Terminal;Conductor mm²;Tightening torque N·m\n"
    numbered = report(tmp_path, TITLE + head + "QS 16;L2;1.5-6;2.0\nQS 25;13;1.5-10;2.5\n").settings
    assert [setting.terminal.printed for setting in numbered] == ["L2", "13"]
    counted = report(tmp_path, TITLE + head + "QS 16;7;1.5-6;2.0\nQS 25;12;1.5-10;2.5\n").settings
    assert [(one.state, missing(one)) for one in counted] == [("held", ["terminal"])] * 2


@pytest.mark.parametrize(
    ("low", "high"), [("권장 토크 N·m 하한", "권장 토크 N·m 상한"), ("Coppia N·m", "di fissaggio kgf·cm")]
)
def test_the_end_of_a_heading_for_torques_names_no_terminal(tmp_path: Path, low: str, high: str) -> None:
    figures = "2.0;2.5" if "kgf" not in high else "2.0;20.4"
    text = f"Terminal;Conductor mm²;{low};{high}\nL1;1.5-6;{figures}\n2;1.5-6;{figures}\n"
    assert [one.terminal.printed for one in report(tmp_path, TITLE + text).settings] == ["L1", "2"]
