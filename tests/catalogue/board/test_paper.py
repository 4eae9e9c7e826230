"""The plan on paper: all of it, readable, on both sizes, with page numbers; groups are told by
number and pattern.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest
from boards_by_hand import certain, driver, listed, plan

from torquary_catalogue.board.listed import ListFault, Place
from torquary_catalogue.board.paper import write_plan_paper
from torquary_catalogue.board.paper.door_label import name_terminals
from torquary_catalogue.board.paper.faces import mark_up, plain
from torquary_catalogue.board.paper.pieces import PATTERNS, count_alike
from torquary_catalogue.board.plan import CAUTIONS, Plan
from torquary_catalogue.board.settled import Unsettled


def board(**parts: Any) -> Plan:
    """A board of two rows with everything that a plan can say."""
    told = [
        certain(value, None, ("cross_z", "2"), way=way)
        for way, value in ((1, "2"), (2, "2"), (3, "3.1"))
    ]
    long = replace(told[1], notes=("the sheet says: " + "strip 12 mm, " * 40,))
    made = plan(told[0], long, told[2], drivers=(driver(bits=()),))
    lost = Unsettled(
        terminal=listed("line", 4, place=Place(row=2, way=4, mark="F4")),
        why="50 mm² is outside",
        settles=("printed: 1.5–16",),
        command="torquary find",
    )
    fault = ListFault(row=9, column="way", message="'x' is no whole number")
    return replace(
        made, unsettled=(lost,), faults=(fault,), left_out=(listed("", 5, joint="spare"),), **parts
    )


def pages(paper: bytes) -> list[str]:
    with pypdfium2.PdfDocument(paper) as document:
        return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in document]


@pytest.mark.parametrize(("size", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_everything_of_the_plan_is_on_the_paper(size: str, points: tuple[int, int]) -> None:
    paper = write_plan_paper([board()], size=size, who="Ines")
    with pypdfium2.PdfDocument(paper) as document:
        assert tuple(round(side) for side in document[0].get_size()) == points
    text = pages(paper)
    every = "\n".join(text)
    for said in (
        CAUTIONS[0],
        "row 9, column way: 'x' is no whole number",
        "bit not at hand: cross recess type Z, size 2",
        "2.4 F4 | line (row 5): 50 mm² is outside",
        "Row 1",
        "Row 2",
        "SET 2 N·m",
        "SET 3.1 N·m",
        "on the mark 2 N·m",
        "half-way between the marks 3 and 3.2 N·m",
        "1.1 F1 | L1",
        "1.2 F2 | L1",
        "1.3 F3 | L1",
        "not checked",
        "1.5 F5: spare",
        "Sheets used",
        "harbour.pdf, Harbour",
        "Done by: Ines",
        "Label for the door",
        "calibrated 2031-03-01",
        "1 terminal(s) of this board have no setting",
    ):
        assert said in every.replace("\n", " ") or said in every, said
    for at, page in enumerate(text, start=1):
        assert f"page {at} of {len(text)}" in page


def test_each_board_of_a_list_begins_a_page() -> None:
    text = pages(write_plan_paper([board(), board(board="B8")]))
    assert [page.splitlines()[0] for page in text if page.startswith("Board")] == [
        "Board B7",
        "Board B8",
    ]


def test_a_long_board_goes_on_over_its_pages() -> None:
    told = [certain("2", way=at) for at in range(1, 121)]
    text = "\n".join(pages(write_plan_paper([plan(*told)])))
    assert [f"1.{at} F{at} | L1" in text for at in range(1, 121)] == [True] * 120


def test_what_is_long_goes_on_over_pages_and_the_label_counts_what_it_has_no_room_for() -> None:
    told = [certain("2", way=at % 60 + 1) for at in range(240)]
    many = [
        replace(one, terminal=replace(one.terminal, terminal=f"L{at}"))
        for at, one in enumerate(told)
    ]
    deep = [
        replace(one, terminal=replace(one.terminal, place=Place(row=2, way=1, mark="X1")))
        for one in many
    ]
    text = "\n".join(pages(write_plan_paper([plan(*many[120:], *deep[:120])])))
    assert "1 X1 (goes on)" in text
    assert "59 F59" in text
    assert re.search(r"and \d\d+ more terminals", text.replace("\n", " "))
    assert name_terminals([("X1", one.terminal.terminal) for one in deep]) == "X1 240 terminals"
    assert name_terminals([("X1", one.terminal.terminal) for one in deep[:2]]) == "X1 L0, L1"


def test_signs_that_no_face_has_are_written_as_what_they_are() -> None:
    assert mark_up("a < b\n& 配線 단자 \u202e \U0001f527") == (
        'a &lt; b &amp; <font name="HeiseiKakuGo-W5">配線</font> <font name="HYSMyeongJo-Medium">단자</font> '
        "&lt;U+202E&gt; &lt;U+1F527&gt;"
    )
    assert plain("Щит ≈ łódź 配") == "Щит ≈ łódź <U+914D>"


def test_patterns_are_many_and_screws_alike_are_counted() -> None:
    assert PATTERNS == 8
    assert count_alike([("earth", 1), ("earth", 1), ("N", 1), ("N", None)]) == [
        ("earth × 2", 1),
        ("N", 1),
        ("N", None),
    ]


def test_ten_settings_in_a_row_are_drawn() -> None:
    told = [certain(str(at), way=at) for at in range(1, 11)]
    text = "\n".join(pages(write_plan_paper([plan(*told)])))
    assert "SET 10 N·m" in text
