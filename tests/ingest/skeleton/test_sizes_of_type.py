"""How much larger, how near and how long a line is to head others, to be a title or a running line: the last that is,
the first that is not. The body of each page is set in 10 points."""

from __future__ import annotations

import pytest
from set_pages import line, page, sheet

from torquary_ingest.document import HeadingLine, Page
from torquary_ingest.document.lines import set_lines
from torquary_ingest.skeleton import make_skeleton
from torquary_ingest.skeleton.headings import pick_headings
from torquary_ingest.skeleton.lines import Block, set_blocks, set_page
from torquary_ingest.skeleton.names import is_prose
from torquary_ingest.skeleton.paper import read_date, read_paper
from torquary_ingest.skeleton.running import find_running
from torquary_ingest.skeleton.sections import make_sections
from torquary_ingest.skeleton.title import find_title
from torquary_schema.values import Box

BODY = [(f"ordinary words of the sheet in a line of its own, number {n}", 10.0, 400.0 + 14 * n) for n in range(9)]


def heading(text: str, size: float = 10.0, top: float = 60.0, *, x0: float = 50.0, bold: bool = False) -> HeadingLine:
    box = Box(x0=x0, top=top, x1=x0 + 100.0, bottom=top + size)
    return HeadingLine(page=1, text=text, size=size, bold=bold, box=box)


def picked(*lines: HeadingLine) -> list[str]:
    return [one.text for one in pick_headings(lines, 10.0)]


@pytest.mark.parametrize(("size", "bold", "heads"), [(10.8, False, True), (10.7, False, False), (9.5, True, True),
                                                     (9.4, True, False)])  # fmt: skip
def test_a_heading_is_larger_than_the_body_or_bold_and_hardly_smaller(size: float, *, bold: bool, heads: bool) -> None:
    assert picked(heading("Main terminals", size, bold=bold)) == (["Main terminals"] if heads else [])


@pytest.mark.parametrize(("lines", "heads"), [(2, 1), (3, 0)])
def test_a_heading_has_two_lines_at_most(lines: int, heads: int) -> None:
    assert len(picked(*(heading(f"Main {'abc'[n]} terminals", 14.0, 60.0 + 16 * n) for n in range(lines)))) == heads


@pytest.mark.parametrize(("step", "heads"), [(23.7, 1), (23.9, 2)])
def test_the_lines_of_a_heading_stand_right_under_each_other(step: float, heads: int) -> None:
    assert len(picked(heading("Main", 14.0), heading("terminals", 14.0, 60.0 + step))) == heads


@pytest.mark.parametrize(("text", "heads"), [("PEN", 1), ("PE", 0)])
def test_a_heading_has_three_letters_at_least(text: str, heads: int) -> None:
    assert len(picked(heading(text, 14.0))) == heads


@pytest.mark.parametrize(("count", "heads"), [(4, 4), (5, 0)])
def test_five_lines_with_a_number_at_both_ends_are_a_list_of_contents(count: int, heads: int) -> None:
    lines = [heading(f"{n} Wiring of part {'abcdef'[n]} {n + 10}", 14.0, 60.0 + 40 * n) for n in range(1, count + 1)]
    assert len(picked(*lines)) == heads


@pytest.mark.parametrize(("off", "heads"), [(1.4, []), (1.6, ["Main terminals"])])
def test_a_bold_name_with_its_value_on_its_line_heads_nothing(off: float, heads: list[str]) -> None:
    value = heading("yes", top=60.0 + off, x0=300.0)
    assert picked(heading("Main terminals", bold=True), value) == heads


@pytest.mark.parametrize(("smaller", "levels"), [(13.3, [1, 1]), (13.1, [1, 2])])
def test_sizes_of_type_that_hardly_differ_are_one_level(smaller: float, levels: list[int]) -> None:
    sections = make_sections([heading("Wiring", 14.0), heading("Storage", smaller, 90.0)], {})
    assert [section.level for section in sections] == levels


def blocks(*lines: tuple[str, float, float]) -> int:
    """The blocks of (text, size, top)."""
    words = tuple(word for one in lines for word in line(*one))
    return len(set_blocks(set_lines(Page(number=1, words=words)), 10.0))


def test_lines_of_a_title_are_of_one_size_and_close() -> None:
    assert [blocks(("Main switch", 14.0, 60.0), ("QS", size, 78.0)) for size in (13.0, 12.9)] == [1, 2]
    assert [blocks(("Main switch", 14.0, 60.0), ("QS", 14.0, 60.0 + step)) for step in (26.5, 26.7)] == [1, 2]


@pytest.mark.parametrize(("scale", "title"), [(1.1, "Gateway"), (1.09, "")])
def test_a_title_is_a_tenth_larger_than_the_body(scale: float, title: str) -> None:
    assert find_title([Block(page=1, lines=("Gateway",), size=10.0 * scale, scale=scale)], "") == title


@pytest.mark.parametrize(("size", "title"), [(19.3, "Gateway"), (19.4, "")])
def test_two_titles_side_by_side_of_one_size_are_none(size: float, title: str) -> None:
    first = Block(page=1, lines=("Gateway",), size=20.0, scale=2.0, top=60.0, bottom=80.0, x1=100.0)
    beside = Block(page=1, lines=("Router",), size=size, scale=1.9, top=60.0, bottom=80.0, x0=300.0, x1=400.0)
    assert find_title([first, beside], "") == title


@pytest.mark.parametrize(("size", "product"), [(18.3, "Energy meter EM 212"), (18.5, "")])
def test_a_second_product_nearly_as_large_leaves_none(size: float, product: str) -> None:
    front = page(("Energy meter EM 212", 20.0, 60.0), ("Time relay TR 40", size, 200.0), *BODY)
    assert make_skeleton(sheet(front), ()).product == product


@pytest.mark.parametrize(("white", "product"), [(27.0, "Energy meter EM 212"), (29.0, "EM 212")])
def test_a_kind_and_its_type_stand_together_within_two_lines(white: float, product: str) -> None:
    """The type is of 14 points; the larger name alone shows no type."""
    front = page(("EM 212", 20.0, 60.0), ("Energy meter", 14.0, 80.0 + white), *BODY)
    assert sorted(make_skeleton(sheet(front), ()).product.split()) == sorted(product.split())


@pytest.mark.parametrize(("top", "runs"), [(90.0, True), (92.0, False)])
def test_running_lines_stand_in_the_outer_eighth_of_a_page(top: float, *, runs: bool) -> None:
    """12 % of 842 points are 101."""
    pages = [set_page(page(("Gateway GW 4", 10.0, top), *BODY, number=n), ()) for n in (1, 2)]
    assert ("Gateway GW 4" in find_running(pages)) is runs


@pytest.mark.parametrize(("text", "prose"), [("Main switch for doors.", False), ("Main switch for all doors.", True),
                                             ("x" * 120, False), ("x" * 121, True)])  # fmt: skip
def test_a_name_ends_in_no_stop_behind_more_than_four_words_and_is_no_paragraph(text: str, *, prose: bool) -> None:
    assert is_prose(text) is prose


@pytest.mark.parametrize(("text", "date"), [("12/03/2031", "2031"), ("13/03/2031", "2031-03-13")])
def test_a_day_above_twelve_can_be_no_month(text: str, date: str) -> None:
    assert read_date(text) == date


@pytest.mark.parametrize(("letters", "read"), [(40, True), (41, False)])
def test_an_edition_is_said_in_forty_letters(letters: int, *, read: bool) -> None:
    text = "Edition 3 "
    assert bool(read_paper([text + "x" * (letters - len(text))]).edition) is read
