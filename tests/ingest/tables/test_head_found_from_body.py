"""A body looks for its head: rules and shading say where a head ends, not where a table begins."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from sketch import Sketch, rows_of

LEFT = (50.0, 180.0, 280.0, 380.0)
BODY = ("Incoming L1|1.5–16|1–10|2.5", "Outgoing T1|1.5–16|1–10|2.5", "Neutral N|1–10|1–6|2.0")


def write_rows(sketch: Sketch, top: float, *, rules: bool, last: bool = True) -> None:
    """Rows of the body 20 points apart, under each a rule all across."""
    for number, row in enumerate(BODY):
        middle = top + 20 * number
        for x, text in zip(LEFT, row.split("|"), strict=True):
            sketch.write(x, middle, text)
        if rules and (last or number + 1 < len(BODY)):
            sketch.across(middle + 10, 48, 470)


def test_a_head_of_two_lines_above_the_first_rule_is_the_bodys() -> None:
    sketch = Sketch()
    sketch.write(50, 60, "Tarnbeck switch TS 40", size=16)
    for x, text in zip(LEFT, ("Terminal", "Rigid", "Flexible with", "Torque"), strict=True):
        sketch.write(x, 100, text)
    for x, text in zip(LEFT[2:], ("ferrule mm²", "N·m"), strict=True):
        sketch.write(x, 111, text)
    sketch.across(120, 48, 470)
    write_rows(sketch, 130, rules=True)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal|Rigid|Flexible with/ferrule mm²|Torque/N·m"
    assert rows_of(table)[1:] == list(BODY)
    assert table.caption == ("Tarnbeck switch TS 40",)


@pytest.mark.parametrize("unit", ["Nm", "daNm", "kgf·cm", "lbf·ft"])
def test_figures_with_their_unit_in_each_row_are_a_body(unit: str) -> None:
    sketch = Sketch()
    for x, text in zip(LEFT, ("Bar", "Kind", "Wire", "Set to"), strict=True):
        sketch.write(x, 100, text)
    for number, name in enumerate(("Incoming", "Outgoing", "Neutral")):
        sketch.across(110 + 20 * number, 48, 470)
        for x, text in zip(LEFT, (name, "lug", "rigid", f"0.2–0.25 {unit}"), strict=True):
            sketch.write(x, 120 + 20 * number, text)
    sketch.across(170, 48, 470)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Bar|Kind|Wire|Set to"


def test_a_head_stands_over_a_band_that_names_the_first_rows() -> None:
    sketch = Sketch()
    for x, text in zip(LEFT, ("Bar", "Screws", "Section", "Torque"), strict=True):
        sketch.write(x, 100, text)
    sketch.write(LEFT[3], 111, "N·m")
    sketch.across(120, 48, 470)
    sketch.write(50, 130, "Neutral bars")
    sketch.across(140, 48, 470)
    write_rows(sketch, 150, rules=True)
    (table,) = sketch.tables()
    assert rows_of(table)[:2] == ["Bar|Screws|Section|Torque/N·m", "Neutral bars|||"]


def test_centred_cells_of_one_two_and_three_lines_are_one_head() -> None:
    sketch = Sketch()
    sketch.write(50, 100, "Terminal")
    for at, text in ((89, "Cross-"), (100, "section"), (111, "mm²")):
        sketch.write(LEFT[1], at, text)
    for at, text in ((94.5, "Flexible"), (105.5, "mm²")):
        sketch.write(LEFT[2], at, text)
    for at, text in ((94.5, "Torque"), (105.5, "N·m")):
        sketch.write(LEFT[3], at, text)
    sketch.across(120, 48, 470)
    write_rows(sketch, 130, rules=True)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal|Cross-/section/mm²|Flexible/mm²|Torque/N·m"


def test_a_rule_under_some_heads_alone_joins_no_rows() -> None:
    """Only the sub-headings have a rule beneath: their neighbours reach down to the head's end."""
    sketch = Sketch()
    sketch.across(90, 48, 470)
    sketch.write(50, 107, "Terminal")
    sketch.write(215, 99, "Section mm²")
    sketch.write(380, 107, "Torque N·m")
    for x, text in ((180, "rigid"), (280, "flexible")):
        sketch.write(x, 115, text)
    sketch.across(122, 178, 360)
    write_rows(sketch, 132, rules=False)
    sketch.across(182, 48, 470)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal|Section mm²|Torque N·m"
    assert rows_of(table)[2:] == list(BODY)


def test_headings_close_together_part_no_less_than_the_figures_beneath() -> None:
    """Between "flexible" and "flexible with ferrule" there is a word space, under a name over both."""
    sketch = Sketch()
    sketch.across(90, 48, 470)
    sketch.write(239, 99, "Conductor mm²")
    for x, text in ((50, "Terminal"), (380, "Torque N·m")):
        sketch.write(x, 107, text)
    for x, text in ((196, "flexible"), (238, "flexible with ferrule")):
        sketch.write(x, 115, text)
    sketch.across(122, 48, 470)
    for number, row in enumerate(BODY):
        for x, text in zip((50, 196, 270, 380), row.split("|"), strict=True):
            sketch.write(x, 132 + 20 * number, text)
    sketch.across(184, 48, 470)
    (table,) = sketch.tables()
    assert rows_of(table)[2:] == list(BODY)


