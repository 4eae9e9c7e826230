"""Layouts of sheets of moulded-case circuit-breakers and their lug kits, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Table

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released

TITLE = "Wrenlow WB moulded case circuit breakers"


def test_a_column_of_cables_counts_them_where_another_gives_their_sizes(tmp_path: Path) -> None:
    rows = [
        ["Lug kit", "Cables", "mm²", "Torque N·m", "Hex key"],
        ["LK1", "1", "25–95", "9", "4 mm"],
        ["LK2", "2", "50–150", "31", "8 mm"],
    ]
    settings = read_sheet(draw(tmp_path / "cables.pdf", TITLE, (rows, []))).settings
    assert [(s.state, s.conductor.count, str(s.conductor.max_mm2)) for s in settings] == [
        ("released", 1, "95"), ("released", 2, "150"),
    ]  # fmt: skip


def test_a_count_that_is_not_the_one_printed_with_the_size_is_held(tmp_path: Path) -> None:
    rows = [["Lug kit", "Cables per lug", "Wire range", "Torque N·m"], ["LK1", "1", "2 x (25–95 mm²)", "9"]]
    [setting] = read_sheet(draw(tmp_path / "counts.pdf", TITLE, (rows, []))).settings
    assert [f.code for f in setting.findings if f.code != "witnessed"] == ["condition_unread"]


def test_a_kit_named_by_its_cables_is_no_driver_bit(tmp_path: Path) -> None:
    rows = [
        ["Terminal kit", "mm²", "Tightening torque N·m", ""],
        ["", "", "Cable screw", "Terminal to breaker"],
        ["FC 1x95", "1–95", "7", "9"],
        ["FC 2x150", "50–150", "31", "18"],
    ]
    path = draw(tmp_path / "kits.pdf", TITLE, (rows, [((0, 0), (0, 1)), ((1, 0), (1, 1)), ((2, 0), (3, 0))]))
    assert [(label, torque) for _, label, torque in released(path)] == [
        ("FC 1x95 / Cable screw", "7"), ("FC 1x95 / Terminal to breaker", "9"),
        ("FC 2x150 / Cable screw", "31"), ("FC 2x150 / Terminal to breaker", "18"),
    ]  # fmt: skip


def test_a_column_that_numbers_rows_by_a_heading_not_known_leaves_them_unnamed(tmp_path: Path) -> None:
    rows = [
        ["Set no.", "Wires per lug and wire range", "Wire binding torque"],
        ["HL150", "(1) #14–#3/0 AWG Al or Cu", "120 lb-in / 13.6 N·m"],
        ["HL400", "(2) 250–500 kcmil Cu", "375 lb-in / 42 N·m"],
    ]
    settings = read_sheet(draw(tmp_path / "sets.pdf", TITLE, (rows, []))).settings
    assert [[f.code for f in s.findings if f.code != "witnessed"] for s in settings] == [["terminal_missing"]] * 2
    rows[0][0] = "Kit no."
    settings = read_sheet(draw(tmp_path / "kits.pdf", TITLE, (rows, []))).settings
    assert [(s.state, s.device.model, s.conductor.count) for s in settings] == [
        ("released", "HL150", 1), ("released", "HL400", 2),
    ]  # fmt: skip


def test_a_number_in_brackets_that_marks_a_note_counts_nothing_for_certain(tmp_path: Path) -> None:
    rows = [["Lug", "Wire range", "Torque N·m"], ["Line", "(1) 14–8 AWG", "4"], ["Load", "(2) 6–4 AWG", "5"]]
    for name, notes in (("noted", ("(1) Supplied with a cover.",)), ("bare", ())):
        settings = read_sheet(draw(tmp_path / f"{name}.pdf", TITLE, (rows, []), *notes)).settings
        held = [any(f.code == "note_unresolved" for f in s.findings) for s in settings]
        assert held == [bool(notes), False]


@pytest.mark.parametrize("ruled", [True, False])
def test_lines_between_rows_of_one_name_tell_them_apart(tmp_path: Path, ruled: bool) -> None:
    rows = [
        ["Terminal", "AWG/kcmil", "Torque N·m"],
        ["WB100 frame", "", ""], ["Line", "14–1/0", "5.6"], ["Load", "14–1", "5.0"],
        ["WB250 frame", "", ""], ["Line", "4–350", "28"], ["Load", "4–4/0", "25"],
    ]  # fmt: skip
    spans = [((0, 1), (2, 1)), ((0, 4), (2, 4))] if ruled else []
    found = released(draw(tmp_path / "frames.pdf", TITLE, (rows, spans), ruled=ruled))
    assert [(device.split()[0], label, torque) for device, label, torque in found] == [
        ("WB100", "Line", "5.6"), ("WB100", "Load", "5.0"), ("WB250", "Line", "28"), ("WB250", "Load", "25"),
    ]  # fmt: skip
    for row, name in zip(rows[1:], ("Line side", "Upper", "Lower", "Load side", "Upper", "Lower"), strict=True):
        row[0] = name
    found = released(draw(tmp_path / "sides.pdf", TITLE, (rows, spans), ruled=ruled))
    assert [label for _, label, _ in found] == [
        "Line side / Upper", "Line side / Lower", "Load side / Upper", "Load side / Lower",
    ]  # fmt: skip


def test_a_name_in_the_middle_of_a_drawn_cell_is_for_all_lines_beside_it(tmp_path: Path) -> None:
    rows = [
        ["Kit", "Frame", "Wire range AWG", "Wires", "Torque N·m"],
        ["TK150", "WB100", "14–10\n8\n6–4", "Cu/Al", "4\n4.5\n5"],
        ["TK225", "WB250", "4–1\n1/0–4/0", "Cu", "17\n28"],
    ]
    canvas = Canvas(str(tmp_path / "lines.pdf"), pagesize=(595, 842), invariant=1)
    table = Table(rows, style=[("GRID", (0, 0), (-1, -1), 0.5, "black"), ("VALIGN", (0, 0), (-1, -1), "MIDDLE")])
    canvas.drawString(50, 780, TITLE)
    table.wrapOn(canvas, 500, 500)
    table.drawOn(canvas, 50, 600)
    canvas.save()
    found = released(tmp_path / "lines.pdf")
    assert [(label, torque) for _, label, torque in found] == [
        ("TK150", "4"), ("TK150", "4.5"), ("TK150", "5"), ("TK225", "17"), ("TK225", "28"),
    ]  # fmt: skip
