"""What a profile says of a heading explains it; it never wins over what is printed."""

from __future__ import annotations

from pathlib import Path

import pytest
from profile_files import HEAD, MZ, codes, held_for, profile, read, reasons, released

TABLE = HEAD + "Klemme;Leiter mm²;{}\nL1;1,5-6;{}\nN;1,5-6;{}\n"
NEW = (("Kx", "terminal"), ("Qx", "conductor", "mm²"), MZ)


def test_a_heading_and_its_unit_are_explained_and_that_is_said(tmp_path: Path) -> None:
    report = read(tmp_path, TABLE.format("Mz.", "2,5", "2,0"), profile(tmp_path, MZ))
    assert released(report) == [("L1", "1,5-6", "2.5"), ("N", "1,5-6", "2.0")]
    assert report.profiles == ("mz.json",)
    for one in (report, *report.settings):
        assert "heading_taught" in codes(one)
        assert any("mz.json" in finding.message and "N·m" in finding.message for finding in one.findings)
    assert all(one.torque and one.torque.unit_printed == "" for one in report.settings)


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "Kx;Qx;Mz.\nL1;1,5-6;2,5\nN;1,5-6;2,0\n",
        HEAD + "Mz.;Kx;Qx\n2,5;L1;1,5-6\n2,0;N;1,5-6\n",
        HEAD + "Kx;L1;N\nQx;1,5-6;1,5-6\nMz.;2,5;2,0\n",
        HEAD + "KX:;Qx:;MZ\nL1;1,5-6;2,5\nN;1,5-6;2,0\n",
    ],
    ids=["down", "other order", "across", "other print"],
)
def test_a_table_of_unknown_headings_is_read_in_every_orientation(tmp_path: Path, text: str) -> None:
    report = read(tmp_path, text, profile(tmp_path, *NEW))
    assert sorted(released(report)) == [("L1", "1,5-6", "2.5"), ("N", "1,5-6", "2.0")]


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "Alle Momente in lb·in\nKlemme;Leiter mm²;Mz.\nL1;1,5-6;22\n",
        HEAD + "Klemme;Leiter;Mz.\n;mm²;lb·in\nL1;1,5-6;22\n",
        HEAD + "Klemme;Leiter mm²;Mz. lb·in\nL1;1,5-6;22\n",
        HEAD + "Klemme;Leiter mm²;Mz.\nL1;1,5-6;22 lb·in\n",
        HEAD + "Klemme;Leiter mm²;Mz.;Einheit\nL1;1,5-6;22;lb·in\n",
        HEAD + "Klemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\nN;1,5-6;22 lb·in\n",
        HEAD + "Klemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\n\n\nTorques in lb·in\n",
        HEAD + "Klemme;Leiter mm²;Mz. lbs\nL1;1,5-6;2,5\n",
    ],
    ids=["caption", "unit row", "heading", "cell", "unit column", "one cell of two", "foot", "doubtful unit"],
)
def test_another_unit_printed_anywhere_holds_the_figure(tmp_path: Path, text: str) -> None:
    report = read(tmp_path, text, profile(tmp_path, MZ))
    assert released(report) == []
    assert report.settings
    assert held_for(report, "units_disagree")


def test_the_same_unit_printed_is_the_printed_one(tmp_path: Path) -> None:
    text = HEAD + "Klemme;Leiter;Mz.\n;mm²;Nm\nL1;1,5-6;2,5\n"
    report = read(tmp_path, text, profile(tmp_path, MZ))
    assert released(report) == [("L1", "1,5-6", "2.5")]
    assert [one.torque.unit_printed for one in report.settings if one.torque] == ["Nm"]


def test_a_size_in_another_system_than_printed_is_held(tmp_path: Path) -> None:
    text = HEAD + "Klemme;Qx mm²;Mz.\nL1;10;2,5\n"
    report = read(tmp_path, text, profile(tmp_path, MZ, ("Qx", "conductor", "AWG")))
    assert [{"units_disagree"} <= found for found in reasons(report)] == [True]
    text = HEAD + "Sizes in AWG\nKlemme;Qx;Mz.\nL1;10;2,5\n"
    report = read(tmp_path, text, profile(tmp_path, MZ, ("Qx", "conductor", "mm²")))
    assert released(report) == []


