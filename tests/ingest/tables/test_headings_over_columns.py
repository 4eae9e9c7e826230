"""Which columns a heading reaches over in tables without a full grid."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from sketch import Sketch, rows_of


def test_a_heading_reaches_no_further_than_the_texts_over_its_rule() -> None:
    """The rule under "Torque N·m" ends in the white before "Terminal", past the middle of it."""
    sketch = Sketch()
    sketch.write(60, 100, "mm²")
    sketch.write(150, 90, "Torque N·m")
    sketch.across(99, 150, 292)
    for x, text in ((150, "min."), (215, "max.")):
        sketch.write(x, 110, text)
    sketch.write(300, 100, "Terminal")
    for y, row in ((128, "1.5-4|0.5|0.8|L1"), (146, "6-16|1.2|2.0|N"), (164, "4-10|1.0|1.5|PE")):
        for x, text in zip((60, 150, 215, 300), row.split("|"), strict=True):
            sketch.write(x, y, text)
    (table,) = sketch.tables()
    spans = {cell.text: cell.column_span for cell in table.cells if cell.row == 1}
    assert spans == {"mm²": 1, "Torque N·m": 2, "Terminal": 1}


def test_a_heading_set_left_over_its_columns_is_theirs_alone() -> None:
    """The middle of "fastening torque" is also that of four columns: chance. The lists side by side are two."""
    sketch = Sketch()
    for x in (60, 230):
        sketch.write(x + 60, 100, "fastening torque")
        for at, text in ((0, "Terminal"), (60, "N·m"), (100, "lb·in")):
            sketch.write(x + at, 115, text)
    for y, row in ((140, "L1|2.0|17.7|A1|0.6|5.3"), (165, "N|2.5|22.1|A2|0.8|7.1"), (190, "PE|3.0|26.6|13|1.0|8.9")):
        for x, text in zip((60, 120, 160, 230, 290, 330), row.split("|"), strict=True):
            sketch.write(x, y, text)
    tables = sketch.tables()
    cells = [cell for table in tables for cell in table.cells if cell.text == "fastening torque"]
    assert [(cell.column, cell.column_span) for cell in cells] == [(2, 2), (2, 2)]
    assert [rows_of(table)[-1] for table in tables] == ["PE|3.0|26.6", "13|1.0|8.9"]


def test_the_first_line_of_a_heading_at_the_left_belongs_to_it() -> None:
    """It stands beside the middle line of another heading; a line over the table stands above all of them."""
    sketch = Sketch()
    sketch.write(60, 70, "Line over the table")
    for x, y, text in ((60, 96, "cable"), (60, 107, "mm²"), (160, 101, "Terminal"), (260, 90, "torque")):
        sketch.write(x, y, text)
    for y, text in ((101, "require-"), (112, "ment N·m")):
        sketch.write(260, y, text)
    for y, row in ((136, "1.5-4|L1|1.2"), (160, "6-16|N|2.0")):
        for x, text in zip((60, 160, 260), row.split("|"), strict=True):
            sketch.write(x, y, text)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "cable/mm²|Terminal|torque/require-/ment N·m"


def test_a_long_heading_that_ends_before_the_next_columns_texts_is_over_its_own_alone() -> None:
    """It reaches into the white that is the next column's by the figures: "No." would head torques."""
    sketch = Sketch()
    for x, y, text in ((60, 96, "mm²"), (120, 90, "torque"), (120, 101, "specification lb·in"), (215, 96, "No.")):
        sketch.write(x, y, text)
    for y, row in ((126, "1.5-4|22|2"), (150, "6-16|27|120"), (174, "4-10|24|17")):
        for x, text in zip((60, 120, 215), row.split("|"), strict=True):
            sketch.write(x, y, text)
    (table,) = sketch.tables()
    spans = {cell.text: cell.column_span for cell in table.cells if cell.row == 1}
    assert spans == {"mm²": 1, "torque\nspecification lb·in": 1, "No.": 1}


def test_a_heading_that_hangs_out_at_the_right_is_over_the_columns_that_it_begins_with() -> None:
    """Wide white left of the figures makes their column wide; the heading stands over all that is printed there."""
    sketch = Sketch()
    sketch.write(60, 70, "Line over the table")
    torque = "rated tightening torque for the screws N·m"
    sketch.write(320, 90, torque)
    for x, y, text in ((60, 101, "mm²"), (160, 101, "Terminal"), (320, 112, "from"), (390, 112, "to")):
        sketch.write(x, y, text)
    for y, row in ((136, "1.5-4|L1|1.2|1.5"), (160, "6-16|N|2.0|2.5"), (184, "4-10|PE|1.0|1.2")):
        for x, text in zip((60, 160, 320, 390), row.split("|"), strict=True):
            sketch.write(x, y, text)
    (table,) = sketch.tables()
    spans = {cell.text: (cell.column, cell.column_span) for cell in table.cells if cell.row == 1}
    assert spans == {"mm²": (1, 1), "Terminal": (2, 1), torque: (3, 2)}
    assert rows_of(table)[1:] == ["from|to", "1.5-4|L1|1.2|1.5", "6-16|N|2.0|2.5", "4-10|PE|1.0|1.2"]


def test_headings_at_heights_of_their_own_stand_between_the_same_rules() -> None:
    """Five lines overlap each other all the way down, as texts in columns of a page do."""
    sketch = Sketch()
    for y in (70, 116, 140, 164):
        sketch.across(y, 50, 400)
    sketch.across(93, 50, 170)
    for x, y, text in (
        (60, 80, "torque N·m"), (60, 105, "from"), (120, 105, "to"), (180, 93, "Terminal"), (300, 87, "Cable"),
        (300, 99, "mm²"),
    ):  # fmt: skip
        sketch.write(x, y, text)
    for y, row in ((128, "1.2|1.5|L1|1.5-4"), (152, "2.0|2.5|N|6-16")):
        for x, text in zip((60, 120, 180, 300), row.split("|"), strict=True):
            sketch.write(x, y, text)
    (table,) = sketch.tables()
    assert rows_of(table) == ["torque N·m|Terminal|Cable/mm²", "from|to", "1.2|1.5|L1|1.5-4", "2.0|2.5|N|6-16"]
