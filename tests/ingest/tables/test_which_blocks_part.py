"""From which size, white and count on the blocks of a page, its boxes, drawings and lists are parted: the last that
are, the first that are not. Type is of 10 points."""

from __future__ import annotations

import pytest

from torquary_ingest.document import Page, Rule, Word
from torquary_ingest.tables.boxes import find_text_boxes
from torquary_ingest.tables.drawings_beside import part_drawing
from torquary_ingest.tables.head_search import Body, head_over, make_body, rows_beyond
from torquary_ingest.tables.lines import Line, make_lines
from torquary_ingest.tables.named_above import find_named_above
from torquary_ingest.tables.overhang import words_within
from torquary_ingest.tables.page_blocks import part_blocks
from torquary_schema.values import Box


def write(x: float, top: float, text: str, *, size: float = 10.0, bold: bool = False) -> list[Word]:
    """Words whose letters are half as wide as their size, blanks a third of it."""
    words = []
    for part in text.split():
        box = Box(x0=x, top=top, x1=x + size / 2 * len(part), bottom=top + size)
        words.append(Word(text=part, box=box, size=size, baseline=top + 0.8 * size, bold=bold))
        x = box.x1 + size / 3
    return words


def properties(*, count: int = 3, value: float = 11.5, close: float = 7.0, far: float = 20.0) -> int:
    """The rows of a list of names over their values, so much white between name and value, and to the next name."""
    words, top = [], 100.0
    for at in range(count):
        words += write(50, top, f"Name {'abcd'[at]}")
        words += write(50, top + 10 + close, "6-50 mm²", size=value)
        top += 10 + close + value + far
    return sum(table.rows for table in find_named_above(words, 1))


def test_three_names_over_larger_values_are_a_list() -> None:
    assert [properties(count=count) for count in (3, 2)] == [3, 0]
    assert [properties(value=size) for size in (11.5, 11.4)] == [3, 0]


def test_a_value_stands_close_under_its_name_and_the_next_name_not_far_off() -> None:
    """0.8 of the larger type of 11.5 points is 9.2 points, 2.5 of it 28.75."""
    assert [properties(close=white) for white in (9.1, 9.3)] == [3, 0]
    assert [properties(far=white) for white in (28.5, 29.0)] == [3, 0]


def boxes(gap: float, *, lines: int = 2) -> int:
    """The boxes of text of two frames, so much white between them."""
    rules, words = [], []
    for left in (50.0, 150.0 + gap):
        rules += [Rule(horizontal=True, at=at, start=left, end=left + 100) for at in (100.0, 160.0)]
        rules += [Rule(horizontal=False, at=at, start=100.0, end=160.0) for at in (left, left + 100)]
        words += [word for at in range(lines) for word in write(left + 10, 110.0 + 15 * at, "Tighten once")]
    return len(find_text_boxes(Page(number=1, width=595.0, height=842.0, rules=tuple(rules)), words))


def test_boxes_of_two_lines_that_stand_apart_hold_texts_of_their_own() -> None:
    assert [boxes(gap) for gap in (12.5, 11.5)] == [2, 0]
    assert [boxes(20.0, lines=lines) for lines in (2, 1)] == [2, 0]


def drawing(*, rows: int = 6, white: float = 40.0, pitch: float = 15.0, label: str = "123", over: float = 0.0) -> int:
    """The words taken for a list that stands so far right of a drawing with a label beside one of its rows."""
    words = [word for at in range(rows) for word in write(200, 100 + pitch * at, f"{'abcdefg'[at]}bc")]
    words += write(200 - white - 5 * len(label), 100 + pitch, label)
    words += write(260, 90 - over, "Torque") if over else []
    return len(next(iter(part_drawing(words)), ()))


def test_six_rows_right_of_a_drawing_are_a_list() -> None:
    assert [drawing(rows=count) for count in (6, 5)] == [6, 0]
    assert [drawing(white=white) for white in (30.5, 29.5)] == [6, 0]
    assert [drawing(pitch=pitch) for pitch in (31.5, 32.5)] == [6, 0]


