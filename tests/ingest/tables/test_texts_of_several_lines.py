"""Tables without a full grid whose texts are set in several lines: closer than rows, they are one row's."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from torquary_ingest.tables.columns import Columns, part_line
from torquary_ingest.tables.half_lines import find_pairs
from torquary_ingest.tables.lines import make_lines
from torquary_ingest.tables.rows import unfinished

sys.path.insert(0, str(Path(__file__).parent))
from sketch import SIZE, Sketch, rows_of

LINE = 1.2 * SIZE
ROW = 2.6 * SIZE
NAMES = ("main terminals", "coil", "neutral bar", "auxiliary contacts")
FIGURES = (("10-50", "6.0"), ("0.5-2.5", "0.6"), ("1.5-16", "2.0"), ("0.75-4", "0.8"))


def draw(first: float, label: float, figures: tuple[float, float], level: float, row: float = ROW) -> Sketch:
    """A heading and rows; labels of two words stand in two lines, figures `level` lines below the first."""
    sketch = Sketch()
    y = first
    for x, text in zip((label, *figures), ("Terminal", "mm²", "N·m"), strict=True):
        sketch.write(x, y, text)
    y += row
    for name, texts in zip(NAMES, FIGURES, strict=True):
        lines = name.split()
        for number, line in enumerate(lines):
            sketch.write(label, y + number * LINE, line)
        for x, text in zip(figures, texts, strict=True):
            sketch.write(x, y + level * LINE * (len(lines) - 1), text)
        y += row + (len(lines) - 1) * LINE
    return sketch


@pytest.mark.parametrize("level", [0.0, 0.5, 1.0])
@pytest.mark.parametrize(("label", "figures"), [(60.0, (200.0, 300.0)), (300.0, (60.0, 180.0))])
def test_lines_closer_than_rows_are_one_text(label: float, figures: tuple[float, float], level: float) -> None:
    (table,) = draw(100, label, figures, level).tables()
    rows = [sorted(row.split("|")) for row in rows_of(table)]
    wanted = [sorted((name.replace(" ", "/"), *texts)) for name, texts in zip(NAMES, FIGURES, strict=True)]
    assert rows == [sorted(("Terminal", "mm²", "N·m")), *wanted]


def test_where_all_lines_are_equally_far_apart_nothing_is_joined() -> None:
    """Nothing tells a line from a row then: the row with the figures is cut, as it is printed."""
    (table,) = draw(100, 300.0, (60.0, 180.0), 0.0, LINE).tables()
    assert len(rows_of(table)) > len(NAMES)


def test_rows_in_groups_stay_rows() -> None:
    sketch = Sketch()
    y = 100.0
    for group in (("Terminal|mm²|N·m",), ("L1|1.5-4|1.2", "|6-16|2.0"), ("N|1.5-4|1.2", "|6-16|2.0")):
        for row in group:
            for x, text in zip((60.0, 160.0, 260.0), row.split("|"), strict=True):
                sketch.write(x, y, text)
            y += LINE
        y += LINE
    (table,) = sketch.tables()
    assert [row.split("|")[-1] for row in rows_of(table)] == ["N·m", "1.2", "2.0", "1.2", "2.0"]


def test_a_heading_close_over_a_row_is_no_line_of_it() -> None:
    sketch = Sketch()
    for x, texts in ((60.0, ("Terminal", "L1", "N")), (160.0, ("mm²", "4", "6")), (260.0, ("N·m", "1.2", "2.0"))):
        for y, text in zip((100.0, 100 + LINE, 100 + LINE + ROW), texts, strict=True):
            sketch.write(x, y, text)
    (table,) = sketch.tables()
    assert rows_of(table) == ["Terminal|mm²|N·m", "L1|4|1.2", "N|6|2.0"]


def test_a_label_that_reaches_down_beside_the_next_row_is_one_text() -> None:
    """The name of a group of rows, set at the top of its cell in two lines."""
    sketch = Sketch()
    for x, text in ((60, "mm²"), (150, "Terminal"), (260, "N·m")):
        sketch.write(x, 100, text)
    for at, row in enumerate(("1.5-4|main|1.2", "6-16||2.0", "1.5-4|L1|1.2", "6-16||2.0", "0.5-4|A1|0.6")):
        for x, text in zip((60, 150, 260), row.split("|"), strict=True):
            sketch.write(x, 100 + (at + 1) * 2 * LINE, text)
    sketch.write(150, 100 + 3 * LINE, "circuit")
    (table,) = sketch.tables()
    assert rows_of(table)[1:4] == ["1.5-4|main/circuit|1.2", "6-16||2.0", "1.5-4|L1|1.2"]


def test_the_last_line_of_the_last_row_is_no_line_below_the_table() -> None:
    sketch = draw(100, 60.0, (200.0, 300.0), 0.5)
    sketch.write(60, 100 + 4 * ROW + 3 * LINE + ROW, "contact")
    sketch.write(60, 100 + 4 * ROW + 3 * LINE + ROW + LINE, "NC")
    sketch.write(200, 100 + 4 * ROW + 3 * LINE + ROW + LINE / 2, "0.75-4")
    sketch.write(300, 100 + 4 * ROW + 3 * LINE + ROW + LINE / 2, "0.6")
    (table,) = sketch.tables()
    assert rows_of(table)[-1] == "contact/NC|0.75-4|0.6"


def test_the_first_lines_of_a_heading_of_three_are_the_headings() -> None:
    sketch = Sketch()
    sketch.write(60, 100 + LINE, "Terminal")
    for at, text in enumerate(("torque", "require-", "ment N·m")):
        sketch.write(200, 100 + at * LINE, text)
    for at, row in enumerate(("L1|2.5", "N|3.0")):
        for x, text in zip((60, 200), row.split("|"), strict=True):
            sketch.write(x, 100 + (at + 2) * ROW, text)
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal|torque/require-/ment N·m"


def test_the_last_row_of_a_list_in_groups_stays_a_row() -> None:
    sketch = Sketch()
    y = 100.0
    for group in (("mm²|2.5-50", "torque|3.5 N·m"), ("mm²|0.75-2.5", "drive|slot 0.8x4", "torque|0.8 N·m")):
        for row in group:
            for x, text in zip((60.0, 200.0), row.split("|"), strict=True):
                sketch.write(x, y, text)
            y += LINE
        y += LINE
    (table,) = sketch.tables()
    assert rows_of(table)[-2:] == ["drive|slot 0.8x4", "torque|0.8 N·m"]


def test_figures_half_way_between_two_lines_show_one_text_though_rows_are_as_close() -> None:
    sketch = Sketch()
    for x, text in ((60, "mm²"), (150, "N·m"), (260, "Terminal")):
        sketch.write(x, 100, text)
    y = 100 + LINE
    for row in ("10-50|4.0|PE", "1.5-10|2.0|input terminals", "0.5-4|0.6|coil", "1.5-6|1.2|aux contact"):
        size, torque, name = row.split("|")
        lines = name.split()
        for number, line in enumerate(lines):
            sketch.write(260, y + number * LINE, line)
        for x, text in ((60, size), (150, torque)):
            sketch.write(x, y + (len(lines) - 1) * LINE / 2, text)
        y += len(lines) * LINE
    (table,) = sketch.tables()
    assert rows_of(table) == [
        "mm²|N·m|Terminal", "10-50|4.0|PE", "1.5-10|2.0|input/terminals", "0.5-4|0.6|coil", "1.5-6|1.2|aux/contact",
    ]  # fmt: skip


def test_a_line_half_way_between_figures_above_and_below_is_no_part_of_a_pair() -> None:
    """Three lines of names, figures between the first and second and between the second and third."""
    sketch = Sketch()
    for number, text in enumerate(("input", "output", "coil")):
        sketch.write(160, 130 + number * LINE, text)
    for number, text in enumerate(("2.5", "3.0")):
        sketch.write(60, 130 + (number + 0.5) * LINE, text)
    pieces = [((0 if word.text[0].isdigit() else 1,) * 2, [word]) for word in sketch.words]
    first = [piece for piece in pieces if piece[1][0].text not in ("coil", "3.0")]
    assert [[word.text for word in pair.words] for pair in find_pairs(first)] == [["input", "output"]]
    assert find_pairs(pieces) == []


def test_a_name_over_rows_that_runs_into_the_next_column_is_a_row_of_its_own() -> None:
    sketch = Sketch()
    rows = ("Cat. no.|AWG|N·m", "Bars||", "HB-15|#8-#6|2.8", "HB-15|#4|4.0", "Lugs of aluminium||", "HL-10|#8-#6|4.5")
    for number, row in enumerate(rows):
        for x, text in zip((60.0, 120.0, 200.0), row.split("|"), strict=True):
            sketch.write(x, 100 + 11 * number, text)
    sketch.across(106, 60, 220)
    (table,) = sketch.tables()
    assert [row.split("|")[0] for row in rows_of(table)] == [row.split("|")[0] for row in rows]


@pytest.mark.parametrize(("text", "parts"), [("0.75 – 2.5", 1), ("0.75 2.5", 2)])
def test_a_range_across_the_edge_of_two_columns_is_one_text(text: str, parts: int) -> None:
    sketch = Sketch()
    sketch.write(131.0, 100, text)
    (line,) = make_lines(sketch.words)
    begins = line.words[1].box.x0
    columns = Columns(edges=(60.0, 150.0, 240.0), sides=((131.0, None, None), (begins, None, None)))
    assert len(part_line(line, columns)) == parts


@pytest.mark.parametrize(
    ("text", "more"), [("AWG 8 to", True), ("AWG 8 a", True), ("16 A", False), ("0.5 –", True), ("AWG 8", False)]
)
def test_a_text_that_ends_in_a_word_of_ranges_goes_on(text: str, *, more: bool) -> None:
    assert unfinished(text) is more


@pytest.mark.parametrize(("lower", "count"), [("(80 lbf·in)", 4), ("80", 5)])
def test_a_bracket_under_a_torque_is_its_second_line(lower: str, count: int) -> None:
    sketch = Sketch()
    rows = ("Terminal|mm²|Torque", "main|10-50|6 N·m", "coil|0.5-2.5|0.6 N·m", "neutral|1.5-16|9 N·m")
    for number, row in enumerate(rows):
        for x, text in zip((60.0, 160.0, 240.0), row.split("|"), strict=True):
            sketch.write(x, 100 + ROW * number, text)
    sketch.write(240.0, 100 + ROW * 3 + LINE, lower)
    sketch.write(160.0, 100 + ROW * 3 + LINE, "(6 AWG)" if count == 4 else "6")
    (table,) = sketch.tables()
    assert len(rows_of(table)) == count
