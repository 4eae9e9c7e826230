"""A held figure that lacks a name goes with the other print of its row, and is compared with its picture too."""

from __future__ import annotations

from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting


def beside(setting: Setting) -> dict[str, str]:
    return {one.heading: one.text for one in setting.beside}


def read(folder: Path, text: str) -> tuple[Setting, ...]:
    path = folder / "sheet.csv"
    path.write_text(text, encoding="utf-8")
    return read_one(path, OpenWish()).settings


def test_the_row_of_a_list_with_its_headings(tmp_path: Path) -> None:
    settings = read(tmp_path, "Wharfside\n\nOrder;Pack;mm²;Tightening torque N·m\n81.104;10;4;0.5\n81.110;5;6;0.8\n")
    assert [beside(one).get("Order") for one in settings] == ["81.104", "81.110"]
    assert {one.state for one in settings} == {"held"}


def test_what_lacks_no_name_has_none(tmp_path: Path) -> None:
    settings = read(tmp_path, "Main switch QS 63\n\nTerminal;Pack;mm²;Tightening torque N·m\nL1;10;4;0.5\n")
    assert [(one.state, one.beside) for one in settings] == [("released", ())]


def draw_cut(path: Path) -> None:
    """A table whose right half was printed on a second page: its rows stand at the same heights."""
    canvas = Canvas(str(path), pagesize=(400, 300))
    halves = (
        [("Type", "Terminal"), ("QS 25", "L1, L2, L3"), ("QS 40", "L1, L2, L3, N")],
        [("Conductor mm²", "Tightening torque N·m"), ("1.5-10", "1.7"), ("2.5-16", "2.2")],
    )
    for half in halves:
        for number, texts in enumerate(half):
            for column, text in enumerate(texts):
                x, y = 40 + 140 * column, 200 - 20 * number
                canvas.rect(x, y, 140, 20)
                canvas.setFont("Helvetica", 9)
                canvas.drawString(x + 5, y + 6, text)
        canvas.showPage()
    canvas.save()


def test_a_table_cut_by_the_edge_of_the_page_has_the_other_half_of_its_rows(tmp_path: Path) -> None:
    draw_cut(tmp_path / "cut.pdf")
    settings = read_one(tmp_path / "cut.pdf", OpenWish()).settings
    assert [beside(one)["page 1: Type"] for one in settings] == ["QS 25", "QS 40"]
    assert [beside(one)["page 1: Terminal"] for one in settings] == ["L1, L2, L3", "L1, L2, L3, N"]


def test_what_a_person_may_give_is_compared_with_its_picture(tmp_path: Path) -> None:
    draw_cut(tmp_path / "cut.pdf")
    settings = read_one(tmp_path / "cut.pdf", OpenWish()).settings
    codes = [{finding.code for finding in one.findings} for one in settings]
    assert [one.state for one in settings] == ["held", "held"]
    assert all("witnessed" in found for found in codes)
