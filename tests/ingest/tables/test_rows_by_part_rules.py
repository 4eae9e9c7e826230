"""Rows of tables that have rules between their rows alone: shared cells, wrapped cells, headings of groups."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from sketch import PITCH, XS, Sketch, rows_of

TOP = 100.0


def _row(sketch: Sketch, at: float, *texts: str) -> None:
    for x, text in zip(XS, texts, strict=False):
        sketch.write(x + 4, TOP + PITCH * (at + 0.5), text)


def _across(sketch: Sketch, at: int, end: float = XS[3]) -> None:
    sketch.across(TOP + PITCH * at, XS[0], end)


def test_a_text_covers_the_rows_between_which_no_rule_runs_under_its_column() -> None:
    sketch = Sketch()
    _row(sketch, 0, "Terminal", "Section", "Torque")
    for at, label in enumerate(("L1", "L2", "L3", "N", "PE"), 1):
        _row(sketch, at, label, "6-25")
    sketch.write(XS[2] + 4, TOP + PITCH * 2.5, "3.5")
    sketch.write(XS[2] + 4, TOP + PITCH * 5, "2.5")
    for at in (0, 1, 4, 6):
        _across(sketch, at)
    for at in (2, 3, 5):
        _across(sketch, at, XS[2])
    (table,) = sketch.tables()
    assert rows_of(table) == ["Terminal|Section|Torque", "L1|6-25|3.5", "L2|6-25", "L3|6-25", "N|6-25|2.5", "PE|6-25"]
    assert [(c.row, c.row_span) for c in table.cells if c.column == 3] == [(1, 1), (2, 3), (5, 2)]


def test_rules_that_part_groups_of_rows_share_no_figure() -> None:
    sketch = Sketch()
    _row(sketch, 0, "Terminal", "Section", "Torque")
    for at, (label, torque) in enumerate((("L1", "3.5"), ("L2", "3.0"), ("N", "2.5"), ("PE", "2.0")), 1):
        _row(sketch, at, label, "6-25", torque)
    for at in (0, 1, 5):
        _across(sketch, at)
    _across(sketch, 2, XS[2])
    (table,) = sketch.tables()
    assert rows_of(table)[1:] == ["L1|6-25|3.5", "L2|6-25|3.0", "N|6-25|2.5", "PE|6-25|2.0"]


def test_a_rule_under_a_name_over_the_next_rows_gives_it_no_figure() -> None:
    sketch = Sketch()
    rows = (("L1", "6", "2.5"), ("Control terminals",), ("A1", "1.5", "0.8"), ("A2", "1.5", "0.8"))
    for at, texts in enumerate((("Terminal", "Section", "Torque"), *rows)):
        _row(sketch, at, *texts)
    for at in (0, 1, 2, 4, 5):
        _across(sketch, at)
    _across(sketch, 3, XS[1])
    (table,) = sketch.tables()
    assert all(c.row_span == 1 for c in table.cells)


def test_lines_between_two_rules_are_one_row_where_figures_break_off() -> None:
    sketch = Sketch()
    _row(sketch, 0, "Terminal", "Section", "Torque")
    for at, first, second in ((1, ("Line and", "2.5 to", "1.8"), ("load", "6 mm²", "N·m")),
                              (3, ("Coil and", "1.5 to", "0.5 to"), ("lamp", "4 mm²", "0.6 N·m")),
                              (5, ("Earth", "4 to", "2"), ("screw", "10 mm²", "N·m"))):  # fmt: skip
        _row(sketch, at, *first)
        _row(sketch, at + 0.6, *second)
    for at in (0, 1, 3, 5, 7):
        _across(sketch, at)
    (table,) = sketch.tables()
    assert rows_of(table)[1:] == [
        "Line and/load|2.5 to/6 mm²|1.8/N·m",
        "Coil and/lamp|1.5 to/4 mm²|0.5 to/0.6 N·m",
        "Earth/screw|4 to/10 mm²|2/N·m",
    ]


def test_a_rule_under_two_headings_of_groups_joins_neither() -> None:
    sketch = Sketch()
    xs = (50.0, 130.0, 210.0, 290.0, 370.0)
    sketch.write(54, TOP + PITCH, "Model")
    sketch.write(187.6, TOP + PITCH * 0.5, "Line side")
    sketch.write(345.4, TOP + PITCH * 0.5, "Earth side")
    for at, texts in enumerate((("", "mm²", "N·m", "mm²", "N·m"), ("K 16", "6", "1.5", "6", "1.8"),
                                ("K 32", "10", "2.2", "10", "2.5")), 1):  # fmt: skip
        for x, text in zip(xs, texts, strict=True):
            sketch.write(x + (30 if x > 50 else 4), TOP + PITCH * (at + 0.5), text)
    for at in (0, 2, 3, 4):
        sketch.across(TOP + PITCH * at, 50, 450)
    sketch.across(TOP + PITCH, 130, 450)
    (table,) = sketch.tables()
    assert [c.text for c in table.cells if c.row == 1] == ["Model", "Line side", "Earth side"]
