"""Layouts of sheets of contactors, motor starters and overload relays, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released

TITLE = "Wrenlow WK contactors"


def test_sizes_in_brackets_behind_their_count(tmp_path: Path) -> None:
    rows = [
        ["Type", "", "WK9", "WK18"],
        ["Main circuit", "", "", ""],
        ["Tightening torque", "N·m", "0.8 ... 1.2", "2 ... 2.5"],
        ["Solid", "mm²", "2 x (1 ... 2.5)", "2 x (1 ... 6)"],
        ["AWG", "", "2 x (18 ... 14)", "2 x (16 ... 10)"],
    ]
    path = draw(tmp_path / "counted.pdf", TITLE, (rows, [((0, 0), (1, 0)), ((0, 1), (3, 1))]))
    settings = read_sheet(path).settings
    assert {s.state for s in settings} == {"released"}
    sizes = [(c.count, *(str(end) for end in (c.min_mm2, c.max_mm2))) for c in (s.conductor for s in settings)]
    assert [size for size in sizes if size[1] != "None"] == [(2, "1", "2.5"), (2, "1", "6")]


def test_a_band_names_the_terminals_of_rows_that_a_heading_calls_screw_terminals(tmp_path: Path) -> None:
    rows = [
        ["Type", "Screw terminals", ""],
        ["", "Solid mm²", "Tightening torque N·m"],
        ["Main circuit", "", ""],
        ["WK9", "1–4", "1.2"],
        ["Control circuit", "", ""],
        ["WK9", "0.75–2.5", "1.0"],
    ]
    spans = [((0, 0), (0, 1)), ((1, 0), (2, 0)), ((0, 2), (2, 2)), ((0, 4), (2, 4))]
    found = released(draw(tmp_path / "bands.pdf", TITLE, (rows, spans)))
    assert [("Main circuit" in label, "Control circuit" in label, torque) for _, label, torque in found] == [
        (True, False, "1.2"), (False, True, "1.0"),
    ]  # fmt: skip


def test_sizes_of_devices_above_the_first_group_head_every_group(tmp_path: Path) -> None:
    rows = [
        ["Size", "S1", "S2"],
        ["Main conductors", "", ""],
        ["Tightening torque (N·m)", "0.8 ... 1.2", "2 ... 2.5"],
        ["Solid (mm²)", "0.5 ... 2.5", "1 ... 6"],
        ["Auxiliary conductors", "", ""],
        ["Tightening torque (N·m)", "0.8", "1.0"],
        ["Solid (mm²)", "0.5 ... 1.5", "0.5 ... 1.5"],
    ]
    path = draw(tmp_path / "sizes.pdf", TITLE, (rows, [((0, 1), (2, 1)), ((0, 4), (2, 4))]))
    assert [(label, torque) for _, label, torque in released(path)] == [
        ("Main conductors / S1", "0.8 ... 1.2"), ("Main conductors / S2", "2 ... 2.5"),
        ("Auxiliary conductors / S1", "0.8"), ("Auxiliary conductors / S2", "1.0"),
    ]  # fmt: skip


def test_how_large_terminals_are_is_no_name_of_theirs(tmp_path: Path) -> None:
    rows = [
        ["Relay", "Line", "Coil"],
        ["Terminal width x height (mm)", "9 x 95", "8 x 30"],
        ["Torque N·m", "1.2", "0.8"],
    ]
    assert [label for _, label, _ in released(draw(tmp_path / "large.pdf", TITLE, (rows, [])))] == ["Line", "Coil"]


def test_names_over_groups_of_columns_that_repeat_reach_over_their_group(tmp_path: Path) -> None:
    rows = [
        ["Type", "Power terminals", "", "", "Coil terminals", "", ""],
        ["", "Screw", "Cable mm²", "Torque N·m", "Screw", "Cable mm²", "Torque N·m"],
        ["WK06", "M3", "1–2.5", "0.8", "M3", "1–2.5", "0.8"],
        ["WK40", "M5", "2.5–25", "2.5", "M3.5", "1–4", "1.2"],
        ["WK95", "M8", "16–70", "9", "M3.5", "1–4", "1.2"],
    ]
    spans = [((0, 0), (0, 1)), ((1, 0), (3, 0)), ((4, 0), (6, 0))]
    settings = read_sheet(draw(tmp_path / "groups.pdf", TITLE, (rows, spans), across=True)).settings
    found = [
        (s.state, s.device.model, s.terminal.printed, s.terminal.thread, s.conductor.printed, s.torque.printed)
        for s in settings
        if s.torque
    ]
    parts = {"Power terminals": slice(1, 4), "Coil terminals": slice(4, 7)}
    assert found == [("released", row[0], part, *row[at]) for row in rows[2:] for part, at in parts.items()]


def test_names_over_rows_are_no_headings_in_a_list_without_rules(tmp_path: Path) -> None:
    rows = [
        ["Type", "", "WK9", "WK18"],
        ["Main circuit", "", "", ""],
        ["Terminal screw", "", "M3.5", "M4"],
        ["Tightening torque", "N·m", "0.8 ... 1.2", "2 ... 2.5"],
        ["Solid", "mm²", "1 ... 2.5", "1 ... 6"],
        ["Control circuit", "", "", ""],
        ["Terminal screw", "", "M3.5", "M3.5"],
        ["Tightening torque", "N·m", "0.8", "1.0"],
        ["Solid", "mm²", "0.5 ... 1.5", "0.5 ... 1.5"],
    ]
    found = released(draw(tmp_path / "open.pdf", TITLE, (rows, []), ruled=False))
    assert [(device.split()[0], label, torque) for device, label, torque in found] == [
        ("WK9", "Main circuit / M3.5", "0.8 ... 1.2"), ("WK18", "Main circuit / M4", "2 ... 2.5"),
        ("WK9", "Control circuit / M3.5", "0.8"), ("WK18", "Control circuit / M3.5", "1.0"),
    ]  # fmt: skip


def test_a_value_in_the_middle_of_a_list_without_a_frame_may_be_for_all_its_types(tmp_path: Path) -> None:
    rows = [
        ["Type", "", "WK9", "WK18", "WK32"],
        ["Main circuit", "", "", "", ""],
        ["Terminal screw", "", "M3.5", "M4", "M5"],
        ["Tightening torque", "N·m", "0.8", "2.0", "2.5"],
        ["Control circuit", "", "", "", ""],
        ["Terminal screw", "", "M3.5", "", ""],
        ["Tightening torque", "N·m", "1.1", "", ""],
    ]
    spans = [((2, 5), (4, 5)), ((2, 6), (4, 6))]
    settings = read_sheet(draw(tmp_path / "once.pdf", TITLE, (rows, spans), across=True)).settings
    held = [s for s in settings if s.state == "held" and s.torque]
    assert [s.torque.printed for s in settings if s.state == "released" and s.torque] == ["0.8", "2.0", "2.5"]
    assert [(s.terminal.printed, s.torque and s.torque.printed) for s in held] == [("Control circuit / M3.5", "1.1")]
    assert {f.code for s in held for f in s.findings} == {"ditto_doubtful", "witnessed"}


@pytest.mark.parametrize("ruled", [True, False])
def test_a_torque_in_the_corner_of_a_matrix_speaks_for_the_figures_beside_the_terminals(
    tmp_path: Path, ruled: bool
) -> None:
    rows = [
        ["Tightening torque (N·m)", "WK9", "WK65"],
        ["Main terminals, screw M4", "2.0", "–"],
        ["Main terminals, screw M6", "–", "4.5"],
        ["Coil terminals A1, A2, screw M3.5", "1.0", "1.2"],
    ]
    found = released(draw(tmp_path / "corner.pdf", TITLE, (rows, []), ruled=ruled))
    assert [(label, torque) for _, label, torque in found] == [
        ("Main terminals, screw M4 / WK9", "2.0"),
        ("Main terminals, screw M6 / WK65", "4.5"),
        ("Coil terminals A1, A2, screw M3.5 / WK9", "1.0"),
        ("Coil terminals A1, A2, screw M3.5 / WK65", "1.2"),
    ]


def test_a_torque_in_the_corner_of_a_list_of_other_properties_heads_no_matrix(tmp_path: Path) -> None:
    rows = [
        ["Tightening torque (N·m)", "WK9", "WK65"],
        ["Main terminals", "2.0", "4.5"],
        ["Main terminals, stripping length (mm)", "10", "13"],
    ]
    assert released(draw(tmp_path / "list.pdf", TITLE, (rows, []))) == []


def test_a_dash_among_threads_leaves_the_types_over_the_list_their_names(tmp_path: Path) -> None:
    rows = [
        ["", "WK9", "WK18", "WK32"],
        ["Main terminals", "", "", ""], ["Terminal screw", "M3.5", "M4", "M5"], ["Torque N·m", "1.2", "2.0", "2.5"],
        ["Coil terminals", "", "", ""], ["Terminal screw", "–", "M3.5", "M3.5"], ["Torque N·m", "–", "1.0", "1.1"],
    ]  # fmt: skip
    found = released(draw(tmp_path / "dash.pdf", TITLE, (rows, [((0, 1), (3, 1)), ((0, 4), (3, 4))])))
    name = "Coil terminals / M3.5"
    assert found[3:] == [(f"WK18 {TITLE}", name, "1.0"), (f"WK32 {TITLE}", name, "1.1")]


def test_a_terminal_over_columns_of_ratings_names_its_row(tmp_path: Path) -> None:
    rows = [
        ["Type", "Rated current", "Height mm", "Conductor mm²", "Torque N·m"],
        ["WK9", "9 A", "58", "1–4", "1.3"], ["WK32", "32 A", "74", "2.5–16", "3.2"],
        ["WK9 … WK32", "Coil A1, A2", "", "0.75–2.5", "0.9"], ["WK-X3", "Auxiliary block 13–44", "", "0.75–2.5", "0.7"],
    ]  # fmt: skip
    spans = [((1, 3), (2, 3)), ((1, 4), (2, 4))]
    found = released(draw(tmp_path / "coil.pdf", TITLE, "Main terminals", (rows, spans)))
    assert [(label, torque) for _, label, torque in found] == [
        ("Main terminals", "1.3"), ("Main terminals", "3.2"), ("Coil A1, A2", "0.9"), ("Auxiliary block 13–44", "0.7"),
    ]  # fmt: skip


def test_what_stands_over_a_sentence_heads_no_column_of_the_table_under_it(tmp_path: Path) -> None:
    page = Canvas(str(tmp_path / "head.pdf"))
    for x, y, text in [
        (60, 748, "KESTERMOOR SWITCHGEAR"), (430, 748, "Relays | WR series"), (60, 736, f"Connection data, {TITLE}"),
        (60, 724, "WR relays plug into the load side of the contactor. Use copper conductors in all of them."),
        (300, 710, "Main terminals"), (440, 710, "Control terminals"),
        (60, 696, "Type"), (150, 696, "Setting range"), (260, 696, "stranded, mm²"), (350, 696, "torque, N·m"),
        (440, 696, "torque, N·m"),
        *((x, 676 - 16 * at, text) for at, row in enumerate(
            (("WR-12", "1–12 A", "0.75–4", "1.3", "0.7"), ("WR-25", "10–25 A", "1–10", "2.1", "0.7"),
             ("WR-40", "22–40 A", "2.5–25", "3.2", "0.7")),
        ) for x, text in zip((60, 150, 260, 350, 440), row, strict=True)),
    ]:  # fmt: skip
        page.setFont("Helvetica", 9)
        page.drawString(x, y, text)
    page.save()
    labels = {label for _, label, _ in released(tmp_path / "head.pdf")}
    assert labels == {"Main terminals", "Control terminals"}
