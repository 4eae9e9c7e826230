"""Layouts that makers' sheets use, with figures and names of our own: what each row is for, and what is held."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from torquary_ingest.figures import read_torque
from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released


def test_sizes_of_devices_across_are_headings(tmp_path: Path) -> None:
    rows = [
        ["Connection", "", "Tightening torques in Nm", "", ""],
        ["", "", "Sizes", "", ""],
        ["", "", "0S", "3", "4"],
        ["Supply", "X1", "0.5 – 0.6", "8.5 – 9.5", "10 – 15"],
        ["PE connection", "X2", "1.2 – 1.5", "", "6 – 10"],
    ]
    spans = [((0, 0), (1, 2)), ((2, 0), (4, 0)), ((2, 1), (4, 1))]
    found = released(draw(tmp_path / "sizes.pdf", "Wrenlow drives WD 5", (rows, spans)))
    assert [(label.split(" / ")[0], label.split(" / ")[-1], torque) for _, label, torque in found] == [
        ("Supply", "0S", "0.5 – 0.6"), ("Supply", "3", "8.5 – 9.5"), ("Supply", "4", "10 – 15"),
        ("PE connection", "0S", "1.2 – 1.5"), ("PE connection", "4", "6 – 10"),
    ]  # fmt: skip


def test_two_long_texts_over_columns_name_their_groups(tmp_path: Path) -> None:
    rows = [
        ["", "Electrical connections with 1 spring washer", "", "Electrical connections with 2 spring washers", ""],
        ["Bolt", "Torque", "", "Torque", ""],
        ["", "lb-in", "N-m", "lb-in", "N-m"],
        ["M6", "40", "4.5", "80", "9.0"],
        ["M8", "80", "9.0", "180", "20.3"],
    ]
    spans = [((1, 0), (2, 0)), ((3, 0), (4, 0)), ((1, 1), (2, 1)), ((3, 1), (4, 1))]
    found = released(draw(tmp_path / "washers.pdf", "Wrenlow boards WB 4", (rows, spans)))
    assert [("1 spring" in label, torque) for _, label, torque in found] == [
        (True, "4.5"), (False, "9.0"), (True, "9.0"), (False, "20.3"),
    ]  # fmt: skip


def test_kinds_of_connection_name_rows_when_nothing_else_does(tmp_path: Path) -> None:
    rows = [
        ["Connection type", "Wire size", "Torque (in-lbs)"],
        ["Branch breaker", "14 - 10 AWG", "20 in-lbs"],
        ["Ground bar", "8 - 4 AWG", "25 - 35 in-lbs"],
    ]
    found = read_sheet(draw(tmp_path / "types.pdf", "Wrenlow panelboard", (rows, []))).settings
    assert [(s.state, s.terminal.printed, s.torque and s.torque.printed) for s in found] == [
        ("held", "Branch breaker", "20 in-lbs"), ("released", "Ground bar", "25 - 35 in-lbs"),
    ]  # fmt: skip


def test_a_line_over_one_table_names_no_device_of_another(tmp_path: Path) -> None:
    head = ["Type", "Screw size", "Torque (Nm)"]
    path = draw(
        tmp_path / "two.pdf", "Screw torques of Wrenlow",
        "Torques of three-pole contactors", ([head, ["WKL-9", "M4", "2.3"], ["WKL-50", "M6", "5.0"]], []),
        "Torques of modular terminals", ([head, ["WT-2.5", "M2.5", "0.5"], ["WT-10", "M5", "2.0"]], []),
    )  # fmt: skip
    devices = [setting.device.printed for setting in read_sheet(path).settings]
    assert ["contactors" in device for device in devices] == [True, True, False, False]


def test_a_remark_in_brackets_is_no_terminal(tmp_path: Path) -> None:
    rows = [["Line lugs", "14 AWG - 10 AWG", "35 in.-lbs."], ["(copper wire only)", "8 AWG", "40 in.-lbs."]]
    path = draw(tmp_path / "remark.pdf", "Wrenlow line terminal torque", (rows, []))
    assert [(label, torque) for _, label, torque in released(path)] == [("Line lugs", "35 in.-lbs.")]
    [held] = [s for s in read_sheet(path).settings if s.state == "held"]
    assert [f.code for f in held.findings] == ["terminal_missing", "witnessed"]


def test_terminals_across_under_the_word_for_conductors(tmp_path: Path) -> None:
    path = tmp_path / "across.csv"
    path.write_text("Leiter;Hauptklemmen;Hilfsklemmen\neindrähtig;1,5-10 mm²;0,75-2,5 mm²\nDrehmoment;2,0 Nm;1,2 Nm\n")
    assert [(label, torque) for _, label, torque in released(path)] == [
        ("Hauptklemmen", "2,0 Nm"), ("Hilfsklemmen", "1,2 Nm"),
    ]  # fmt: skip


@pytest.mark.parametrize(("unit", "system"), [("AWG", "awg"), ("", None)])
def test_a_gauge_is_one_where_awg_is_printed(tmp_path: Path, unit: str, system: str | None) -> None:
    path = tmp_path / "gauge.csv"
    path.write_text(f"Terminal,Wire {unit},Torque lb-in\nLine,8 gauge copper,25\nLoad,6 gauge aluminum,35\n")
    settings = read_sheet(path).settings
    assert {s.state for s in settings} == {"released" if system else "held"}
    assert system is None or [(s.conductor.max_awg, s.conductor.material) for s in settings] == [
        ("8", ("copper",)), ("6", ("aluminium",)),
    ]  # fmt: skip


def test_a_line_high_over_the_table_states_the_unit_of_all_its_torques(tmp_path: Path) -> None:
    rows = [["Klemme", "Leiter mm²", "Drehmoment"], ["1", "0,5–1,5", "50"], ["2", "0,5–2,5", "2,5 Nm"]]
    lines = ("Wrenlow WG 10", "Alle Drehmomentangaben in Ncm, soweit nicht anders vermerkt.", "", "", "")
    settings = read_sheet(draw(tmp_path / "all.pdf", *lines, (rows, []))).settings
    assert [str(s.torque.max_nm) for s in settings if s.torque and s.state == "released"] == ["0.50", "2.5"]


def test_a_unit_column_under_the_torque_heading_gives_each_row_its_unit(tmp_path: Path) -> None:
    path = tmp_path / "units.csv"
    path.write_text("Terminal,Torque,Torque,Torque\n,min,max,unit\nL1,1.2,1.5,N·m\nL2,80,100,cN·m\n", encoding="utf-8")
    settings = read_sheet(path).settings
    assert [(s.state, str(s.torque.min_nm), str(s.torque.max_nm)) for s in settings if s.torque] == [
        ("released", "1.2", "1.5"), ("released", "0.80", "1.00"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [("no más de 3 N·m", None, "3"), ("1.5 N·m or more", "1.5", None), ("1,4 Nm oder weniger", None, "1.4")],
)
def test_limits_in_words_before_or_behind_the_figure(text: str, low: str | None, high: str | None) -> None:
    [figure] = read_torque(text).figures
    assert [None if side is None else str(side) for side in (figure.torque.min_nm, figure.torque.max_nm)] == [low, high]
    assert figure.torque.nominal_nm is None
