"""What stands over parts of a list: sizes of devices over turned parts, bands that go on overleaf, units of sale."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from set_sheets import parts, read, table

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish


def released(path: Path, text: str) -> list[tuple[str, str, str]]:
    """Device, terminal and torque of what a sheet of this text gives out."""
    path.write_text(text, encoding="utf-8")
    settings = read_one(path, OpenWish()).settings
    return [(s.device.printed, s.terminal.printed, s.torque.printed) for s in settings if s.state == "released"]


FRAMES = (
    "{head} | Unit | {one} | {two}",
    "Rated power | kW | 2.2 | 5.5",
    "Mains terminals | < | < | <",
    "Conductor, max. | mm² | 4 | 6",
    "Tightening torque | N·m | 0.6 | 1.5",
    "PE terminal | < | < | <",
    "Conductor, max. | mm² | 4 | 6",
    "Tightening torque | N·m | 1.3 | 1.8",
)


@pytest.mark.parametrize(("head", "one", "two"), [("Frame size", "A", "B"), ("Type", "VK 1", "VK 2")])
def test_sizes_and_types_over_all_bands_head_each_part(head: str, one: str, two: str) -> None:
    readings = read(table(*(row.format(head=head, one=one, two=two) for row in FRAMES)))
    named = [(entry.cell.text, *parts(r, "torque")) for r in readings for entry in r.entries if entry.field in NAMES]
    torques = ("0.6", "1.5", "1.3", "1.8")
    assert named == [(size, (t, "N·m")) for size, t in zip((one, two) * 2, torques, strict=True)]


NAMES = ("device", "model")


def test_a_letter_of_a_size_is_named_with_the_word_over_it(tmp_path: Path) -> None:
    text = (
        "Curlow drives VK\n\nFrame size;Terminal;Conductor mm²;Tightening torque N·m\n"
        "A;L1, L2, L3;1-4;0.6\nB;L1, L2, L3;2.5-10;1.5\n"
    )
    names = [device for device, _, _ in released(tmp_path / "frames.csv", text)]
    assert [name.split(" Curlow")[0] for name in names] == ["Frame A", "Frame B"]


@pytest.mark.parametrize("caption", [(), ("Protective bars",)])
def test_a_band_goes_on_overleaf_under_the_same_headings(caption: tuple[str, ...]) -> None:
    head = "Type | mm² | Torque N·m"
    first = table(head, "Neutral bars EB | < | <", "EB7 | 1-16 | 2.0", "EB12 | 1-16 | 2.0")
    second = table(head, "EB15 | 1-25 | 2.5", page=2, caption=caption)
    over = [[said.text for said in reading.scope] for reading in read(first, second)]
    assert over == [["Neutral bars EB"]] * 2 + [[*(caption or ("Neutral bars EB",))]]
    assert not any(doubt.code == "readings_differ" for reading in read(first, second) for doubt in reading.doubts)


def test_a_unit_of_sale_is_no_unit_of_torque() -> None:
    wide = table("Part number | UOM | Price | Line terminal torque lb-in", "SD30 | EA | 210.00 | 35")
    assert [parts(reading, "torque") for reading in read(wide)] == [[("35", "lb-in")]]
    beside = table("Terminal | Torque N·m | Unit", "L1 | 35 | lb-in")
    assert [parts(reading, "torque") for reading in read(beside)] == [[("35", "lb-in")]]


def test_a_column_of_unknown_things_names_no_terminal_where_each_torque_does(tmp_path: Path) -> None:
    text = (
        "Part number;Line terminal torque lb-in;Load terminal torque lb-in;Link\n"
        "SD30;35;40;https://example.invalid/30\nSD60;45;50;https://example.invalid/60\n"
    )
    found = released(tmp_path / "links.csv", text)
    assert [label for _, label, _ in found] == ["Line", "Load"] * 2


def test_the_same_word_in_each_row_names_no_terminal(tmp_path: Path) -> None:
    text = "Part number;Cash;Tightening torque N·m, terminals;mm²\nSD30;USD;3.5;4-10\nSD60;USD;4.5;6-16\n"
    assert not any("USD" in label for _, label, _ in released(tmp_path / "cash.csv", text))


@pytest.mark.parametrize(
    "heading", ["Number of terminals", "Anzahl Klemmen", "nombre de bornes", "liczba zacisków", "antal plintar"]
)
def test_a_number_of_terminals_names_none(heading: str) -> None:
    bars = table(f"Bar | {heading} | mm² | Tightening torque N·m", "NB7 | 7 | 1.5-16 | 2.0", "NB12 | 12 | 1.5-16 | 2.0")
    assert [parts(reading, "terminal") for reading in read(bars)] == [[("NB7", "")], [("NB12", "")]]