def test_labels_of_drawings_are_numbers_of_three_digits_at_most() -> None:
    assert [drawing(label=label) for label in ("123", "1234")] == [6, 0]


def test_headings_of_a_list_beside_a_drawing_stand_within_four_lines_over_it() -> None:
    """Their middle is at most 40 points above the first row."""
    assert [drawing(over=over) for over in (34.5, 35.5)] == [7, 6]


def blocks(size: float, *, second: float | None = None, bold: bool = False, heads: int = 2) -> int:
    """The parts of a page with two headings of these sizes, texts side by side at its top."""
    words = [word for at in range(heads) for word in write(50 + 100 * at, 50, "Text")]
    for top, own in ((100, size), (200, size if second is None else second)):
        words += write(50, top, "Heading", size=own, bold=bold)
        words += [word for at in range(3) for word in write(50, top + 20 + 15 * at, "Line text")]
    return len(part_blocks(words))


def test_larger_headings_part_a_page_in_blocks_and_bold_ones_that_are_a_little_larger() -> None:
    assert [blocks(size) for size in (12.5, 12.4)] == [3, 0]
    assert [blocks(size, bold=True) for size in (11.0, 10.9)] == [3, 0]
    assert [blocks(15.0, second=second) for second in (15.1, 15.4)] == [3, 0]


def test_three_headings_of_columns_above_name_parts_of_one_table() -> None:
    assert [blocks(15.0, heads=count) for count in (2, 3)] == [3, 0]


@pytest.mark.parametrize(("inside", "held"), [(5.5, 1), (4.5, 0)])
def test_a_word_that_hangs_out_begins_half_its_size_inside(inside: float, held: int) -> None:
    box = Box(x0=50.0, top=90.0, x1=150.0, bottom=120.0)
    assert len(words_within(box, write(150.0 - inside, 100, "Overhanging"))) == held


ROWS = [("Line", "1.5-16", "2.5"), ("Load", "1.5-10", "2.0"), ("Neutral", "2.5-25", "3.5"), ("Earth", "4-16", "1.2")]


def row(top: float, texts: tuple[str, ...] = ROWS[0], *, left: float = 50.0, size: float = 10.0) -> Line:
    at = (left, 150.0, 250.0)
    words = [word for x, text in zip(at, texts, strict=True) for word in write(x, top, text, size=size)]
    [line] = make_lines(words)
    return line


def body() -> tuple[Body, list[Line]]:
    """Rows 20 points apart from 200 points down."""
    lines = [row(200.0 + 20 * at, texts) for at, texts in enumerate(ROWS)]
    made = make_body(lines)
    assert made is not None
    return made, lines


HEADS = ("Name", "Size", "Torque")


@pytest.mark.parametrize(("step", "rows"), [(27.9, 1), (28.1, 0)])
def test_a_row_follows_within_less_than_half_a_row_of_white_more(step: float, rows: int) -> None:
    made, lines = body()
    assert len(rows_beyond(made, lines[-1], [row(260.0 + step)])) == rows
    assert len(head_over(made, lines[0], [row(200.0 - step, HEADS)])) == rows


@pytest.mark.parametrize(("size", "heads"), [(12.5, 1), (12.6, 0)])
def test_a_head_is_set_a_quarter_larger_at_most(size: float, heads: int) -> None:
    made, lines = body()
    assert len(head_over(made, lines[0], [row(180.0, HEADS, size=size)])) == heads


@pytest.mark.parametrize(("count", "heads"), [(8, 8), (9, 8)])
def test_a_head_has_eight_lines_at_most(count: int, heads: int) -> None:
    made, lines = body()
    above = [row(200.0 - 20 * at, HEADS) for at in range(count, 0, -1)]
    assert len(head_over(made, lines[0], above)) == heads


@pytest.mark.parametrize(("off", "heads"), [(9.5, 1), (10.5, 0)])
def test_a_text_of_a_head_stands_out_at_the_left_by_its_size_at_most(off: float, heads: int) -> None:
    made, lines = body()
    assert len(head_over(made, lines[0], [row(180.0, HEADS, left=50.0 - off)])) == heads
