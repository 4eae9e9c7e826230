"""A figure goes to the device and the terminal that the sheet gives it to, whatever words stand near."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import Setting

TABLE = "Terminal;mm²;N·m\nLine;1–16;2.5\nLoad;1–10;2.0\n"


def read(folder: Path, text: str) -> tuple[Setting, ...]:
    path = folder / "sheet.csv"
    path.write_text(text, encoding="utf-8")
    return read_one(path, OpenWish()).settings


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("QX 16", "QX 63"),
        ("QX 16 – torques", "QX 63 – torques"),
        ("QX 16 – torques in N·m", "QX 63 – torques in N·m"),
        ("Breaker Alpha torques", "Breaker Beta torques"),
    ],
)
def test_the_name_over_one_table_is_not_given_to_the_next(tmp_path: Path, first: str, second: str) -> None:
    named = [setting.device.printed for setting in read(tmp_path, f"{first};;\n{TABLE};;\n{second};;\n{TABLE}")]
    names = [line.split(" – ")[0].removesuffix(" torques") for line in (first, second)]
    assert named == [names[0], names[0], names[1], names[1]]


def test_names_of_terminals_over_tables_name_no_device(tmp_path: Path) -> None:
    lines = "Main contacts: torques", "Auxiliary contacts: torques"
    settings = read(tmp_path, f"{lines[0]};;\n{TABLE};;\n{lines[1]};;\n{TABLE}")
    assert [setting.device.printed for setting in settings] == [""] * 4


def test_a_kind_of_device_over_the_first_table_is_the_title_of_all(tmp_path: Path) -> None:
    settings = read(tmp_path, f"Lantern Quay contactors;;\n{TABLE};;\nAuxiliary contacts;;\n{TABLE}")
    assert [setting.device.printed for setting in settings] == ["Lantern Quay contactors"] * 4


@pytest.mark.parametrize("rows", [1, 2, 4])
@pytest.mark.parametrize("head", ["coppia di serraggio;attacchi;sezione del cavo mm²", "Torque;Terminal;Size mm²"])
def test_a_heading_word_of_another_language_inside_a_label_turns_no_table(
    tmp_path: Path, head: str, rows: int
) -> None:
    """"aperto" heads torques in Portuguese; here it is part of the name of an Italian contact."""
    labels = ["contatto normalmente aperto", "pettine", "alimentazione", "equipotenziale"][:rows]
    settings = read(tmp_path, head + "\n" + "".join(f"0,37 ft-lb;{label};0,75 - 4\n" for label in labels))
    assert [(s.state, s.terminal.printed, s.conductor.printed) for s in settings] == [
        ("released", label, "0,75 - 4") for label in labels
    ]


def test_a_heading_of_figures_is_no_terminal(tmp_path: Path) -> None:
    settings = read(tmp_path, "Terminal;Conductor mm²;Torque N·m\nL1;10;2.5\nTightening torque;10;2.5\n")
    assert [setting.state for setting in settings] == ["released", "held"]
    assert [finding.code for finding in settings[1].findings] == ["terminal_missing"]


def test_a_device_over_the_column_and_another_over_the_row_hold(tmp_path: Path) -> None:
    path = tmp_path / "two_names.csv"
    rows = ("Terminal;Conductor mm²;MCB LQ 16 torque N·m", "L1;10;2.5", "MCB LQX-63;;", "L2;10;2.5")
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    settings = read_one(path, OpenWish()).settings
    assert [(s.terminal.printed, s.state) for s in settings] == [("L1", "released"), ("L2", "held")]


def test_the_end_of_a_devices_name_is_no_part_of_the_label(tmp_path: Path) -> None:
    path = tmp_path / "cut.csv"
    rows = ("Miniature circuit-breaker LQ 16;;", "Terminal;Conductor mm²;Torque N·m LQ 16", "L1;10;2.5")
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    (setting,) = read_one(path, OpenWish()).settings
    assert (setting.terminal.printed, setting.device.printed) == ("L1", "Miniature circuit-breaker LQ 16")
