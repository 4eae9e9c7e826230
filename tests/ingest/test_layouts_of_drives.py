"""Layouts of drives', relays' and meters' sheets, with figures and names of our own: what parts the rows."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest

from torquary_ingest.figures import read_conductor
from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released

FRAMES = [
    ["Frame\nsize", "TM1", "", "TM2", ""],
    ["", "Cable size", "Torque", "Cable size", "Torque"],
    ["", "mm²", "Nm", "mm²", "Nm"],
    ["Frame 1", "0.34~6", "1.4", "0.5~2.5", "0.4"],
    ["Frame 2", "0.34~6", "1.2", "0.5~2.5", "0.4"],
]
FRAME_SPANS = [((0, 0), (0, 2)), ((1, 0), (2, 0)), ((3, 0), (4, 0))]


def codes(path: Path) -> list[tuple[str | None, set[str]]]:
    """The torque and the finding codes of each setting."""
    return [(s.torque.printed if s.torque else None, {f.code for f in s.findings}) for s in read_sheet(path).settings]


def test_strips_over_columns_are_terminals_and_named_frames_are_devices(tmp_path: Path) -> None:
    lines = "Fenbrook inverter FB510", "Table 3-1", "Terminal strips"
    found = released(draw(tmp_path / "frames.pdf", *lines, (FRAMES, FRAME_SPANS)))
    assert found == [
        ("Frame 1 Fenbrook inverter FB510", "Terminal strips / TM1", "1.4"),
        ("Frame 1 Fenbrook inverter FB510", "Terminal strips / TM2", "0.4"),
        ("Frame 2 Fenbrook inverter FB510", "Terminal strips / TM1", "1.2"),
        ("Frame 2 Fenbrook inverter FB510", "Terminal strips / TM2", "0.4"),
    ]


@pytest.mark.parametrize(
    "heads", [("< 10 mm²", "> 10 mm²"), ("up to 10 mm²", "over 10 mm²"), ("10 mm² or less", "10 mm² or more")]
)
def test_a_limited_size_over_a_column_is_its_size_and_no_limit_of_the_torque(
    tmp_path: Path, heads: tuple[str, str]
) -> None:
    rows = [["Terminal", "Torque N·m", ""], ["", *heads], ["Line", "2.5", "4"]]
    path = draw(tmp_path / "sizes.pdf", "Varnholt MCCB VN250", (rows, [((1, 0), (2, 0)), ((0, 0), (0, 1))]))
    settings = read_sheet(path).settings
    assert [(s.state, s.place.column, s.conductor.min_mm2, s.conductor.max_mm2) for s in settings] == [
        ("released", 2, None, 10),
        ("released", 3, 10, None),
    ]


@pytest.mark.parametrize("heads", [("10 mm² or less", "10 mm² or more"), ("up to 10 mm²", "over 10 mm²")])
def test_a_limited_size_over_a_matrix_limits_no_torque(tmp_path: Path, heads: tuple[str, str]) -> None:
    rows = [["Terminal", *heads], ["Line", "2.5", "4"], ["Load", "2.5", "4.5"]]
    settings = read_sheet(draw(tmp_path / "matrix.pdf", "Varnholt MCCB VN250", "Torque N·m", (rows, []))).settings
    assert [(s.state, str(s.torque.min_nm), str(s.torque.max_nm)) for s in settings if s.torque] == [
        ("released", figure, figure) for figure in ("2.5", "4", "2.5", "4.5")
    ]


def test_a_limited_width_over_a_column_tells_two_columns_apart(tmp_path: Path) -> None:
    rows = [
        ["Wire mm²", "Tightening torque, Nm", ""],
        ["", "Slot width <1.2 mm", "Slot width >1.2 mm"],
        ["6", "2.3", "4.0"],
        ["10", "—", "5.6"],
    ]
    spans = [((1, 0), (2, 0)), ((0, 0), (0, 1))]
    path = draw(tmp_path / "slots.pdf", "Kestermoor switch KM4", "Main terminals", (rows, spans))
    assert [(label, torque) for _, label, torque in released(path)] == [
        ("Main terminals / Slot width <1.2 mm", "2.3"), ("Main terminals / Slot width >1.2 mm", "4.0"),
        ("Main terminals / Slot width >1.2 mm", "5.6"),
    ]  # fmt: skip


def test_a_size_within_the_heading_of_a_torque_is_asked_for(tmp_path: Path) -> None:
    rows = [["Terminal", "Torque N·m ≤ 10 mm²", "Torque N·m > 10 mm²"], ["Line", "2.5", "4"]]
    found = codes(draw(tmp_path / "within.pdf", "Varnholt MCCB VN250", (rows, [])))
    assert [("condition_unread" in said, torque) for torque, said in found] == [(True, "2.5"), (True, "4")]


def test_sizes_that_overlap_with_two_torques_are_held(tmp_path: Path) -> None:
    rows = [
        ["No.", "mm²", "", "Nm"],
        ["", "min", "max", ""],
        ["1", "0.25", "4", "0.6"],
        ["4", "6", "16", "1.2"],
        ["5", "2.5", "35", "4.5"],
    ]
    spans = [((1, 0), (2, 0)), ((0, 0), (0, 1)), ((3, 0), (3, 1))]
    found = codes(
        draw(tmp_path / "overlap.pdf", "Harkental inverter HK5", "Tightening torques of the terminals", (rows, spans))
    )
    assert [("contradicted" in said, torque) for torque, said in found] == [
        (True, "0.6"),
        (True, "1.2"),
        (True, "4.5"),
    ]


def test_a_length_under_a_heading_of_sizes_is_no_size(tmp_path: Path) -> None:
    rows = [["Terminal", "Nm", "Conductor size mm²", ""], ["", "", "", "Length mm"], ["Line", "2.5", "1.5–10", "12"]]
    path = draw(
        tmp_path / "length.pdf", "Varnholt MCCB VN250", (rows, [((2, 0), (3, 0)), ((0, 0), (0, 1)), ((1, 0), (1, 1))])
    )
    assert released(path) == []


@pytest.mark.parametrize("other", ["Terminal", "Connecting point"])
def test_two_lists_side_by_side_that_run_together_are_held(tmp_path: Path, other: str) -> None:
    rows = [
        ["Main torque Nm", "Terminal", "Earth torque Nm", other],
        ["2.5", "Line", "4", "PE"],
        ["2", "Load", "3", "FE"],
    ]
    found = codes(draw(tmp_path / "beside.pdf", "Varnholt MCCB VN250", (rows, [])))
    assert all("table_shifted" in said for _, said in found)
    assert len(found) == 4


def test_a_label_of_two_lines_between_rules_is_one_row(tmp_path: Path) -> None:
    rows = [
        ["Meter", "Current and voltage\nterminals", "Additional\nterminals"],
        ["Terminal width x height (mm)", "5.3 x 5.5", "2.6 x 2.2"],
        ["Minimum connection cross\nsections (mm²)", "2.5", "1.0"],
        ["Maximum connection\ncross sections (mm²)", "10", "2.5"],
        ["Minimum torques (Nm)", "1.2", "—"],
        ["Maximum torques (Nm)", "1.7", "—"],
    ]
    path = draw(tmp_path / "meter.pdf", "Emberholt meter EM7", (rows, []), across=True)
    (setting,) = read_sheet(path).settings
    assert (setting.state, setting.terminal.printed) == ("released", "Current and voltage terminals")
    assert (setting.conductor.min_mm2, setting.conductor.max_mm2) == (Decimal("2.5"), 10)


def test_sizes_that_meet_at_an_end_are_none_that_overlap(tmp_path: Path) -> None:
    rows = [["Terminal", "mm²", "Nm"], ["Line", "1.5–10", "2.5"], ["Line", "10–25", "4"]]
    assert len(released(draw(tmp_path / "meet.pdf", "Varnholt MCCB VN250", (rows, [])))) == 2


def test_a_column_of_names_that_parts_rows_of_one_name_is_asked_for(tmp_path: Path) -> None:
    rows = [
        ["Inverter capacity", "Terminal", "mm²", "Nm"],
        ["5.5kW (7.5HP)", "Main", "5.5", "1.2"],
        ["7.5kW (10HP)", "Main", "8", "2.4"],
        ["11kW (15HP)", "Control", "1.5", "0.5"],
    ]
    found = codes(draw(tmp_path / "capacity.pdf", "Doranjin inverter DJ5", (rows, [])))
    assert [("terminal_missing" in said, torque) for torque, said in found] == [
        (True, "1.2"),
        (True, "2.4"),
        (False, "0.5"),
    ]


def test_running_text_names_no_device_where_a_title_does(tmp_path: Path) -> None:
    rows = [["Connector", "Contact screw tightening torque"], ["Signal", "0.5 Nm"]]
    text = "Terminal blocks of screw compression type are used for electrical connections."
    found = released(draw(tmp_path / "relay.pdf", "Lindewarth protection relay LP64", text, (rows, [])))
    assert found == [("Lindewarth protection relay LP64", "Signal", "0.5 Nm")]


def test_a_heading_of_terminal_blocks_gives_way_to_the_device_in_the_title(tmp_path: Path) -> None:
    rows = [["Name", "Torque"], ["Mains", "1.7 N-m"]]
    found = released(
        draw(tmp_path / "drive.pdf", "Gravenhall AC drive GV60", "5.2 Power terminal block specifications", (rows, []))
    )
    assert found == [("Gravenhall AC drive GV60", "Mains", "1.7 N-m")]


def test_a_power_is_no_name_of_a_terminal(tmp_path: Path) -> None:
    rows = [
        ["Motor output kW", "Model", "Wire mm²", "Torque N·m"],
        ["0.4", "HS2-004", "1.5", "0.8"],
        ["0.75", "HS2-007", "2.5", "0.9"],
    ]
    found = read_sheet(draw(tmp_path / "power.pdf", "Hirakumo inverter HS2", (rows, []))).settings
    assert [(s.state, s.terminal.printed) for s in found] == [("held", "HS2-004"), ("held", "HS2-007")]


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("8 AWG and larger", "8", None),
        ("AWG 8 or less", None, "8"),
        ("more than 8 AWG", "8", None),
        ("not more than 8 AWG", None, "8"),
    ],
)
def test_limits_of_gauges_in_words(text: str, low: str | None, high: str | None) -> None:
    (conductor,) = read_conductor(text).conductors
    assert (conductor.min_awg, conductor.max_awg) == (low, high)


def test_markings_between_properties_of_a_turned_table_stand_over_them_and_all_its_head_rows_head_each_part(
    tmp_path: Path,
) -> None:
    rows = [
        ["Size", "A", "B"], ["Type", "FB5-04", "FB5-11"],
        ["L1, L2, L3, U, V, W", "", ""], ["Cross-section [mm²]", "1.5–4", "2.5–10"],
        ["Tightening torque [N·m]", "1.3", "1.9"],
        ["PE", "", ""], ["Cross-section [mm²]", "2.5–4", "4–10"], ["Tightening torque [N·m]", "1.6", "2.4"],
    ]  # fmt: skip
    found = released(draw(tmp_path / "parts.pdf", "Fenbrook inverters FB5", (rows, [])))
    assert [(label, torque) for _, label, torque in found] == [
        ("L1, L2, L3, U, V, W / A", "1.3"), ("L1, L2, L3, U, V, W / B", "1.9"), ("PE / A", "1.6"), ("PE / B", "2.4"),
    ]  # fmt: skip
    assert [device.split()[0] for device, _, _ in found] == ["FB5-04", "FB5-11", "FB5-04", "FB5-11"]
