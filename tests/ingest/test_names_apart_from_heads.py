"""Names of terminals and devices that stand close to words of headings, and are none."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import draw_table, settle


def named(tmp_path: Path, text: str) -> list[tuple[str, str, str]]:
    """Return terminal, conductor and torque of what is released, as printed."""
    path = tmp_path / "sheet.csv"
    path.write_text(text, encoding="utf-8")
    found = (one for one in read_sheet(path).settings if one.state == "released")
    return [(one.terminal.printed, one.conductor.printed, one.torque.printed) for one in found]


@pytest.mark.parametrize("size", ["2.5-16 mm²", "14-6 AWG"])
def test_a_list_whose_terminal_is_called_by_a_word_of_torques_is_no_table_of_them(tmp_path: Path, size: str) -> None:
    """A size with its unit in a column of torques speaks against the column's being one: "relay 13, 14" is no name."""
    text = f"Wrenlow WG 10\n\nTerminal;Torque relay 13, 14\nConductor;{size}\nTightening torque;18 lbf·in\n"
    assert named(tmp_path, text) == []
    assert named(tmp_path, text.replace("Torque relay", "Alarm contact")) == [
        ("Alarm contact 13, 14", size, "18 lbf·in")
    ]


def test_the_heading_of_threads_is_no_part_of_a_row_s_label(tmp_path: Path) -> None:
    text = "断面積 mm²;端子;端子ねじの呼び;締付トルク N·m\n0.75-4;T1;M4;0.5\n2.5-16;13;M4;1.2\n"
    assert named(tmp_path, text) == [("T1", "0.75-4", "0.5"), ("13", "2.5-16", "1.2")]


def test_a_device_under_a_head_of_staggered_cells_is_that_of_the_rows_beneath(tmp_path: Path) -> None:
    """Each cell of the head is set in the middle of its height: their lines stand at heights of their own."""
    path = tmp_path / "staggered.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 14)
    canvas.drawString(60, 790, "Wrenlow breakers")
    canvas.setFont("Helvetica", 8)
    heads = [(54, 746, "Terminal"), (164, 750.8, "Capacity of the"), (164, 741.2, "terminals mm²")]
    heads += [(274, 755.6, "Torque"), (274, 736.4, "N·m"), (384, 736.4, "lbf·in")]
    for x, y, text in heads:
        canvas.drawString(x, y, text)
    rows = [("Breakers WG 16",), ("alarm contact", "0.75-4", "0.8", "7.1"), ("A1", "10-50", "2", "17.7")]
    rows += [("Breakers WG 63",), ("95", "2.5-16", "1.2", "10.6"), ("L1", "10-50", "2", "17.7")]
    draw_table(canvas, rows, top=717, ruled=False)
    canvas.save()
    found = {label: (one.device.printed, one.torque.printed, one.state) for label, one in settle(path).items()}
    assert found["alarm contact"] == ("Breakers WG 16", "0.8", "released")
    assert found["95"] == ("Breakers WG 63", "1.2", "released")
    told = {device for device, _, state in found.values() if state == "released"}
    assert told == {"Breakers WG 16", "Breakers WG 63"}


HEADS = "Terminal;Conductor mm²;Torque N·m\n"
LIST = f"{HEADS}L1;1.5-6;1.2\nPE;2.5-10;2.0\n"
BANDS = "Lampiride;;\nL1;1.5-6;1.2\nNoctuelle;;\nL1;2.5-10;2.0\n"


def drawn(tmp_path: Path, title: str, rows: str, *, line: str = "", pages: int = 1) -> set[tuple[str, str]]:
    """Return device and state of what a sheet of pages with one title and list each gives."""
    path = tmp_path / "drawn.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    for _ in range(pages):
        canvas.setFont("Helvetica", 12)
        canvas.drawString(50, 780, title)
        canvas.setFont("Helvetica", 10)
        canvas.drawString(50, 765, line)
        draw_table(canvas, [row.split(";") for row in rows.splitlines()])
        canvas.showPage()
    canvas.save()
    return {(one.device.printed, one.state) for one in read_sheet(path).settings}


def test_a_sheet_that_is_one_list_needs_no_product_beside_a_name_that_may_be_the_maker_s(tmp_path: Path) -> None:
    """Maker or product: what stands over the only list of the only page is what the list is for."""
    assert drawn(tmp_path, "Quarrow Controls", LIST) == {("", "released")}
    assert drawn(tmp_path, "Quarrow Controls", LIST, pages=2) == {("", "held")}


def test_bare_names_between_the_rows_of_one_list_are_its_devices(tmp_path: Path) -> None:
    found = drawn(tmp_path, "Quarrow Controls", HEADS + BANDS)
    assert found == {("Lampiride", "released"), ("Noctuelle", "released")}


@pytest.mark.parametrize(
    ("line", "device"),
    [("VX terminal summary, unit as printed", "VX terminal summary"), ("PE terminals", ""), ("UL terminal data", "")],
)
def test_capitals_before_the_terminals_of_a_sheet_are_its_series(tmp_path: Path, line: str, device: str) -> None:
    """A marking or a standard is none; "as" is no company's legal form."""
    assert {one for one, _ in drawn(tmp_path, "Quarrow Controls", LIST, line=line)} == {device}


def test_a_list_under_a_bare_name_does_without_a_device_only_where_no_reading_of_it_names_one(tmp_path: Path) -> None:
    rows = "L1;1.5-6;1.2\nBreakers WG 16;;\nPE;2.5-10;2.0\n"
    assert drawn(tmp_path, "Quarrow Controls", HEADS + rows) == {("", "held"), ("Breakers WG 16", "released")}


def test_a_line_whose_words_stand_apart_in_one_column_heads_none(tmp_path: Path) -> None:
    """The blank of a typewriter's face is as wide as a gap: the name over a list stays the name of its device."""
    path = tmp_path / "typewriter.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Courier", 14)
    canvas.drawString(60, 790, "Wrenlow breakers")
    canvas.setFont("Courier", 8)
    for x, y, text in ((50, 741, "Breakers WG 16"), (164, 719, "Torque"), (54, 709.4, "Conductor mm²")):
        canvas.drawString(x, y, text)
    for x, y, text in ((384, 709.4, "Terminal"), (164, 699.8, "N·m"), (274, 699.8, "lbf·in")):
        canvas.drawString(x, y, text)
    rows = [("0.75-4", "0.8", "7.1", "A1"), ("1.5-10", "2", "17.7", "L1")]
    draw_table(canvas, rows, top=680.6, ruled=False, font="Courier")
    canvas.save()
    assert {one.device.printed for one in settle(path).values()} == {"Breakers WG 16"}


def test_the_particle_that_ties_a_torque_to_its_terminals_is_no_part_of_their_name(tmp_path: Path) -> None:
    assert named(tmp_path, "Wrenlow WG 10\n\n主端子の締付トルク N·m;電線 mm²\n2.0;2-8\n") == [("主端子", "2-8", "2.0")]


@pytest.mark.parametrize("word", ["Klemmenanschluss", "klemmi", "liittimen"])
def test_a_general_word_in_the_heading_of_torques_is_no_part_of_a_row_s_label(tmp_path: Path, word: str) -> None:
    heads = {"Klemmenanschluss": "Klemmenanschluss Drehmoment", "klemmi": "klemmi pingutusmoment", "liittimen": ""}
    torque = heads[word] or "liittimen kiristysmomentti"
    text = f"Wrenlow WG 10\n\n{torque} N·m;Terminal;mm²\n1.2;13;2.5-16\n"
    assert named(tmp_path, text) == [("13", "2.5-16", "1.2")]
