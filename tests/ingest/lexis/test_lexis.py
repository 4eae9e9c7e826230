"""Signs and short forms are read alike wherever they are printed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from torquary_ingest.lexis.figures import ends_in_figure, has_figure
from torquary_ingest.lexis.note_marks import lower, split_head, split_tail
from torquary_ingest.lexis.threads import begin_of_thread, diameter_mm, is_thread


@pytest.mark.parametrize(
    ("printed", "text", "marks"),
    [
        ("2.3¹", "2.3", ("1",)),
        ("2.5¹⁾", "2.5", ("1)",)),
        ("2.5 Nm²", "2.5 Nm", ("2",)),
        ("N·m³", "N·m", ("3",)),
        ("16 mm²", "16 mm²", ()),
        ("16 mm²¹", "16 mm²", ("1",)),
        ("(mm²)", "(mm²)", ()),
        ("3 × 10²", "3 × 10²", ()),
        ("2.5*", "2.5", ("*",)),
        ("2.5¹*", "2.5", ("1", "*")),
        ("1,2²,³", "1,2", ("2", "3")),
        ("**", "**", ()),
        ("10⁻³", "10⁻³", ()),
    ],
)
def test_marks_behind_a_text(printed: str, text: str, marks: tuple[str, ...]) -> None:
    assert split_tail(printed) == (text, marks)


def test_marks_before_a_figure() -> None:
    assert split_head("¹20") == ("20", "1")
    assert split_head("*2.5") == ("2.5", "*")
    assert split_head("*1") == ("*1", "")
    assert lower("¹⁾") == "1)"


@pytest.mark.parametrize("text", ["M5", "M 3,5", "M6 x 16", "m4", "#10-32", "1/4-20 UNC", "UNF"])
def test_threads(text: str) -> None:
    assert is_thread(text)


@pytest.mark.parametrize("text", ["M5a", "M100", "MX5", "5", "M5 screw", "M3.5.2", "10-32", "M5²"])
def test_what_is_no_thread(text: str) -> None:
    assert not is_thread(text)


def test_a_thread_begins_a_text() -> None:
    assert begin_of_thread("M5, cross-recess") == "M5"
    assert begin_of_thread("screw M5") == ""
    assert diameter_mm(" M3,5 screw") == Decimal("3.5")
    assert diameter_mm("1/4-20") is None


def test_figures() -> None:
    assert has_figure("½ in")
    assert has_figure("a2")
    assert not has_figure("N·m")
    assert ends_in_figure("at most 2½ ")
    assert ends_in_figure("(2.5)")
    assert not ends_in_figure("2.5 N")


@pytest.mark.parametrize(
    ("text", "ends"),
    [("Screws M4\n", False), ("M2.5 ", False), ("L1 (", False), ("MAX2.5 ", True), ("2.5 ", True), ("KR 30 ", True)],
)
def test_the_number_of_a_marking_or_thread_is_no_figure(text: str, *, ends: bool) -> None:
    assert ends_in_figure(text) is ends
