"""Sheets drawn to mislead a reader, each in another way: what is released, and what is held for which reason."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
import reportlab
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import HEADS, Write, codes, draw, draw_table, released, settle
from mapped_font import register

FONT = str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")


def behind(main: str, mark: str, rise: float, size: float) -> Write:
    """Write a figure and a mark right behind it."""

    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.drawString(x, y, main)
        canvas.setFont("Helvetica", size)
        canvas.drawString(x + stringWidth(main, "Helvetica", 9), y + rise, mark)

    return write


@pytest.mark.parametrize(("rise", "size"), [(4, 9), (2, 7.4), (1.2, 8)])
def test_a_note_number_that_is_hardly_small_is_no_part_of_the_figure(tmp_path: Path, rise: float, size: float) -> None:
    path = tmp_path / "marks.pdf"
    canvas = draw(path, [HEADS, ("N", "6", behind("1.4", "1", rise, size)), ("PE", "10", "2")], ruled=False)
    canvas.drawString(50, 660, "1 with a torque driver")
    canvas.save()
    assert released(path) == {"N": "1.4", "PE": "2"}


def test_a_small_digit_on_the_line_of_a_figure_holds_it(tmp_path: Path) -> None:
    path = tmp_path / "small.pdf"
    draw(path, [HEADS, ("N", "6", behind("1.4", "1", 0, 5.4)), ("PE", "10", "2")]).save()
    assert released(path) == {"PE": "2"}


def test_a_column_that_names_the_rows_goes_before_the_title(tmp_path: Path) -> None:
    path = tmp_path / "pole.pdf"
    draw(path, [("Pole", *HEADS[1:]), ("L1", "6", "1.2"), ("N", "6", "1.4"), ("13–14", "2.5", "0.8")]).save()
    assert released(path) == {"L1": "1.2", "N": "1.4", "13–14": "0.8"}


def test_a_column_that_is_not_understood_and_tells_rows_apart_holds_them(tmp_path: Path) -> None:
    path = tmp_path / "colour.pdf"
    draw(path, [("Colour", *HEADS[1:]), ("grey", "6", "1.2"), ("blue", "10", "1.8")]).save()
    assert released(path) == {}
    assert "terminal_missing" in set().union(*codes(path).values())


def test_a_blank_terminal_cell_is_not_named_by_the_title(tmp_path: Path) -> None:
    path = tmp_path / "blank.pdf"
    draw(path, [HEADS, ("Line", "4", "1.2"), ("", "10", "2"), ("PE", "16", "3")]).save()
    found = [(one.terminal.printed, one.state) for one in read_sheet(path).settings]
    assert found == [("Line", "released"), ("Line", "held"), ("PE", "released")]


def test_terminals_across_with_a_column_of_units_keep_their_names(tmp_path: Path) -> None:
    path = tmp_path / "across.pdf"
    rows = [("Property", "Unit", "L1", "PE"), ("Conductor", "mm²", "1.5–6", "4–16"), ("Torque", "N·m", "1.2", "2.5")]
    draw(path, rows).save()
    assert released(path) == {"L1": "1.2", "PE": "2.5"}


def test_a_unit_that_is_not_known_is_not_replaced_by_another(tmp_path: Path) -> None:
    path = tmp_path / "units.pdf"
    rows = [("Terminal", "Torque", "Unit"), ("1", "1.2", "N·m"), ("2", "80", "cN·m"), ("3", "18", "psi")]
    draw(path, rows, title="All torques in N·m").save()
    assert released(path) == {"1": "1.2", "2": "0.80"}


def test_a_tolerance_in_the_heading_is_not_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "tolerance.pdf"
    draw(path, [("Terminal", "Torque N·m +10/-0 %"), ("1", "1.2"), ("2", "2")]).save()
    assert released(path) == {}
    assert ["condition_unread" in found for found in codes(path).values()] == [True, True]


def test_minimum_and_maximum_under_different_names_are_no_limits_of_two_terminals(tmp_path: Path) -> None:
    path = tmp_path / "limits.pdf"
    rows = [("Type", "min N·m", "Power max N·m"), ("T1", "1.8", "2.2"), ("T2", "2.5", "3.0")]
    draw(path, rows).save()
    assert released(path) == {}
    assert all("table_shifted" in found for found in (codes(path)["T1"], codes(path)["T2"]))


@pytest.mark.parametrize("dots", ["", " ........................ "])
def test_a_list_of_properties_under_sub_headings_names_its_terminals(tmp_path: Path, dots: str) -> None:
    path = tmp_path / "list.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    lines = (
        "Main terminals", ("Terminal capacity", "1–16 mm²"), ("Tightening torque", "2.0 N·m"), ("Screw", "M5, slot"),
        "Auxiliary terminals", ("Terminal capacity", "0.5–2.5 mm²"), ("Tightening torque", "0.6 N·m"), ("Screw", "M3"),
    )  # fmt: skip
    for number, line in enumerate(lines):
        name, value = (line, "") if isinstance(line, str) else line
        canvas.setFont("Helvetica-Bold" if isinstance(line, str) else "Helvetica", 9)
        canvas.drawString(50, 760 - 16 * number, name + (dots if value else ""))
        canvas.drawString(270, 760 - 16 * number, value)
    canvas.save()
    assert released(path) == {"Main terminals / M5": "2.0", "Auxiliary terminals / M3": "0.6"}
    assert {one.terminal.thread for one in settle(path).values()} == {"M5", "M3"}


def test_a_list_overleaf_under_a_line_of_its_own_does_not_go_on_unasked(tmp_path: Path) -> None:
    path = tmp_path / "overleaf.pdf"
    canvas = draw(path, [HEADS, ("1", "6", "1.2"), ("2", "10", "2")])
    canvas.showPage()
    canvas.setFont("Helvetica", 9)
    canvas.drawString(50, 764, "Spare parts")
    draw_table(canvas, [("K-1", "6", "3.40"), ("K-2", "10", "4.80")])
    canvas.save()
    assert released(path) == {"1": "1.2", "2": "2"}


def test_a_zigzag_through_a_figure_strikes_it_out(tmp_path: Path) -> None:
    path = tmp_path / "zigzag.pdf"
    canvas = draw(path, [HEADS, ("1", "6", "3.5"), ("2", "10", "2")])
    stroke = canvas.beginPath()
    stroke.moveTo(272, 722)
    for step in range(6):
        stroke.lineTo(274.5 + 2.5 * step, 728 if step % 2 == 0 else 722)
    canvas.drawPath(stroke)
    canvas.save()
    assert released(path) == {"2": "2"}
    assert "text_struck_out" in codes(path)["1"]


def test_two_codes_of_one_font_that_claim_one_digit_and_draw_two_are_doubted(tmp_path: Path) -> None:
    path = tmp_path / "map.pdf"
    draw(path, [HEADS, ("A", "10", "2.5"), ("B", "16", "3.5")], font=register(FONT, {"5": "3"})).save()
    assert released(path) == {}
    found = codes(path).values()
    assert found
    assert all("text_differs_from_picture" in each for each in found)


def test_a_formula_that_shows_a_text_is_that_text(tmp_path: Path) -> None:
    path = tmp_path / "formula.csv"
    path.write_text('Terminal,Conductor mm²,Torque N·m\n="01",="4",="1.2"\n="1",="6",=0.6*3\n', encoding="utf-8")
    assert released(path) == {"01": "1.2"}


@pytest.mark.parametrize("angle", [90, -90])
def test_headings_on_their_side_over_a_table_without_rules(tmp_path: Path, angle: int) -> None:
    path = tmp_path / "side.pdf"
    canvas = draw(path, [("X1", "6", "1.8"), ("X2", "10", "2.5")], ruled=False)
    canvas.setFont("Helvetica", 9)
    for column, text in enumerate(HEADS):
        canvas.saveState()
        canvas.translate(68 + 110 * column, 753 if angle == 90 else 753 + stringWidth(HEADS[1], "Helvetica", 9))
        canvas.rotate(angle)
        canvas.drawString(0, 0, text)
        canvas.restoreState()
    canvas.save()
    assert released(path) == {"X1": "1.8", "X2": "2.5"}


def test_the_device_is_named_above_the_table_and_never_by_a_row_of_it(tmp_path: Path) -> None:
    path = tmp_path / "order.pdf"
    rows = [("Order no.", "Rated current", "Terminal mm²", "Torque N·m"), ("WG-C6", "6 A", "1–16", "2.0")]
    draw(path, [*rows, ("WG-C63", "63 A", "2.5–35", "3.5")], title="WG 10 terminals").save()
    assert [one.device.printed for one in read_sheet(path).settings] == [
        "WG-C6 WG 10 terminals",
        "WG-C63 WG 10 terminals",
    ]


def test_each_table_of_a_file_has_the_device_of_the_line_over_it(tmp_path: Path) -> None:
    path = tmp_path / "two.csv"
    table = "Terminal,mm²,Torque N·m\n1,{},{}\n\n"
    text = "Wrenlow Gear\nQX 16 - torques\n" + table.format("2.5", "0.6") + "QX 63 - torques\n"
    path.write_text(text + table.format("25", "4"), encoding="utf-8")
    assert [one.device.printed for one in read_sheet(path).settings] == ["QX 16", "QX 63"]


def test_a_column_that_counts_the_rows_is_no_part_of_the_terminal(tmp_path: Path) -> None:
    path = tmp_path / "counted.pdf"
    draw(path, [("Pos.", *HEADS), ("1", "Line", "4", "0.6"), ("2", "Load", "6", "0.8")]).save()
    assert released(path) == {"Line": "0.6", "Load": "0.8"}


def test_figures_in_arabic_digits_are_figures(tmp_path: Path) -> None:
    path = tmp_path / "arabic.csv"
    path.write_text("طرف;مقطع الموصل (mm²);عزم الشد (N·m)\nL1;١٫٥–٦;١٫٢\nN;٢٫٥–١٠;٢٫٥\n", encoding="utf-8")
    assert released(path) == {"L1": "1.2", "N": "2.5"}


def test_headings_over_the_frame_of_a_ruled_table_head_it(tmp_path: Path) -> None:
    path = tmp_path / "over.pdf"
    canvas = draw(path, [("1", "6", "1.2"), ("2", "10", "2")])
    for x in (50, 160, 270, 380):
        canvas.line(x, 752, x, 716)
    canvas.setFont("Helvetica", 9)
    for column, text in enumerate(HEADS):
        canvas.drawString(54 + 110 * column, 757, text)
    canvas.save()
    assert released(path) == {"1": "1.2", "2": "2"}


def test_a_device_under_headings_of_two_units_names_the_rows_beneath(tmp_path: Path) -> None:
    path = tmp_path / "band.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 8)
    for y, texts in (
        (720, {54: "torque"}), (711, {178: "terminal", 365: "conductor mm²"}), (702, {54: "N·m", 115: "lb·in"}),
        (682, {54: "main switches WG 10"}), (663, {54: "2", 115: "17.7", 178: "L1", 365: "10-50"}),
        (644, {54: "2.5", 115: "22.1", 178: "PE", 365: "2.5-16"}), (625, {54: "main switches WGX-63"}),
        (606, {54: "1.2", 115: "10.6", 178: "N", 365: "0.75-4"}),
    ):  # fmt: skip
        for x, text in texts.items():
            canvas.drawString(x, y, text)
    canvas.save()
    found = [(s.device.printed, s.terminal.printed, s.state) for s in read_sheet(path).settings]
    assert found == [
        ("main switches WG 10", "L1", "released"),
        ("main switches WG 10", "PE", "released"),
        ("main switches WGX-63", "N", "released"),
    ]
