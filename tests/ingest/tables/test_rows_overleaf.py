"""A row or two that a page's end leaves alone overleaf."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_sheet, read_tables
from torquary_ingest.tables import find_tables
from torquary_ingest.tables.overleaf import add_rows_overleaf

HEAD = ("Terminal", "Conductor mm²", "Torque N·m")
ROWS = (HEAD, ("Line", "1.5-16", "2.5"), ("Load", "1.5-10", "2"), ("Neutral bar", "2.5-25", "3.5"))
PROSE = "The devices comply with IEC 60898-1 and are made for 230 V, 50 Hz."


def draw(path: Path, *pages: Sequence[Sequence[str]], above: str = "", left: float = 60) -> Path:
    """Draw the rows of each page without rules, a title on each and a line over those of the last one."""
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    for number, rows in enumerate(pages, 1):
        canvas.setFont("Helvetica", 11)
        canvas.drawString(50, 790, "Wrenlow WG 10")
        canvas.setFont("Helvetica", 9)
        if above and number == len(pages):
            canvas.drawString(50, 760, above)
        for row, texts in enumerate(rows):
            for column, text in enumerate(texts):
                canvas.drawString((60 if number == 1 else left) + 140 * column, 740 - 18 * row, text)
        canvas.showPage()
    canvas.save()
    return path


def told(path: Path) -> list[tuple[str, str, str]]:
    return [(s.terminal.printed, s.torque.printed, s.state) for s in read_sheet(path).settings if s.torque]


LAST = ("Earth", "4-16", "1.2")


@pytest.mark.parametrize("above", ["", PROSE, "Wrenlow WG 10 (continued)"])
def test_a_lone_row_goes_on_the_table_before(tmp_path: Path, above: str) -> None:
    path = draw(tmp_path / "one.pdf", ROWS, [LAST], above=above)
    assert [table.rows for table in read_tables(path, every_page=True)[1]] == [4, 1]
    assert told(path)[-1][:2] == ("Earth", "1.2")
    assert told(path)[-1][2] == ("held" if above == PROSE else "released")


def test_a_label_wider_than_those_before_stays_in_its_row(tmp_path: Path) -> None:
    path = draw(tmp_path / "wide.pdf", ROWS, [("Protective earth bar", "4-16", "1.2")])
    assert told(path)[-1] == ("Protective earth bar", "1.2", "released")


def test_lines_that_stand_otherwise_are_no_rows(tmp_path: Path) -> None:
    moved = draw(tmp_path / "moved.pdf", ROWS, [LAST], left=130)
    assert [table.rows for table in read_tables(moved, every_page=True)[1]] == [4]
    prose = draw(tmp_path / "prose.pdf", ROWS, [(PROSE,)])
    assert [table.rows for table in read_tables(prose, every_page=True)[1]] == [4]


def test_figures_overleaf_that_fit_no_column_are_named(tmp_path: Path) -> None:
    report = read_sheet(draw(tmp_path / "moved.pdf", ROWS, [LAST], left=130), every_page=True)
    assert [(f.code, "Earth 4-16 1.2" in f.message) for f in report.findings] == [("figure_not_placed", True)]


def test_a_running_head_under_the_columns_is_no_row(tmp_path: Path) -> None:
    path = tmp_path / "head.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    for number in (1, 2):
        canvas.setFont("Helvetica", 9)
        for column, text in enumerate(("Wrenlow WG 10", "4", str(number))):
            canvas.drawString(60 + 140 * column, 800, text)
        for row, texts in enumerate(ROWS if number == 1 else [(PROSE,)]):
            for column, text in enumerate(texts):
                canvas.drawString(60 + 140 * column, 740 - 18 * row, text)
        canvas.showPage()
    canvas.save()
    assert [table.page for table in read_tables(path, every_page=True)[1]] == [1]
    report = read_sheet(path, every_page=True)
    assert [s.terminal.printed for s in report.settings] == ["Line", "Load", "Neutral bar"]
    assert not report.findings


def test_a_row_overleaf_that_looks_like_those_before_is_named(tmp_path: Path) -> None:
    rows = (HEAD, ("L1", "1-16", "2"), ("L2", "1-10", "2"), ("L3", "2-25", "3"))
    report = read_sheet(draw(tmp_path / "alike.pdf", rows, [("L4", "4-16", "1")], left=130), every_page=True)
    assert [(f.code, "L4 4-16 1" in f.message) for f in report.findings] == [("figure_not_placed", True)]


def test_a_lone_row_of_two_columns_is_named(tmp_path: Path) -> None:
    rows = [(HEAD[0], HEAD[2]), ("Line", "2.5"), ("Load", "2"), ("Neutral bar", "3.5")]
    report = read_sheet(draw(tmp_path / "two.pdf", rows, [("Earth", "1.2")]), every_page=True)
    assert [(f.code, "'Earth 1.2'" in f.message) for f in report.findings] == [("figure_not_placed", True)]


def test_rows_overleaf_go_on_as_far_as_they_fit(tmp_path: Path) -> None:
    rows = [(f"Terminal {number}", "4-16", "1.2") for number in range(1, 10)]
    first, second = PdfOpener().open(draw(tmp_path / "many.pdf", ROWS, rows), OpenWish(every_page=True)).pages
    [table] = add_rows_overleaf(second, (), first, find_tables(first))
    assert [cell.text for cell in table.cells if cell.column == 1] == [row[0] for row in rows]
