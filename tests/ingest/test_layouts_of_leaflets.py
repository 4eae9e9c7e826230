"""Layouts of leaflets in several languages, with figures and names of our own."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw, released


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