def test_rows_above_the_first_whole_rule_are_the_tables() -> None:
    """Names over two rows leave only every second rule whole: two rows stand above the first."""
    sketch = Sketch()
    for x, text in zip(LEFT, ("Terminal", "Conductor", "mm²", "N·m"), strict=True):
        sketch.write(x, 80, text)
    names = ("Incoming", "Outgoing", "Neutral")
    for number, name in enumerate(names):
        top = 100 + 40 * number
        sketch.write(50, top + 10, name)
        for down, kind in ((0, "rigid|4–16|2.5"), (20, "flexible|4–10|2.0")):
            for x, text in zip(LEFT[1:], kind.split("|"), strict=True):
                sketch.write(x, top + down, text)
        sketch.across(top + 10, 178, 470)
        sketch.across(top + 30, 48, 470)
    (table,) = sketch.tables()
    spans = [(cell.text, cell.row_span) for cell in table.cells if cell.column == 1 and cell.text in names]
    assert (spans, table.rows) == ([(name, 2) for name in names], 7)


def test_the_row_under_the_last_rule_is_the_tables() -> None:
    sketch = Sketch()
    for x, text in zip(LEFT, ("Terminal", "Rigid mm²", "Flexible mm²", "N·m"), strict=True):
        sketch.write(x, 110, text)
    sketch.across(120, 48, 470)
    write_rows(sketch, 130, rules=True, last=False)
    (table,) = sketch.tables()
    assert rows_of(table)[1:] == list(BODY)


def test_headings_over_a_frame_may_reach_over_columns_and_have_two_lines() -> None:
    sketch = Sketch()
    sketch.grid((50, 150, 230, 310, 400), (130, 150, 170, 190))
    sketch.fill((50, 150, 230, 310), 130, ("L1|1.5–16|1–10|2.5", "T1|1.5–16|1–10|2.5", "N|1–10|1–6|2.0"))
    sketch.write(54, 112, "Terminal")
    sketch.write(204, 106, "Section mm²")
    for x, text in ((170, "rigid"), (250, "flexible")):
        sketch.write(x, 120, text)
    sketch.write(318, 106, "Torque")
    sketch.write(318, 120, "N·m")
    (table,) = sketch.tables()
    assert rows_of(table)[:3] == ["Terminal|Section mm²|Torque/N·m", "rigid|flexible", "L1|1.5–16|1–10|2.5"]


@pytest.mark.parametrize(
    "lines",
    [
        ((50, 60, "Tarnbeck switch TS 40"),),
        ((50, 106, "The switch is mounted on a rail and may be locked in its off position"),),
        ((50, 106, "Technical data"),),
    ],
)
def test_a_title_a_sentence_and_a_line_at_the_left_head_no_columns(lines: tuple[tuple[float, float, str], ...]) -> None:
    sketch = Sketch()
    for x, y, text in lines:
        sketch.write(x, y, text)
    sketch.across(120, 48, 470)
    write_rows(sketch, 130, rules=True)
    (table,) = sketch.tables()
    assert rows_of(table) == list(BODY)


def test_the_unit_that_ends_a_heading_is_no_column() -> None:
    """In a face with wide spaces a heading's unit stands apart where the figures beneath are shorter."""
    sketch = Sketch()
    heads = ((50, "Terminal"), (180, "0.75–4"), (213, "mm²"), (280, "2.5–16"), (313, "mm²"))
    for x, text in heads:
        sketch.write(x, 100, text)
    for number, row in enumerate(("Coil|2|3", "Bus|1.2|2.5", "Earth|2.5|4", "Line|2|3.5")):
        for x, text in zip((50, 180, 280), row.split("|"), strict=True):
            sketch.write(x, 120 + 20 * number, text)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal|0.75–4 mm²|2.5–16 mm²"


def test_a_line_over_a_head_that_runs_on_over_columns_is_no_part_of_it() -> None:
    sketch = Sketch()
    for x, text in ((50, "Switches of the row"), (134, "TS 40")):
        sketch.write(x, 80, text)
    for x, text in zip((50, 130, 230), ("Terminal", "Torque N·m", "Size mm²"), strict=True):
        sketch.write(x, 100, text)
    for number, row in enumerate(("L1|2.5|1–16", "T1|2.5|1–16", "N|2.0|1–6")):
        for x, text in zip((50, 130, 230), row.split("|"), strict=True):
            sketch.write(x, 120 + 20 * number, text)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal|Torque N·m|Size mm²"
    assert table.caption == ("Switches of the row TS 40",)
