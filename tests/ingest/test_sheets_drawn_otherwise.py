"""Sheets that say the usual in another way of drawing: bands in parts, strokes of signs, headings of another order."""

from __future__ import annotations

import re
import sys
from decimal import Decimal
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import HEADS, codes, draw, released


def test_a_unit_at_the_other_end_of_a_row_of_words_is_that_of_the_rows_beneath(tmp_path: Path) -> None:
    path = tmp_path / "band.pdf"
    rows = [HEADS, ("N", "6", "2.5"), ("Bar terminals", "", ""), ("M8", "70", "14"), ("M10", "95", "22")]
    canvas = draw(path, rows)
    canvas.drawRightString(376, 740 - 36, "torque in lb·ft")
    canvas.save()
    read = {label: figure[:5] for label, figure in released(path).items()}
    assert read == {"N": "2.5", "Bar terminals / M8": "18.98", "Bar terminals / M10": "29.82"}


def test_a_unit_alone_under_the_torques_is_that_of_the_rows_beneath(tmp_path: Path) -> None:
    path = tmp_path / "band.csv"
    lines = ";mm²;Nm\nN;6;2.5\nPE;6;2.5\nBar terminals;;lb·ft\nM8;;14\nM10;;22\n"
    path.write_text("Terminal" + lines, encoding="utf-8")
    assert {label: figure[:5] for label, figure in released(path).items()}["Bar terminals / M8"] == "18.98"


def test_a_figure_under_a_blank_heading_of_another_part_holds(tmp_path: Path) -> None:
    path = tmp_path / "blank.csv"
    lines = "Terminal;mm²;Nm\nN;6;2.5\nPE;6;2.5\nBar terminals;;lb·ft\nM8;70;14\nM10;95;22\n"
    path.write_text(lines, encoding="utf-8")
    assert set(released(path)) == {"N", "PE"}


def test_a_stroke_of_a_sign_in_the_first_row_costs_no_row(tmp_path: Path) -> None:
    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.drawString(x, y, "2.0 + 0.2")
        canvas.line(x + 15, y - 0.2, x + 20, y - 0.2)

    path = tmp_path / "stroke.pdf"
    draw(path, [HEADS, ("N", "6", write), ("PE", "10", "2"), ("A1", "4", "1")]).save()
    assert released(path) == {"PE": "2", "A1": "1"}
    assert codes(path)["N"]


@pytest.mark.parametrize(
    ("heads", "row", "limits"),
    [
        ("Torque N·m;Tolerance N·m", "5.0;± 0.5", ("4.5", "5.5")),
        ("Torque N·m;Tolerance %", "5.0;±10", ("4.5", "5.5")),
        ("Torque N·m;Torque lb·in;Tolerance", "5.0;44;± 10 %", ("4.5", "5.5")),
        ("Torque cN·m;Tolerance N·m", "500;± 0.5", None),
        ("Torque N·m;Torque lb·in;Tolerance N·m", "5.0;44;± 0.5", None),
        ("Torque N·m;Remark;Tolerance", "5.0;dry;± 10 %", None),
    ],
)
def test_a_tolerance_in_a_column_of_its_own_is_part_of_the_figure(
    tmp_path: Path, heads: str, row: str, limits: tuple[str, str] | None
) -> None:
    path = tmp_path / "tolerance.csv"
    path.write_text(f"Terminal;mm²;{heads}\nN;6;{row}\nPE;10;{row}\n", encoding="utf-8")
    found = {one.terminal.printed: one for one in read_sheet(path).settings if one.state == "released"}
    if limits is None:
        assert not found
        assert "condition_unread" in codes(path)["N"]
    else:
        assert {(one.torque.min_nm, one.torque.max_nm) for one in found.values()} == {tuple(map(Decimal, limits))}
        assert sorted(found) == ["N", "PE"]


@pytest.mark.parametrize("head", ["Pole", "Phase", "Poles"])
def test_numbers_under_a_word_for_a_terminal_keep_the_title_from_naming_the_rows(tmp_path: Path, head: str) -> None:
    path = tmp_path / "pole.pdf"
    rows = [(head, *HEADS[1:]), ("1", "16", "2.0"), ("2", "25", "2.5"), ("3", "35", "3.5")]
    draw(path, rows, title="Main switch WG 10").save()
    assert released(path) == {}
    assert {label: "terminal_missing" in found for label, found in codes(path).items()} == dict.fromkeys("123", True)


