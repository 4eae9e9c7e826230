"""Tables whose rules run under some columns only: in the others a text reaches over several rows."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from sketch import SIZE, Sketch, rows_of

LINE = 1.2 * SIZE
ROW = 18.0
XS = (60.0, 160.0, 260.0, 340.0)
HEADS = ("mm²", "Terminal", "N·m", "end")
FIGURES = (("1.5-4", "1.2"), ("6-16", "2.0"), ("0.5-1", "0.6"), ("1.5-4", "0.8"), ("6-10", "1.5"))
GROUPS = ((0, 3), (3, 5))
"""First row and end of what each terminal's name covers."""


def draw(names: tuple[tuple[str, ...], ...], *, down: float, line: float = LINE) -> Sketch:
    """Rules across under the heading and the groups, elsewhere under all columns but the terminals'."""
    sketch = Sketch()
    for x, text in zip(XS, HEADS, strict=False):
        sketch.write(x, 100, text)
    ends = {0, *(end for _, end in GROUPS)}
    for row in range(len(FIGURES) + 1):
        y = 100 + ROW * (row + 0.5)
        if row in ends:
            sketch.across(y, 55, 380)
        else:
            sketch.across(y, 55, 150)
            sketch.across(y, 250, 380)
    for row, (size, torque) in enumerate(FIGURES):
        sketch.write(XS[0], 100 + ROW * (row + 1), size)
        sketch.write(XS[2], 100 + ROW * (row + 1), torque)
        sketch.write(XS[3], 100 + ROW * (row + 1), "bare")
    for (first, _), lines in zip(GROUPS, names, strict=True):
        for number, text in enumerate(lines):
            sketch.write(XS[1], 100 + ROW * (first + 1 + down) + line * number, text)
    return sketch


@pytest.mark.parametrize("down", [0.0, 0.2, 0.5])
def test_a_name_that_the_rules_leave_open_covers_its_rows(down: float) -> None:
    (table,) = draw((("main", "terminals"), ("coil",)), down=down).tables()
    spans = {cell.text: (cell.row, cell.row_span) for cell in table.cells if cell.column == 2}
    assert spans == {"Terminal": (1, 1), "main\nterminals": (2, 3), "coil": (5, 2)}
    assert [row.split("|")[-2] for row in rows_of(table)[1:]] == [torque for _, torque in FIGURES]


def test_a_name_with_a_line_for_each_row_is_doubted() -> None:
    """Either one name in two lines, or two names whose rule is left out."""
    (table,) = draw((("main",), ("coil", "contact")), down=0.0, line=ROW).tables()
    doubts = {cell.text: [doubt.code for doubt in cell.doubts] for cell in table.cells if cell.column == 2}
    assert doubts["coil\ncontact"] == ["readings_differ"]
    assert doubts["main"] == []


def test_figures_in_each_row_are_rows_though_no_rule_parts_them() -> None:
    sketch = draw((("main",), ("coil",)), down=0.0)
    sketch.rules = [r for r in sketch.rules if not (r.start == 250 and r.end == 380)]
    for row in range(1, len(FIGURES)):
        if row != 3:
            sketch.across(100 + ROW * (row + 0.5), 330, 380)
    (table,) = sketch.tables()
    assert [cell.text for cell in table.cells if cell.column == 3] == ["N·m", *(torque for _, torque in FIGURES)]


def test_rows_whose_names_stand_in_two_lines_are_rows_between_two_rules() -> None:
    """Most lines there hold one text: the figures stand half-way between the lines of the names."""
    sketch = Sketch()
    for x, text in zip(XS[:3], ("N·m", "mm²", "Terminal"), strict=True):
        sketch.write(x, 100, text)
    names = ("magnet coil", "neutral terminal", "main conductor")
    for y in (90, 110, 110 + 28 * len(names)):
        sketch.across(y, 55, 380)
    sketch.write(XS[0], 124, "0.8")
    for row, name in enumerate(names):
        y = 124 + 28 * row
        sketch.write(XS[1], y, "1.5-10")
        for off, part in zip((-LINE / 2, LINE / 2), name.split(), strict=True):
            sketch.write(XS[2], y + off, part)
        if row:
            sketch.across(y - 14, 150, 380)
    (table,) = sketch.tables()
    assert [cell.text for cell in table.cells if cell.column == 3] == [
        "Terminal", *(name.replace(" ", "\n") for name in names),
    ]  # fmt: skip
