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
    assert {device for device, _, state in found.values() if state == "released"} == {"Breakers WG 16", "Breakers WG 63"}
