"""Where words become one text, lines one row, and lines a table's own: the last distance that joins, the first that
parts. Type is of 10 points here, so that a share of its size is a length that one sees."""

from __future__ import annotations

from dataclasses import replace

import pytest

from torquary_ingest.document import Rule, Table, Word
from torquary_ingest.tables.captions import add_captions
from torquary_ingest.tables.half_lines import find_pairs
from torquary_ingest.tables.lines import common_left_ends, make_chunks, make_lines, rows_of_lines
from torquary_ingest.tables.merged_cells import without_pieces
from torquary_ingest.tables.region import make_region
from torquary_ingest.tables.strokes import Frame
from torquary_ingest.tables.wording import text_of
from torquary_schema.values import Box

SIZE = 10.0


def word(text: str, x0: float, top: float, *, size: float = SIZE, wide: float | None = None) -> Word:
    box = Box(x0=x0, top=top, x1=x0 + (5.0 * len(text) if wide is None else wide), bottom=top + size)
    return Word(text=text, box=box, size=size, baseline=box.bottom - 0.2 * size)


@pytest.mark.parametrize(
    ("gap", "down", "size", "text"),
    [
        (0.7, 0.0, 10.0, "25"),
        (0.9, 0.0, 10.0, "2 5"),  # a twelfth of the size parts two words
        (0.0, 0.9, 10.0, "25"),
        (0.0, 1.1, 10.0, "2 5"),  # another line, though it touches
        (0.0, 0.0, 8.6, "25"),
        (0.0, 0.0, 8.4, "2 5"),  # a smaller digit is of no number with a large one
    ],
)
def test_figures_are_one_number_only_where_they_touch_on_one_line_in_one_size(
    gap: float, down: float, size: float, text: str
) -> None:
    second = word("5", 5.0 + gap, 100.0 + down, size=size)
    assert text_of([word("2", 0.0, 100.0), replace(second, baseline=108.0 + down)]) == text


@pytest.mark.parametrize(("gap", "count"), [(7.9, 1), (8.1, 2)])
def test_words_of_a_text_stand_less_than_their_size_apart(gap: float, count: int) -> None:
    assert len(make_chunks([word("Line", 0.0, 100.0), word("side", 20.0 + gap, 100.0)])) == count


@pytest.mark.parametrize(("off", "found"), [(0.9, [100.0]), (1.1, [])])
def test_texts_of_a_column_begin_within_a_point_of_each_other(off: float, found: list[float]) -> None:
    chunks = make_chunks([word("Line", 100.0, 100.0)]) + make_chunks([word("Load", 100.0 + off, 120.0)])
    assert list(common_left_ends(chunks, 2)) == found


def stairs(count: int, *, beside: bool) -> int:
    """The rows of so many lines that each overlap the one before by a third of their height."""
    words = [word("text", 60.0 * at if beside else 0.0, 100.0 + 6.6 * at) for at in range(count)]
    return len(rows_of_lines(make_lines(words)))


def test_four_lines_that_overlap_are_a_row_and_five_are_lines_of_text() -> None:
    assert (stairs(4, beside=False), stairs(5, beside=False)) == (1, 5)


def test_texts_side_by_side_are_a_row_however_many_with_two_above_each_other_at_most() -> None:
    assert stairs(5, beside=True) == 1
    stacked = [word("text", 60.0 * min(at, 2), 100.0 + 6.6 * at) for at in range(5)]
    assert len(rows_of_lines(make_lines(stacked))) == 5
    assert len(rows_of_lines(make_lines([*stacked[:4], word("text", 180.0, 126.4)]))) == 1


@pytest.mark.parametrize(("overlap", "rows"), [(0.9, 2), (1.1, 1)])
def test_lines_of_close_text_may_touch_by_a_tenth_of_their_height(overlap: float, rows: int) -> None:
    assert len(rows_of_lines(make_lines([word("one", 0.0, 100.0), word("two", 60.0, 110.0 - overlap)]))) == rows


@pytest.mark.parametrize(("step", "off", "found"), [(14.4, 0.0, 1), (14.6, 0.0, 0), (14.4, 2.4, 1), (14.4, 2.6, 0)])
def test_a_text_of_two_lines_has_its_figures_half_way(step: float, off: float, found: int) -> None:
    label = [((0, 0), [word("Protective", 0.0, 100.0)]), ((0, 0), [word("earth", 0.0, 100.0 + step)])]
    assert len(find_pairs([*label, ((1, 1), [word("2.5", 90.0, 100.0 + step / 2 + off)])])) == found


