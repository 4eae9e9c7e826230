"""How many rules, rows and words make a list or a table, and how near rules are to be one: the last that do, the first
that do not. Type is of 10 points."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from torquary_ingest.document import Rule, Word
from torquary_ingest.tables.between_rules import find_between_rules, without_underlines
from torquary_ingest.tables.lines import make_lines
from torquary_ingest.tables.page_columns import part_columns
from torquary_ingest.tables.prose import find_prose
from torquary_ingest.tables.ruled_lists import part_ruled_lists
from torquary_ingest.tables.strokes import gather_frames, join_rules
from torquary_ingest.tables.twin_lists import part_twins
from torquary_schema.values import Box


def write(x: float, top: float, text: str, *, bold: bool = False) -> list[Word]:
    """Words of letters 5 points wide, blanks of 3 points between."""
    words = []
    for part in text.split():
        box = Box(x0=x, top=top, x1=x + 5.0 * len(part), bottom=top + 10)
        words.append(Word(text=part, box=box, size=10.0, baseline=top + 8, bold=bold))
        x = box.x1 + 3
    return words


def across(at: float, start: float = 50.0, end: float = 250.0) -> Rule:
    return Rule(horizontal=True, at=at, start=start, end=end)


@pytest.mark.parametrize(("gap", "rules"), [(3.4, 1), (3.6, 2)])
def test_pieces_of_one_rule_end_within_a_hair_of_each_other(gap: float, rules: int) -> None:
    assert len(join_rules([across(100.0), across(100.0, 250.0 + gap, 400.0)], True)) == rules


@pytest.mark.parametrize(("off", "rules"), [(2.5, 1), (2.7, 2)])
def test_the_strokes_of_a_double_rule_are_one(off: float, rules: int) -> None:
    assert len(join_rules([across(100.0), across(100.0 + off)], True)) == rules


@pytest.mark.parametrize(("gap", "frames"), [(3.4, 1), (3.6, 2)])
def test_rules_that_nearly_meet_are_one_frame(gap: float, frames: int) -> None:
    upright = Rule(horizontal=False, at=50.0 - gap, start=90.0, end=150.0)
    assert len(gather_frames([across(100.0)], [upright])) == frames


def list_beside_text(*, rules: int = 5, pitch: float = 20.0, off: float = 0.0, pairs: int = 5) -> int:
    """The parts of a page: a list of names and values, a rule under each, beside a drawing's figures."""
    tops = [100.0 + pitch * at for at in range(5)]
    words = [word for at, top in enumerate(tops) for word in write(52, top, f"Name{'abcde'[at]}")]
    words += [word for top in tops[:pairs] for word in write(150, top, "2.5")]
    words += [word for top in tops for word in write(400, top, "12")]
    drawn = [across(top + 15.0, 50.0, 250.0 + (off if at == 0 else 0.0)) for at, top in enumerate(tops[:rules])]
    return len(part_ruled_lists(words, drawn))


def test_four_rules_make_a_list_and_three_do_not() -> None:
    assert [list_beside_text(rules=count) for count in (4, 3)] == [2, 0]


def test_the_rules_of_a_list_follow_each_other_within_three_sizes() -> None:
    assert [list_beside_text(pitch=pitch) for pitch in (29.5, 30.5)] == [2, 0]


def test_four_of_five_lines_between_the_rules_are_a_name_and_a_value() -> None:
    assert [list_beside_text(pairs=pairs) for pairs in (4, 3)] == [2, 0]


