"""Units that have a column of their own, and names printed once for a group of rows between two rules."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest
from openpyxl import Workbook
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet
from torquary_ingest.scope.statement import read_statement

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import HEADS, draw_table

Said = set[tuple[str, str, str, str]]


def said(path: Path) -> Said:
    """Return terminal, conductor and torque as printed, with the state."""
    found = read_sheet(path).settings
    return {(one.terminal.printed, one.conductor.printed, one.torque.printed, one.state) for one in found}


def grouped(path: Path, groups: list[list[tuple[str, str, str]]]) -> Path:
    """Draw rows without rules but those between groups."""
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 11)
    canvas.drawString(50, 780, "Wrenlow circuit breaker WG 10")
    draw_table(canvas, [HEADS, *(row for group in groups for row in group)], ruled=False)
    at = 740 + 12
    for count in [0, 1, *map(len, groups)]:
        at -= 18 * count
        canvas.line(50, at, 380, at)
    canvas.save()
    return path


def test_a_column_of_units_gives_the_torque_s_unit(tmp_path: Path) -> None:
    rows = "Contactor QK 12\n\nTerminal,Conductor mm²,Torque,Torque unit\nMain,1.5-4,1.2,N·m\nCoil,0.75-2.5,90,cN·m\n"
    path = tmp_path / "sheet.csv"
    path.write_text(rows, encoding="utf-8")
    found = {one.terminal.printed: (one.torque.max_nm, one.state) for one in read_sheet(path).settings}
    assert found == {"Main": (Decimal("1.2"), "released"), "Coil": (Decimal("0.9"), "released")}


def test_a_name_at_the_top_of_a_ruled_group_is_of_all_its_rows(tmp_path: Path) -> None:
    rows = [
        [("Line", "1.5-6 mm²", "1.8 N·m"), ("", "10-16 mm²", "2.5 N·m")],
        [("Load", "1.5-6 mm²", "2.0 N·m"), ("", "10-25 mm²", "3.0 N·m")],
        [("Neutral", "1.5-6 mm²", "1.2 N·m")],
    ]
    wanted = {(group[0][0], size, torque, "released") for group in rows for _, size, torque in group}
    assert said(grouped(tmp_path / "sheet.pdf", rows)) == wanted


def test_the_same_in_another_unit_is_no_row_of_its_own(tmp_path: Path) -> None:
    rows = [
        [("Line", "1.5-16 mm²", "2.0 N·m"), ("", "16-6 AWG", "18 lbf·in")],
        [("Load", "2.5-25 mm²", "2.5 N·m"), ("", "14-4 AWG", "22 lbf·in")],
    ]
    found = read_sheet(grouped(tmp_path / "sheet.pdf", rows)).settings
    assert {(one.terminal.printed, one.torque.max_nm) for one in found} == {
        ("Line", Decimal("2.0")), ("Load", Decimal("2.5")),
    }  # fmt: skip


def test_a_number_format_without_decimals_shows_no_mark(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (["Contactor QK 12"], [], ["Terminal", "Conductor mm²", "Torque N·m"], ["Main", 16, 2.5]):
        sheet.append(row)
    for column in "BC":
        sheet[f"{column}4"].number_format = "0.##"
    book.save(tmp_path / "sheet.xlsx")
    [one] = read_sheet(tmp_path / "sheet.xlsx").settings
    assert (one.conductor.printed, one.torque.printed) == ("16", "2.5")


@pytest.mark.parametrize("title", ["Kiristysmomentit, kuparijohtimet", "Anzugsdrehmomente, Kupferleiter"])
def test_a_title_with_metal_and_conductors_in_one_word_speaks_for_all(title: str) -> None:
    found = read_statement(title)
    assert found is not None
    assert found.material == ("copper",)