@pytest.mark.parametrize("corner", ["", "Terminal"])
def test_units_in_the_last_column_leave_terminals_across_their_names(tmp_path: Path, corner: str) -> None:
    path = tmp_path / "across.pdf"
    rows = [(corner, "Mains", "Earth", "Unit"), ("Conductor", "2.5–16", "4–25", "mm²"), ("Torque", "2.0", "2.5", "N·m")]
    draw(path, rows, title="Main switch WG 10").save()
    assert released(path) == {"Mains": "2.0", "Earth": "2.5"}


def test_the_second_hyphen_of_windows_encoding_is_read(tmp_path: Path) -> None:
    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas._code.append(f"BT /F1 9 Tf {x} {y} Td (10\\25512) Tj ET")

    path = tmp_path / "hyphen.pdf"
    draw(path, [HEADS, ("N", "6", write), ("PE", "10", "2")]).save()
    found = {one.terminal.printed: (one.state, one.torque.printed) for one in read_sheet(path).settings}
    assert found == {"N": ("released", "10-12"), "PE": ("released", "2")}


@pytest.mark.parametrize(
    ("printed", "low", "high"),
    [
        ("0.5 up to 0.6", "0.5", "0.6"),
        ("up to 0.6", None, "0.6"),
        ("0.5 jusqu'à 0.6", "0.5", "0.6"),
        ("0.5 έως 0.6", "0.5", "0.6"),
        ("0.5\u22ef0.6", "0.5", "0.6"),
        ("hoogstens 0.6", None, "0.6"),
        ("0.6 (max.)", None, "0.6"),
        ("0.5 N·m (min.)", "0.5", None),
    ],
)
def test_ranges_and_limits_in_more_words(tmp_path: Path, printed: str, low: str | None, high: str | None) -> None:
    path = tmp_path / "words.csv"
    path.write_text(f"Terminal;mm²;Torque N·m\nN;6;{printed}\n", encoding="utf-8")
    (one,) = read_sheet(path).settings
    highest = one.torque.max_nm if one.torque.limit_nm is None else one.torque.limit_nm
    limits = tuple(str(figure) if figure is not None else None for figure in (one.torque.min_nm, highest))
    assert (one.torque.limit_nm is None) == (low is not None)
    assert (one.state, *limits, one.torque.printed) == ("released", low, high, printed)


def test_the_square_of_a_unit_in_cyrillic_is_no_note(tmp_path: Path) -> None:
    path = tmp_path / "square.csv"
    path.write_text("Зажим;Сечение мм²;Момент затяжки Н·м\nN;4;1,2\n", encoding="utf-8")
    (one,) = read_sheet(path).settings
    assert (one.state, one.conductor.min_mm2 if one.conductor else None) == ("released", Decimal(4))


def test_limits_under_the_name_of_a_circuit_are_the_torques_of_the_title(tmp_path: Path) -> None:
    path = tmp_path / "circuits.csv"
    lines = "Tightening torques (N·m);;;;\nType;Main circuit;Main circuit;Control circuit;Control circuit\n"
    path.write_text(f"{lines};min;max;min;max\nV 20;1.2;1.5;0.5;0.6\nV 40;2;2.5;0.5;0.6\n", encoding="utf-8")
    found = [(one.terminal.printed, one.torque.printed) for one in read_sheet(path).settings if one.state == "released"]
    main, control = "Main circuit", ("Control circuit", "0.5 – 0.6")
    assert found == [(main, "1.2 – 1.5"), control, (main, "2 – 2.5"), control]


def test_a_table_of_objects_with_wrong_places_is_rebuilt_and_said(tmp_path: Path) -> None:
    path = tmp_path / "places.pdf"
    draw(path, [HEADS, ("N", "6", "2.5"), ("PE", "10", "2")]).save()
    wrong = re.sub(rb"(\d{10}) 00000 n", lambda found: b"%010d 00000 n" % (int(found[1]) + 10), path.read_bytes())
    path.write_bytes(wrong)
    report = read_sheet(path)
    assert released(path) == {"N": "2.5", "PE": "2"}
    assert "sheet_repaired" in [finding.code for finding in report.findings]
