"""Print that stands where a name belongs, and is none: sizes, editions, registers, the device; heads that are cut."""

from __future__ import annotations

from pathlib import Path

import pytest
from text_sheets import settings_of

from torquary_ingest.evidence.no_names import is_no_name


@pytest.mark.parametrize(
    ("text", "none"),
    [
        ("Connection and load data, revision 7", True),
        ("General hardware, not for terminals", True),
        ("Power UINT16", True),
        ("keep IP54", True),
        ("Line terminals", False),
        ("Revision contact", False),
        ("Main terminals, not for aluminium", False),
    ],
)
def test_texts_that_name_no_terminal(text: str, *, none: bool) -> None:
    assert is_no_name(text) is none


def test_a_range_of_sizes_in_a_device_s_place_holds(tmp_path: Path) -> None:
    rows = "Terminal strips QK\n\nArticle;Type;Model;Terminal;Conductor mm²;Torque N·m\n"
    rows += "70117;QK 4;0.5–2.5;Terminals;2.5;0.4\n70124;QK 6;1–4;Terminals;4;0.5\n"
    assert {setting.state for setting in settings_of(tmp_path / "t.csv", rows)} == {"held"}


def test_a_size_under_the_name_of_another_terminal_holds(tmp_path: Path) -> None:
    rows = "Drive QD;;\n;;\nFrame size;A;B\nMains terminals L1, L2, L3 Conductor (mm²);0.5–4;0.5–6\n"
    rows += "Torque (N·m);0.6;0.8\n"
    rows += "Protective earth PE Torque (N·m);1.2;2\n"
    found = settings_of(tmp_path / "t.csv", rows)
    earth = [setting for setting in found if "PE" in setting.terminal.printed]
    assert earth
    assert not any(setting.state == "released" and setting.conductor.printed for setting in earth)


def test_a_heading_cut_between_two_columns_holds(tmp_path: Path) -> None:
    rows = 'Contactors QT;;;;\n;;;;\nType;Main terminals;;"Coil and\nmm²";auxiliary terminals\n'
    rows += ";mm²;Torque Nm;;Torque Nm\n"
    rows += "QT 9;1.5–4;1.2;0.75–2.5;1.0\nQT 18;2.5–6;1.7;0.75–2.5;1.0\n"
    found = settings_of(tmp_path / "t.csv", rows)
    assert found
    assert {setting.state for setting in found} == {"held"}


def test_a_size_of_the_row_is_not_released_for_its_auxiliary_terminals(tmp_path: Path) -> None:
    rows = "Contactors QT\n\nType;Conductor mm²;Torque main terminals N·m;Torque auxiliary terminals N·m\n"
    rows += "QT 25;1-10;1.2;0.6\nQT 63;1.5-25;3.5;0.6\n"
    told = {(s.terminal.roles, s.torque.printed, s.state) for s in settings_of(tmp_path / "t.csv", rows) if s.torque}
    assert told == {
        (("main",), "1.2", "released"),
        (("main",), "3.5", "released"),
        (("aux",), "0.6", "held"),
    }