def columns(*, rows: int = 4, pairs: int = 4) -> int:
    """The parts of a page of two columns, each with a bold heading beside a row of the other."""
    words: list[Word] = []
    for x, shift in ((50.0, 0), (320.0, 1)):
        tops = [100.0 + 15.0 * (at + shift) for at in range(rows + 1)]
        for at, top in enumerate(tops):
            heading = at == (rows // 2 if shift else rows // 2 - 1)
            words += write(x, top, "Heading" if heading else "Name", bold=heading)
            words += [] if heading or at > pairs else write(x + 100.0, top, "2.5")
    return len(part_columns(words))


def test_a_column_of_the_page_has_four_texts_and_three_rows_at_least() -> None:
    assert [columns(rows=count) for count in (4, 3)] == [3, 0]
    assert [columns(rows=5, pairs=count) for count in (4, 3)] == [3, 0]


def twins(*, heads: Sequence[str] = ("Name", "Torque"), title: float = 5.0, under: float = 30.0) -> list[int]:
    """The number of words of the parts of two lists side by side, a title over each, a line across under them."""
    words = [word for x in (50.0, 320.0) for word in write(x, 90.0 - title, "Model")]
    for x in (50.0, 320.0):
        for at, head in enumerate(heads):
            words += write(x + 80.0 * at, 100.0, head)
            words += [word for row in (1, 2) for word in write(x + 80.0 * at, 100.0 + 15.0 * row, "text")]
    return [len(part) for part in part_twins([*words, *write(50.0, 140.0 + under, "x" * 80)])]


def test_two_headings_that_come_twice_are_two_lists_and_one_is_none() -> None:
    assert twins() == [7, 7, 1]
    assert twins(heads=("Torque",)) == []


def test_a_title_of_a_list_stands_within_three_sizes_of_its_headings() -> None:
    assert (twins(title=29.0), twins(title=31.0)) == ([7, 7, 1], [6, 6, 3])


def test_a_line_across_right_under_two_lists_is_a_row_of_one_table() -> None:
    assert (twins(under=22.5), twins(under=21.5)) == ([7, 7, 1], [])


@pytest.mark.parametrize(("words", "prose"), [(7, True), (6, False)])
def test_seven_words_over_others_are_running_text(words: int, *, prose: bool) -> None:
    line = " ".join(["connected"] * 7)[: 10 * words - 1].ljust(60, "d")
    found = find_prose(make_lines([*write(50, 100, line), *write(50, 112, "to the terminals of the device")]))
    assert bool(found) is prose


@pytest.mark.parametrize(("more", "prose"), [(1, True), (2, False)])
def test_a_line_with_two_texts_more_than_that_above_is_a_row(more: int, *, prose: bool) -> None:
    beside = [word for at in range(more) for word in write(400 + 60 * at, 112, "text")]
    upper = write(50, 100, "the conductors are connected to the terminals of")
    assert bool(find_prose(make_lines([*upper, *write(50, 112, "the device"), *beside]))) is prose


@pytest.mark.parametrize(("end", "regions"), [(256.5, 1), (257.5, 0)])
def test_the_rules_of_one_table_have_the_same_ends(end: float, regions: int) -> None:
    words = [*write(52, 105, "Line"), *write(180, 105, "2.5"), *write(52, 125, "Load"), *write(180, 125, "2")]
    assert len(find_between_rules(make_lines(words), set(), [across(100.0), across(140.0, 50.0, end)])) == regions


@pytest.mark.parametrize(("wide", "regions"), [(41.0, 1), (39.0, 0)])
def test_short_rules_bound_no_table(wide: float, regions: int) -> None:
    lines = make_lines([*write(50, 105, "N"), *write(74, 105, "2.5"), *write(50, 125, "L"), *write(74, 125, "2")])
    rules = [across(at, 50.0, 50.0 + wide) for at in (100.0, 140.0)]
    assert len(find_between_rules(lines, set(), rules)) == regions


@pytest.mark.parametrize(("white", "left"), [(14.5, 0), (15.5, 2)])
def test_rules_right_under_headings_underline_them(white: float, left: int) -> None:
    words: list[Word] = []
    for top in (100.0, 200.0):
        words += [*write(52, top, "Heading", bold=True), *write(52, top + 40, "Line"), *write(180, top + 40, "2.5")]
    assert len(without_underlines([across(top + 10 + white) for top in (100.0, 200.0)], make_lines(words))) == left