TABLE = Table(page=1, number=1, rows=1, columns=1, cells=(), box=Box(x0=50.0, top=400.0, x1=300.0, bottom=500.0))


def captions(*tops: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines that a table between 400 and 500 points has above and below."""
    [table] = add_captions([TABLE], [word(f"line {at}", 50.0, top) for at, top in enumerate(tops)])
    return table.caption, table.below


@pytest.mark.parametrize(("white", "own"), [(31.5, 1), (32.5, 0)])
def test_a_line_over_a_table_stands_within_three_lines_of_it(white: float, own: int) -> None:
    assert len(captions(390.0 - white)[0]) == own


@pytest.mark.parametrize(("white", "own"), [(25.5, 1), (26.5, 0)])
def test_a_note_stands_within_two_lines_under_its_table(white: float, own: int) -> None:
    assert len(captions(500.0 + white)[1]) == own


def test_a_table_has_six_lines_above_and_twelve_notes_below_at_most() -> None:
    above = [388.0 - 12 * at for at in range(7)]
    below = [502.0 + 12 * at for at in range(13)]
    assert [len(lines) for lines in captions(*above[:6], *below[:12])] == [6, 12]
    assert [len(lines) for lines in captions(*above, *below)] == [6, 12]


@pytest.mark.parametrize(("size", "white", "own"), [(12.6, 40.0, True), (12.4, 40.0, False),
                                                    (12.6, 75.0, True), (12.6, 76.0, False)])  # fmt: skip
def test_a_larger_heading_left_of_the_line_over_a_table_is_of_it(size: float, white: float, *, own: bool) -> None:
    """A quarter larger, and no further off than six of its sizes."""
    heading = word("QT 4", 30.0 - white, 380.0, size=size, wide=20.0)
    [table] = add_captions([TABLE], [heading, word("Terminal", 50.0, 381.0)])
    assert [" ".join(one.split()) for one in table.caption] == ["QT 4 Terminal" if own else "Terminal"]


@pytest.mark.parametrize(("at", "inside"), [(94.1, 1), (93.9, 0), (115.9, 1), (116.1, 0)])
def test_a_rule_belongs_to_lines_within_six_points_of_them(at: float, inside: int) -> None:
    rule = Rule(horizontal=True, at=at, start=0.0, end=200.0)
    assert len(make_region(make_lines([word("Line side", 0.0, 100.0, wide=200.0)]), [rule]).across) == inside


@pytest.mark.parametrize(("end", "across"), [(181.0, 1), (179.0, 0)])
def test_a_rule_runs_all_across_when_it_covers_nine_tenths(end: float, across: int) -> None:
    rule = Rule(horizontal=True, at=105.0, start=0.0, end=end)
    region = make_region(make_lines([word("Line side", 0.0, 100.0, wide=200.0)]), [rule])
    assert (len(region.across), len(region.part_rules)) == (across, 1 - across)


def has_piece(*, rules: int = 3, stroke: float = 50.0, off: float = 0.0) -> bool:
    """Tell whether short strokes at one row are taken for a cell of a table of rules 100 points high."""
    across = [Rule(horizontal=True, at=100.0 + 100.0 * at / (rules + 1), start=50.0, end=300.0) for at in range(rules)]
    met = [Rule(horizontal=True, at=at, start=x0, end=300.0) for at, x0 in ((200.0, 50.0 + off), (190.0, 50.0))]
    strokes = tuple(Rule(horizontal=False, at=at, start=200.0 - stroke, end=200.0) for at in (120.0, 200.0))
    frame = Frame(across=tuple(met[1:] + met[:1]), down=strokes)
    return without_pieces([frame], [*across, *met]) == []


def test_short_strokes_within_a_list_of_rules_are_a_cell_and_no_table() -> None:
    assert (has_piece(), has_piece(rules=2)) == (True, False)
    assert (has_piece(stroke=50.0), has_piece(stroke=51.0)) == (True, False)
    assert (has_piece(off=2.9), has_piece(off=3.1)) == (True, False)
