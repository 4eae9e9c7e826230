"""Sheets on which a figure was once given out under a limit, a terminal or a device that is not its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting, SheetReport


def read(folder: Path, *rows: str) -> tuple[Setting, ...]:
    """The settings of a CSV file with these rows, their cells parted by commas."""
    path = folder / "sheet.csv"
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return read_one(path, OpenWish()).settings


def draw(folder: Path, *pages: list[tuple[float, float, str]]) -> SheetReport:
    """The report on a PDF with texts at these points (from the bottom left)."""
    path = folder / "sheet.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=True)
    for page in pages:
        canvas.setFont("Helvetica", 9)
        for x, y, text in page:
            canvas.drawString(x, y, text)
        canvas.showPage()
    canvas.save()
    return read_one(path, OpenWish())


def told(settings: tuple[Setting, ...]) -> list[tuple[str, str, str]]:
    return [(s.terminal.printed, s.torque.printed if s.torque else "", s.state) for s in settings]


def test_a_lone_limit_belongs_to_the_name_on_its_left(tmp_path: Path) -> None:
    head = "Terminal,Cross-section max. mm²,min.,Tightening torque max. N·m,min."
    (setting,) = read(tmp_path, head, "Main,6,1.5,1.8,1.2")
    assert setting.torque is not None
    assert (str(setting.torque.min_nm), str(setting.torque.max_nm)) == ("1.2", "1.8")
    assert (str(setting.conductor.min_mm2), str(setting.conductor.max_mm2)) == ("1.5", "6")
    assert setting.state == "released"


def test_a_lone_limit_between_two_quantities_is_held(tmp_path: Path) -> None:
    settings = read(tmp_path, "Terminal,Cross-section max. mm²,min.,Tightening torque max. N·m", "Main,6,1.5,1.8")
    assert {s.state for s in settings} == {"held"}


@pytest.mark.parametrize("name", ["Strip length", "Screw length"])
def test_the_limit_of_a_length_is_no_torque(tmp_path: Path, name: str) -> None:
    settings = read(tmp_path, f"Terminal,{name} min. mm,max.,Tightening torque min. N·m", "Main,9,1.8,1.2")
    assert settings
    assert all(s.torque is not None and s.torque.max_nm is None for s in settings if s.state == "released")


def test_a_call_out_at_the_height_of_a_property_is_not_its_value(tmp_path: Path) -> None:
    report = draw(
        tmp_path,
        [
            (60, 700, "Main terminals"),
            (60, 680, "Tightening torque"),
            (330, 680, "5 N·m"),
            (330, 666, "Lid of the housing"),
        ],
    )
    assert [(s.torque.printed, s.state) for s in report.settings if s.torque] == [("5 N·m", "held")]


def test_a_list_of_two_columns_is_still_read(tmp_path: Path) -> None:
    rows = (("Main terminals", ""), ("Conductor", "1.5 to 6 mm²"), ("Tightening torque", "1.2 N·m"))
    texts = [(x, 700 - 14 * r, text) for r, row in enumerate(rows) for x, text in zip((60, 300), row, strict=True)]
    report = draw(tmp_path, texts)
    assert told(report.settings) == [("Main terminals", "1.2 N·m", "released")]


def test_headings_printed_again_do_not_end_the_device_of_a_band_in_silence(tmp_path: Path) -> None:
    head = "Terminal,Tightening torque N·m"
    settings = read(tmp_path, "MCB QX 16,", head, "Line,2.0", "RCCB RX 40,", "Load,2.5", head, "Coil,0.8")
    released = {s.terminal.printed: s.device.printed for s in settings if s.state == "released"}
    assert "QX 16" in released["Line"]
    assert "RX 40" in released["Load"]
    assert "QX 16" not in released.get("Coil", "")


def test_two_devices_over_one_list_hold_it(tmp_path: Path) -> None:
    settings = read(tmp_path, "MCB QX 16,type B", "RCCB RX 40,type A", "Terminal,Tightening torque Nm", "Line,2.0")
    assert told(settings) == [("Line", "2.0", "held")]


@pytest.mark.parametrize("column", ["Max. cross-section mm²", "Thread"])
def test_a_blank_size_or_thread_is_not_every_size(tmp_path: Path, column: str) -> None:
    first = "4" if column.startswith("Max") else "M4"
    settings = read(tmp_path, f"Terminal,{column},Tightening torque Nm", f"Main,{first},1.2", "Aux,,2.0")
    assert told(settings) == [("Main", "1.2", "released"), ("Aux", "2.0", "held")]


def test_a_torque_whose_heading_ends_in_a_letter_is_not_dropped(tmp_path: Path) -> None:
    settings = read(tmp_path, "Terminal,Tightening torque Nm,Tightening torque (A)", "Main,2,3")
    assert [(s.torque.printed, s.state) for s in settings if s.torque] == [("2", "released"), ("3", "held")]


def test_a_figure_alone_on_another_page_is_told(tmp_path: Path) -> None:
    rows = (("Terminal", "Torque"), ("Line", "2 N·m"), ("Load", "3 N·m"), ("Neutral", "3 N·m"))
    first = [(x, 706 - 16 * r, text) for r, row in enumerate(rows) for x, text in zip((60, 200), row, strict=True)]
    report = draw(tmp_path, [(60, 780, "MCB QX 16"), *first], [(200, 674, "3 N·m")])
    assert len([s for s in report.settings if s.state == "released"]) == 3
    held = [s for s in report.settings if s.state == "held" and s.torque is not None]
    assert [(s.place.page, s.torque.printed) for s in held if s.torque] == [(2, "3 N·m")]


def test_a_least_torque_with_a_name_and_a_most_without_are_no_pair(tmp_path: Path) -> None:
    head = "Terminal,Main circuit Tightening torque min. N·m,Tightening torque max. N·m"
    assert {s.state for s in read(tmp_path, head, "T1,1.2,3")} == {"held"}


def test_markings_under_a_heading_of_terminals_stay(tmp_path: Path) -> None:
    settings = read(tmp_path, "Terminal,Connection,Tightening torque N·m", "1,Main,2", "2,Aux,1.5")
    assert [s.terminal.printed for s in settings] == ["1 / Main", "2 / Aux"]


def test_a_count_of_rows_is_no_marking(tmp_path: Path) -> None:
    settings = read(tmp_path, "Pos.,Terminal,Tightening torque N·m", "1,Main,2", "2,Aux,1.5")
    assert [s.terminal.printed for s in settings] == ["Main", "Aux"]


def test_two_kinds_of_device_in_a_row_are_no_cut_name(tmp_path: Path) -> None:
    settings = read(tmp_path, "Terminal,Kind,Tightening torque N·m", "Contactor,Relay,", "A1,x,0.8")
    assert not any("Contactor Relay" in s.device.printed for s in settings if s.state == "released")


def test_one_blank_cell_is_doubted_once(tmp_path: Path) -> None:
    settings = read(tmp_path, "Terminal,Torque N·m", ",2", "Main,3")
    codes = [[f.code for f in s.findings] for s in settings]
    assert (codes[0].count("terminal_missing"), codes[1]) == (1, [])
