"""A text longer than its cell is printed on over the frame: it is still its cell's."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from sketch import Sketch, ladder, rows_of

XS = (50.0, 110.0, 170.0)
ROWS = ("Terminal|recommended torque N·m", "L1|2.5", "N|3.0")


def draw(sketch: Sketch, xs: tuple[float, ...], rows: tuple[str, ...]) -> None:
    sketch.grid(xs, ladder(100, len(rows)))
    sketch.fill(xs, 100, rows)


def test_a_heading_that_runs_on_over_the_right_edge_is_whole() -> None:
    """"recommended" alone over the torques would be read as the name of their terminal."""
    sketch = Sketch()
    draw(sketch, XS, ROWS)
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)


def test_a_lone_word_that_begins_in_the_last_cell_is_its_text() -> None:
    sketch = Sketch()
    draw(sketch, (50.0, 110.0, 140.0), ("Terminal|Anzugsdrehmoment", "L1|2.5", "N|3.0"))
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal|Anzugsdrehmoment"


def test_what_hangs_into_the_table_beside_it_is_not_that_tables() -> None:
    sketch = Sketch()
    draw(sketch, XS, ROWS)
    beside = ("", "L2|4.0", "PE|6.0")
    draw(sketch, (180.0, 260.0, 320.0), beside)
    left, right = sketch.tables()
    assert rows_of(left) == list(ROWS)
    assert rows_of(right) == list(beside[1:])


def test_a_text_that_begins_before_the_frame_stays_outside() -> None:
    """A drawing's call-out that reaches into the first cell."""
    sketch = Sketch()
    draw(sketch, XS, ROWS)
    sketch.write(10, 130, "see fig")
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)


def test_a_word_that_stands_outside_goes_on_from_one_that_crosses_the_edge() -> None:
    sketch = Sketch()
    rows = ("Terminal|set fastening torque", "L1|2.5", "N|3.0")
    draw(sketch, (50.0, 110.0, 165.0), rows)
    (table,) = sketch.tables()
    assert rows_of(table) == list(rows)


def test_a_unit_behind_an_edge_that_its_heading_crosses_is_the_headings() -> None:
    """Over another column's heading, which stands on a line of its own, it would make torques of that column."""
    sketch = Sketch()
    xs = (50.0, 120.0, 200.0, 270.0)
    sketch.grid(xs, (100.0, 130.0, 150.0))
    for x, y, text in ((54, 108, "Terminal"), (129, 108, "tightening torque lb·ft"), (204, 120, "heat")):
        sketch.write(x, y, text)
    for x, text in ((54, "L1"), (124, "2.5"), (204, "80")):
        sketch.write(x, 140, text)
    (table,) = sketch.tables()
    assert rows_of(table) == ["Terminal|tightening torque lb·ft|heat", "L1|2.5|80"]


def test_figures_of_two_cells_close_together_stay_apart() -> None:
    sketch = Sketch()
    sketch.grid((50.0, 110.0, 142.0, 190.0), ladder(100, 3))
    for row, texts in enumerate((("Terminal", "N·m", "lb·in"), ("L1", "2.521", "22.1"), ("N", "3.0", "26.6"))):
        for x, text in zip((54, 119, 143), texts, strict=True):
            sketch.write(x, 100 + 20 * (row + 0.5), text)
    (table,) = sketch.tables()
    assert rows_of(table)[1] == "L1|2.521|22.1"
