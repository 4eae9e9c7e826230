"""Small pages built here: words and rules in, cells out."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from torquary_ingest.document import Doubt, Mark, Page, Rule, Shade, Table, Word
from torquary_ingest.tables import find_tables
from torquary_schema.values import Box

sys.path.insert(0, str(Path(__file__).parent))
from sketch import ROWS, SIZE, XS, Sketch, ladder, rows_of


def test_a_full_grid_gives_a_cell_for_each_mesh() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 4))
    sketch.fill(XS, 100, ROWS)
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)
    assert table.means == "ruled"
    assert (table.number, table.page, table.rows, table.columns) == (1, 1, 4, 3)


def test_no_word_in_the_box_of_a_table_is_lost_or_doubled() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 4))
    sketch.fill(XS, 100, ROWS)
    sketch.write(120, 130, "astride")
    (table,) = sketch.tables()
    held = [id(w) for c in table.cells for w in c.words]
    assert sorted(held) == sorted(id(w) for w in sketch.words)


def test_a_missing_rule_between_rows_makes_one_cell_that_spans() -> None:
    sketch = Sketch()
    for y in (100, 120, 160, 180):
        sketch.across(y, 50, 290)
    sketch.across(140, 50, 210)
    for x in XS:
        sketch.down(x, 100, 180)
    sketch.fill(XS, 100, ("Terminal|Section|Torque", "L1|1.5-6|", "N|4-10|", "PE|16|3.5"))
    sketch.write(214, 140, "2.5")
    (table,) = sketch.tables()
    spanning = next(c for c in table.cells if c.text == "2.5")
    assert (spanning.row, spanning.column, spanning.row_span, spanning.column_span) == (2, 3, 2, 1)


def test_a_band_row_spans_all_columns() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 4))
    sketch.rules = [r for r in sketch.rules if r.horizontal or r.at in (50, 290)]
    for x in XS[1:-1]:
        sketch.down(x, 100, 140)
        sketch.down(x, 160, 180)
    sketch.fill(XS, 100, ("Terminal|Section|Torque", "L1|1.5-6|2.5", "", "M8|70|14"))
    sketch.write(54, 150, "Busbar bolts in other units than above")
    (table,) = sketch.tables()
    band = next(c for c in table.cells if c.row == 3)
    assert (band.text, band.column_span) == ("Busbar bolts in other units than above", 3)


def test_two_clear_columns_are_parted_though_no_rule_stands_between() -> None:
    sketch = Sketch()
    sketch.grid((50, 130, 290), ladder(100, 4))
    sketch.fill(XS, 100, ROWS)
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)
    assert table.doubts == ()


def test_text_of_one_column_is_not_parted_at_its_word_spaces() -> None:
    sketch = Sketch()
    sketch.grid((50, 170, 290), ladder(100, 4))
    rows = ("Terminal kind|Torque", "Type 1|2.5 Nm", "Type 2|3.0 Nm", "Type 3|3.5 Nm")
    sketch.fill((50, 170), 100, rows)
    (table,) = sketch.tables()
    assert rows_of(table) == list(rows)


def test_figures_far_apart_in_a_few_cells_only_are_doubtful() -> None:
    sketch = Sketch()
    sketch.grid((50, 130, 290), ladder(100, 5))
    sketch.fill((50, 130), 100, ("Terminal|Torque", "L1|2.5", "N|3.0", "PE|3.5", "M8|"))
    sketch.write(134, 190, "2.5")
    sketch.write(230, 190, "22")
    (table,) = sketch.tables()
    assert [d.code for d in table.doubts] == ["readings_differ"]


def test_a_figure_torn_by_a_rule_is_doubtful() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 4))
    sketch.fill(XS, 100, ("Terminal|Section|Torque", "L1|1.5-6|", "N|4-10|3.0", "PE|16|3.5"))
    sketch.write(201, 130, "12.5")
    (table,) = sketch.tables()
    assert [d.code for d in table.doubts] == ["readings_differ"]


def test_a_long_label_keeps_the_word_that_it_prints_over_the_rule() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 3))
    sketch.fill(XS, 100, ("Terminal|Section|Torque", "Poles upper 1,3, 57||3.5", "N|50|6.0"))
    sketch.write(139, 130, "35")
    (table,) = sketch.tables()
    assert rows_of(table)[1] == "Poles upper 1,3, 57|35|3.5"
    assert table.doubts == ()


@pytest.mark.parametrize("lines", ["all", "head and foot"])
def test_horizontal_rules_alone_bound_a_table_whose_columns_the_gaps_show(lines: str) -> None:
    sketch = Sketch()
    for y in ladder(100, 4) if lines == "all" else (100, 120, 180):
        sketch.across(y, 50, 290)
    sketch.fill(XS, 100, ROWS)
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)


def test_alignment_alone_shows_a_table() -> None:
    sketch = Sketch()
    sketch.fill(XS, 100, ROWS)
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)
    assert table.means == "aligned"


def test_a_wrapped_label_is_one_cell() -> None:
    sketch = Sketch()
    for y in (100, 120, 200):
        sketch.across(y, 50, 290)
    sketch.fill(XS, 100, ("Terminal|Section|Torque", "L1|1.5-6|2.5", "Earth bar|4-10|3.0", "N|16|3.5"))
    sketch.write(54, 160, "in the cover")
    (table,) = sketch.tables()
    assert rows_of(table)[2] == "Earth bar/in the cover|4-10|3.0"


def test_zebra_shades_part_rows_whose_label_has_two_lines() -> None:
    sketch = Sketch()
    sketch.fill(XS, 100, ("Terminal|Section|Torque", "L1|1.5-6|2.5", "|4-10|3.0", "PE|16|3.5"))
    sketch.write(54, 145, "4-6")
    sketch.write(54, 155, "(both ends)")
    for y in (100, 120, 160):
        sketch.shades.append(Shade(box=Box(x0=50, top=y, x1=290, bottom=y + 20), colour=0.9))
    (table,) = sketch.tables()
    assert rows_of(table)[2] == "4-6/(both ends)|4-10|3.0"


def test_a_heading_over_a_part_rule_spans_the_columns_beneath_it() -> None:
    sketch = Sketch()
    for y in (100, 140, 200):
        sketch.across(y, 50, 290)
    sketch.across(120, 130, 290)
    sketch.write(190, 110, "Main")
    sketch.fill(XS, 120, ("Terminal|min|max", "Type|1.8|2.2", "Other|2.5|3.0", "Third|5.0|6.0"))
    (table,) = sketch.tables()
    head = next(c for c in table.cells if c.text == "Main")
    label = next(c for c in table.cells if c.text == "Terminal")
    assert (head.row, head.column, head.column_span) == (1, 2, 2)
    assert (label.row, label.row_span) == (1, 2)


def test_stacked_tables_that_touch_part_where_the_headings_come_again() -> None:
    sketch = Sketch()
    rows = (*ROWS[:3], "Terminal|Section|Torque cNm", "A1|1.5|80", "A2|1.5|80")
    sketch.grid(XS, ladder(100, 6))
    sketch.fill(XS, 100, rows)
    upper, lower = sketch.tables()
    assert (rows_of(upper), rows_of(lower)) == (list(rows[:3]), list(rows[3:]))


def test_stacked_tables_that_touch_part_where_the_columns_change() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 3))
    sketch.grid((50, 110, 170, 230, 290), ladder(160, 3))
    sketch.fill(XS, 100, ROWS[:3])
    below = ("Screw|Drive|Bit|Nm", "M4|PH|2|1.2", "M5|PH|2|2.0")
    sketch.fill((50, 110, 170, 230), 160, below)
    upper, lower = sketch.tables()
    assert (rows_of(upper), rows_of(lower)) == (list(ROWS[:3]), list(below))


def test_unruled_tables_close_together_part_where_the_headings_come_again() -> None:
    sketch = Sketch()
    rows = ("Terminal|Section|Torque cNm", "A1|1.5|80", "A2|1.5|80")
    sketch.fill(XS, 100, ROWS)
    sketch.write(54, 190, "Control circuit")
    sketch.fill(XS, 200, rows)
    upper, lower = sketch.tables()
    assert (rows_of(upper), rows_of(lower)) == (list(ROWS), list(rows))
    assert lower.caption == ("Control circuit",)


def test_a_sentence_across_the_top_is_the_caption_and_one_across_the_foot_a_note() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 6))
    sketch.rules = [r for r in sketch.rules if r.horizontal or r.at in (50, 290)]
    for x in XS[1:-1]:
        sketch.down(x, 120, 200)
    title, note = "All torques in Nm for a size 2 unit", "a b c d e f g hold without a ferrule"
    sketch.write(54, 110, title)
    sketch.fill(XS, 120, ROWS)
    sketch.write(54, 210, note)
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)
    assert (table.caption, table.below) == ((title,), (note,))


def test_lines_of_figures_in_one_ruled_row_are_rows() -> None:
    sketch = Sketch()
    sketch.grid(XS, (100, 120, 180))
    sketch.fill(XS, 100, ROWS)
    (table,) = sketch.tables()
    assert rows_of(table) == list(ROWS)


def test_a_figure_wrapped_over_two_lines_stays_one_cell() -> None:
    sketch = Sketch()
    sketch.grid(XS, (100, 120, 150, 180))
    sketch.fill(XS, 100, ("Terminal|Section|Torque",))
    for top, cells in ((120, ("Earth|2.5-|1.2-", "bar|6|1.5")), (150, ("N|4-|2.", "bar|10|5"))):
        for k, row in enumerate(cells):
            for x, text in zip(XS, row.split("|"), strict=False):
                sketch.write(x + 4, top + 10 + 10 * k, text)
    (table,) = sketch.tables()
    assert rows_of(table)[1:] == ["Earth/bar|2.5-/6|1.2-/1.5", "N/bar|4-/10|2./5"]


def test_tables_side_by_side_stay_two() -> None:
    sketch = Sketch()
    for left in (0.0, 270.0):
        xs = [x + left for x in XS]
        sketch.grid(xs, ladder(100, 4))
        sketch.fill(xs, 100, ROWS)
    one, two = sketch.tables()
    assert rows_of(one) == rows_of(two) == list(ROWS)


def test_blank_spacer_columns_and_rows_are_dropped() -> None:
    sketch = Sketch()
    xs = (50.0, 130.0, 140.0, 210.0, 220.0, 300.0)
    sketch.grid(xs, [100, 120, 126, 146, 166])
    for y, row in ((110, "Terminal||Section||Torque"), (136, "L1||1.5||2.5"), (156, "N||4||3.0")):
        for x, text in zip(xs, row.split("|"), strict=False):
            sketch.write(x + 4, y, text)
    (table,) = sketch.tables()
    assert rows_of(table) == ["Terminal|Section|Torque", "L1|1.5|2.5", "N|4|3.0"]


def turned(page: Page, turn: int) -> Page:
    """The page printed sideways: what was upright now reads at `turn` degrees clockwise."""
    high, wide = page.height, page.width

    def spin(box: Box) -> Box:
        if turn == 90:
            return Box(x0=high - box.bottom, top=box.x0, x1=high - box.top, bottom=box.x1)
        return Box(x0=box.top, top=wide - box.x1, x1=box.bottom, bottom=wide - box.x0)

    rules = []
    for r in page.rules:
        start, end = (Box(x0=r.start, top=r.at, x1=r.end, bottom=r.at),) * 2 if r.horizontal else (None, None)
        box = spin(start or Box(x0=r.at, top=r.start, x1=r.at, bottom=r.end))
        if end is not None:
            rules.append(Rule(horizontal=False, at=box.x0, start=box.top, end=box.bottom))
        else:
            rules.append(Rule(horizontal=True, at=box.top, start=box.x0, end=box.x1))
    words = tuple(replace(w, box=spin(w.box), turn=turn) for w in page.words)
    return replace(page, width=high, height=wide, words=words, rules=tuple(rules))


@pytest.mark.parametrize("turn", [90, 270])
@pytest.mark.parametrize("ruled", [True, False])
def test_a_sideways_table_is_read_upright_and_keeps_its_places(turn: int, ruled: bool) -> None:
    sketch = Sketch()
    if ruled:
        sketch.grid(XS, ladder(100, 4))
    sketch.fill(XS, 100, ROWS)
    page = turned(sketch.page(), turn)
    (table,) = find_tables(page)
    assert rows_of(table) == list(ROWS)
    held = {id(w) for c in table.cells for w in c.words}
    assert held == {id(w) for w in page.words}
    for cell in table.cells:
        assert cell.box is not None
        assert all(cell.box.holds(w.box.middle) for w in cell.words)


def test_headings_printed_upwards_head_the_columns_of_an_upright_table() -> None:
    sketch = Sketch()
    sketch.grid((50, 90, 130, 170), [60, 120, 140, 160, 180])
    sketch.fill((50, 90, 130), 120, ("S1|6|1.8", "S2|10|2.5", "S3|16|3.0"))
    for x, first, second in ((60, "Terminal", "no"), (100, "Section", "mm2"), (140, "Torque", "Nm")):
        low = Box(x0=x, top=118 - 4.5 * len(first), x1=x + 9, bottom=118)
        high = Box(x0=x, top=low.top - 3 - 4.5 * len(second), x1=x + 9, bottom=low.top - 3)
        sketch.words.append(Word(text=second, box=high, size=SIZE, turn=270))
        sketch.words.append(Word(text=first, box=low, size=SIZE, turn=270))
    (table,) = sketch.tables()
    assert rows_of(table)[0] == "Terminal no|Section mm2|Torque Nm"


def test_lines_above_are_captions_nearest_last_and_lines_below_notes() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 4))
    sketch.fill(XS, 100, ROWS)
    sketch.write(50, 65, "Contactor size 2")
    sketch.write(50, 85, "All torques in Nm")
    sketch.write(50, 192, "1 with ferrule")
    sketch.write(50, 400, "Page furniture far below")
    (table,) = sketch.tables()
    assert table.caption == ("Contactor size 2", "All torques in Nm")
    assert table.below == ("1 with ferrule",)


def test_a_line_between_two_tables_goes_with_the_nearer() -> None:
    sketch = Sketch()
    for top in (100.0, 230.0):
        sketch.grid(XS, ladder(top, 4))
        sketch.fill(XS, top, ROWS)
    sketch.write(50, 187, "1 with ferrule")
    sketch.write(50, 222, "Control circuit")
    upper, lower = sketch.tables()
    assert (upper.below, lower.caption) == (("1 with ferrule",), ("Control circuit",))


def test_marks_and_doubts_of_words_come_up_to_their_cell() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 4))
    sketch.fill(XS, 100, ROWS)
    mark, doubt = Mark(text="1"), Doubt(code="text_covered", message="covered")
    sketch.words = [replace(w, marks=(mark,), doubts=(doubt,)) if w.text == "2.5" else w for w in sketch.words]
    (table,) = sketch.tables()
    cell = next(c for c in table.cells if c.text == "2.5")
    assert (cell.marks, cell.doubts) == ((mark,), (doubt,))


def test_right_to_left_text_is_read_from_the_right_and_columns_stay_numbered_from_the_left() -> None:
    sketch = Sketch()
    sketch.grid(XS, ladder(100, 3))
    sketch.fill(XS, 100, ("Nm קודיה|Section|קדה", "1.2|1.5|L1", "1.4|4|N"))
    (table,) = sketch.tables()
    assert table.cells[0].text == "קודיה Nm"
    assert table.cells[0].column == 1


def test_running_text_is_no_table() -> None:
    sketch = Sketch()
    line = "the terminal screws are to be tightened with a driver that"
    for k in range(8):
        sketch.write(50, 100 + 11 * k, line)
        sketch.write(330, 100 + 11 * k, line)
    assert sketch.tables() == ()


def test_a_numbered_list_is_no_table() -> None:
    sketch = Sketch()
    for k, text in enumerate(("Strip the wire", "Push it home", "Tighten it", "Check it")):
        sketch.write(50, 100 + 14 * k, f"{k + 1}.")
        sketch.write(75, 100 + 14 * k, text)
    assert sketch.tables() == ()


def test_the_axis_of_a_chart_is_no_table() -> None:
    sketch = Sketch()
    for k in range(8):
        sketch.write(50, 100 + 20 * k, str(700 - 100 * k))
        sketch.write(300, 100 + 20 * k, str(70 - 10 * k))
    assert sketch.tables() == ()


def test_a_boxed_paragraph_is_no_table() -> None:
    sketch = Sketch()
    sketch.grid((40, 400), (90, 200))
    for k in range(8):
        sketch.write(50, 100 + 11 * k, "make the circuit dead and prove it dead before any work on it")
    assert sketch.tables() == ()


def test_tables_that_the_opener_gives_are_kept_as_they_are() -> None:
    given = Table(page=1, number=1, rows=0, columns=0, cells=())
    assert find_tables(Page(number=1, tables=(given,))) == (given,)


def test_an_empty_page_has_no_table() -> None:
    assert find_tables(Page(number=1, width=595, height=842)) == ()
