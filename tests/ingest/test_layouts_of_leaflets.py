"""Layouts of leaflets in several languages, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released

from torquary_ingest.reader import read_sheet


def test_the_numbers_of_a_legend_are_no_terminals(tmp_path: Path) -> None:
    rows = [
        ["1", "Upper terminals / Obere Klemmen / Bornes supérieures", "2.0 Nm"],
        ["2", "Lower terminals / Untere Klemmen / Bornes inférieures", "2.5 Nm"],
    ]
    found = released(draw(tmp_path / "legend.pdf", "Tolvane RC 16", (rows, [])))
    assert [(label.split(" / ")[0], torque) for _, label, torque in found] == [
        ("Upper terminals", "2.0 Nm"), ("Lower terminals", "2.5 Nm"),
    ]  # fmt: skip


def test_numbers_that_nothing_else_names_are_terminals(tmp_path: Path) -> None:
    path = tmp_path / "numbers.csv"
    path.write_text("Terminal,Torque\n1,2.0 Nm\n2,2.5 Nm\n")
    assert [(label, torque) for _, label, torque in released(path)] == [("1", "2.0 Nm"), ("2", "2.5 Nm")]


def test_headings_of_four_languages_under_one_another(tmp_path: Path) -> None:
    rows = [
        ["Terminal\nKlemme\nBorne\nMorsetto", "Torque\nDrehmoment\nCouple de serrage\nCoppia di serraggio"],
        ["1/2", "2.5 Nm"],
        ["N", "1.8 Nm"],
    ]
    found = released(draw(tmp_path / "stacked.pdf", "Tolvane RC 63", (rows, [])))
    assert [(label, torque) for _, label, torque in found] == [("1/2", "2.5 Nm"), ("N", "1.8 Nm")]


def test_upper_and_lower_terminals_are_places_and_no_limits(tmp_path: Path) -> None:
    rows = [
        ["Type", "Upper terminals", "", "Lower terminals", ""],
        ["", "Nm", "mm²", "Nm", "mm²"],
        ["RC 25", "2.0", "1-16", "2.5", "1-25"],
        ["RC 63", "2.4", "1-16", "3.0", "1-35"],
    ]
    spans = [((1, 0), (2, 0)), ((3, 0), (4, 0)), ((0, 0), (0, 1))]
    found = read_sheet(draw(tmp_path / "places.pdf", "Tolvane residual current devices", (rows, spans))).settings
    assert [(s.state, s.terminal.printed, s.conductor.printed, s.torque and s.torque.printed) for s in found] == [
        ("released", "Upper terminals", "1-16", "2.0"), ("released", "Lower terminals", "1-25", "2.5"),
        ("released", "Upper terminals", "1-16", "2.4"), ("released", "Lower terminals", "1-35", "3.0"),
    ]  # fmt: skip


def test_the_name_of_a_language_over_its_part_names_no_device(tmp_path: Path) -> None:
    parts: list[str | tuple[list[list[str]], list[object]]] = ["Tolvane SP 20"]
    for language, terminal, torque in (
        ("English", "Terminal", "Torque"), ("Deutsch", "Klemme", "Drehmoment"), ("Français", "Borne", "Couple"),
    ):  # fmt: skip
        parts += [language, ([[terminal, torque], ["L1", "2.5 Nm"], ["N", "2.0 Nm"]], [])]
    found = released(draw(tmp_path / "languages.pdf", *parts))  # type: ignore[arg-type]
    assert found == [("Tolvane SP 20", "L1", "2.5 Nm"), ("Tolvane SP 20", "N", "2.0 Nm")] * 3
