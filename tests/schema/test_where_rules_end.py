"""The last value that a rule of the trade or a form takes, and the first that it does not."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from torquary_schema.folding import fold_phrase
from torquary_schema.forms import FormWrong, read_form
from torquary_schema.grids import us_slot_column
from torquary_schema.sizes import awg_number
from torquary_schema.torque_tools import calibration_due, percent_range, permitted_deviation, spread
from torquary_schema.words import spot

D = Decimal


@pytest.mark.parametrize(
    ("width", "length", "column"),
    [("1.2", "6.4", "slot_small"), ("1.3", "6.4", "slot_large"), ("1.2", "6.5", "slot_large")],
)
def test_a_slot_over_one_of_its_limits_is_large(width: str, length: str, column: str) -> None:
    """NEC informative Annex I, Table I.1: up to 1.2 mm (0.047 in) wide and up to 6.4 mm (1/4 in) long."""
    assert us_slot_column(D(width), D(length)) == column


def test_gauges_end_with_the_thinnest_wire_of_the_table() -> None:
    """ASTM B258 goes to 56 AWG."""
    assert (awg_number("56"), awg_number("57")) == (56, None)


@pytest.mark.parametrize(("highest", "percent"), [("10", 6), ("10.1", 4)])
def test_a_tool_for_more_than_ten_newton_metres_is_truer(highest: str, percent: int) -> None:
    """ISO 6789-1 (from memory)."""
    assert permitted_deviation("II", "A", D(highest)) == percent


def test_a_tool_set_to_a_torque_gives_it_within_its_deviation() -> None:
    assert spread(D("2.5"), D(6)) == (D("2.35"), D("2.65"))
    assert percent_range(D("2"), D(90), D(100)) == (D("1.8"), D("2"))


def test_a_tool_is_due_after_twelve_months_or_five_thousand_cycles() -> None:
    """ISO 6789, seen in print."""
    start, last, due = date(2025, 3, 1), date(2026, 2, 28), date(2026, 3, 1)
    assert [calibration_due(start, day, 0) for day in (last, due)] == [False, True]
    assert [calibration_due(start, last, cycles) for cycles in (4999, 5000)] == [False, True]


@pytest.mark.parametrize(("number", "taken"), [("1e30", True), ("1e31", False), ("1e-30", True), ("1e-31", False)])
def test_a_form_takes_numbers_of_thirty_digits(tmp_path: Path, number: str, *, taken: bool) -> None:
    path = tmp_path / "form.json"
    path.write_text(f'{{"a": {number}}}')
    try:
        assert read_form(path, largest=1000, kind="a form") == {"a": D(number)}
    except FormWrong:
        assert not taken
    else:
        assert taken


@pytest.mark.parametrize(("text", "folded"), [("T O R Q U E", "torque"), ("L N P E 1", "lnpe1")])
def test_five_letters_set_wide_apart_are_a_word_and_four_are_terminals(text: str, folded: str) -> None:
    joined, blanks = fold_phrase(text)
    assert joined == folded
    assert (blanks == frozenset()) is (folded == "torque")
    assert fold_phrase("T O R Q U")[1] == frozenset()


@pytest.mark.parametrize(("text", "known"), [("ein-/mehrdrähtig", 2), ("ein-/mehrig", 0)])
def test_a_cut_word_shares_an_end_of_several_letters(text: str, known: int) -> None:
    assert len(spot("stranding", text)) == known