def test_a_column_in_the_other_system_speaks_for_itself(tmp_path: Path) -> None:
    text = HEAD + "Klemme;Qx;AWG;Mz.\nL1;1,5-6;16-10;2,5\n"
    report = read(tmp_path, text, profile(tmp_path, MZ, ("Qx", "conductor", "mm²")))
    assert [(one.state, one.conductor.max_mm2, one.conductor.max_awg) for one in report.settings] == [
        ("released", 6, "10")
    ]


@pytest.mark.parametrize(
    ("column", "means"),
    [
        ("Mz. Nm;2,5;2,0", "other"),
        ("Mz. Nm;2,5;2,0", "terminal"),
        ("Mz. Nm;2,5;2,0", "conductor"),
        ("Mz.;2,5 Nm;2,0 Nm", "terminal"),
        ("Mz.;2,5 Nm;2,0 Nm", "note"),
    ],
)
def test_a_printed_torque_stays_a_torque_and_is_held(tmp_path: Path, column: str, means: str) -> None:
    """Nothing that is printed is lost through a profile."""
    report = read(tmp_path, TABLE.format(*column.split(";")), profile(tmp_path, ("Mz.", means)))
    assert released(report) == []
    assert [one.torque.max_nm for one in report.settings if one.torque] == [2.5, 2]
    assert held_for(report, "taught_contradicted")


def test_terminal_and_conductor_exchanged_are_held(tmp_path: Path) -> None:
    text = HEAD + "Kx;Qx;Mz.\nL1;1,5-6;2,5\nN;1,5-6;2,0\n"
    report = read(tmp_path, text, profile(tmp_path, ("Kx", "conductor", "mm²"), ("Qx", "terminal"), MZ))
    assert released(report) == []
    assert held_for(report, "taught_contradicted")


@pytest.mark.parametrize("sizes", [("1,5-6", "1,5-10"), ("0.75 to 4", "1 to 6"), ("1,5", "4", "10")])
def test_sizes_are_not_taken_for_torques(tmp_path: Path, sizes: tuple[str, ...]) -> None:
    rows = "".join(f"T{number};{size};2,{number}\n" for number, size in enumerate(sizes))
    swapped = (("Kx", "terminal"), ("Qx", "torque", "N·m"), ("Mz.", "conductor", "mm²"))
    report = read(tmp_path, HEAD + "Kx;Qx;Mz.\n" + rows, profile(tmp_path, *swapped))
    assert released(report) == []
    assert len(report.settings) == len(sizes)


@pytest.mark.parametrize(("cells", "means"), [("M5", "torque"), ("red", "torque"), ("red", "conductor")])
def test_cells_of_another_kind_are_held(tmp_path: Path, cells: str, means: str) -> None:
    text = HEAD + f"Klemme;Gw;Anzugsmoment Nm\nL1;{cells};2,5\n"
    report = read(tmp_path, text, profile(tmp_path, ("Gw", means)))
    assert released(report) == []
    assert report.settings


def test_a_motor_torque_over_the_column_stays_one(tmp_path: Path) -> None:
    text = HEAD + "Klemme;Leiter mm²;Motor torque\n;;Mz.\nL1;1,5-6;2,5\n"
    assert released(read(tmp_path, text, profile(tmp_path, MZ))) == []


def test_a_column_that_only_the_profile_calls_a_torque_is_doubted_beside_a_printed_one(tmp_path: Path) -> None:
    """Rated currents, taken for torques in N·m."""
    text = HEAD + "Klemme;Leiter mm²;Anzugsmoment N·m;Foo\nL1;1,5-16;2,5;16\n"
    report = read(tmp_path, text, profile(tmp_path, ("Foo", "torque", "N·m")))
    assert released(report) == []
    assert held_for(report, "taught_contradicted")


def test_the_same_abbreviation_in_a_table_about_something_else_is_held(tmp_path: Path) -> None:
    """Here Mz. heads the mass: no other column speaks of terminals."""
    text = HEAD + "Klemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\n\n\nTyp;Mz.;Breite\nQS-16;16;18\nQS-63;20;36\n"
    report = read(tmp_path, text, profile(tmp_path, MZ))
    assert released(report) == [("L1", "1,5-6", "2.5")]
    assert held_for(report, "taught_contradicted")


@pytest.mark.parametrize("text", ["Bez;Mz.\nL1;2,5\nPE;2,5\n", "Klemmen der Reihe QS\nBez;Mz.\nX1;2,5\nX2;2,5\n"])
def test_terminals_named_in_the_cells_or_above_bear_a_torque_out(tmp_path: Path, text: str) -> None:
    assert len(released(read(tmp_path, HEAD + text, profile(tmp_path, MZ)))) == 2


def test_a_mounting_screw_stays_one(tmp_path: Path) -> None:
    heading = "Mz. Befestigungsschrauben"
    report = read(tmp_path, TABLE.format(heading, "2,5", "2,0"), profile(tmp_path, (heading, "torque", "N·m")))
    assert {one.purpose for one in report.settings} == {"mounting"}


def test_a_limit_printed_in_the_heading_stays(tmp_path: Path) -> None:
    report = read(tmp_path, TABLE.format("Mz. max.", "2,5", "2,0"), profile(tmp_path, ("Mz. max.", "torque", "N·m")))
    torques = [one.torque for one in report.settings if one.torque]
    assert [(one.max_nm, one.limit_nm) for one in torques] == [(None, 2.5), (None, 2)]


@pytest.mark.parametrize("words", [("Hauptkreis", "Hilfskreis"), ("glav", "pom")])
def test_what_tells_two_explained_columns_apart_stays(tmp_path: Path, words: tuple[str, str]) -> None:
    """Words that are known, and words that are not."""
    headings = [f"Mz. {word}" for word in words]
    taught = profile(tmp_path, *((heading, "torque", "N·m") for heading in headings))
    report = read(tmp_path, HEAD + f"Klemme;Leiter mm²;{';'.join(headings)}\nL1;1,5-6;2,5;0,8\n", taught)
    assert released(report) == [(f"L1 / {headings[0]}", "1,5-6", "2.5"), (f"L1 / {headings[1]}", "1,5-6", "0.8")]


def test_the_words_of_an_explained_heading_name_no_terminal(tmp_path: Path) -> None:
    text = "Quillhaven\nLeiter mm²;Zat. mom\n1,5-6;2,5\n"
    report = read(tmp_path, text, profile(tmp_path, ("Zat. mom", "torque", "N·m")))
    assert report.settings
    assert all("Zat" not in one.terminal.printed for one in report.settings)


@pytest.mark.parametrize("unit", ["N·m", "Nm", "N m"])
def test_a_letter_of_the_unit_in_an_explained_heading_names_no_terminal(tmp_path: Path, unit: str) -> None:
    """N marks the neutral conductor, and is the first letter of N·m."""
    text = HEAD + f"Klemme;Leiter mm²;Mz. {unit}\nX1;1,5-6;2,5\n"
    report = read(tmp_path, text, profile(tmp_path, ("Mz.", "torque")))
    assert [(one.terminal.printed, one.terminal.roles) for one in report.settings] == [("X1", ())]


def test_another_explanation_is_another_setting(tmp_path: Path) -> None:
    """So that a decision on the one is none on the other."""
    text = TABLE.format("Mz.", "2,5", "2,0")
    one = read(tmp_path, text, profile(tmp_path, MZ))
    other = read(tmp_path, text, profile(tmp_path, ("Mz.", "torque", "lb·in")))
    assert not {s.id for s in one.settings} & {s.id for s in other.settings}
