"""What a stored number shows under its format. Format codes: ECMA-376 part 1, 18.8.30 and 18.8.31."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquary_ingest.openers.workbook.formats import is_date, show_date, show_number


@pytest.mark.parametrize(
    ("raw", "code", "shown"),
    [
        ("2.5", "0.00", "2.50"),
        ("2.5", "General", "2.5"),
        ("2.2999999999999998", "General", "2.3"),
        ("2.2999999999999998", "0.0", "2.3"),
        ("2.486", "0.0", "2.5"),
        ("2.45", "0.0", "2.5"),  # a binary float lies below the half; a spreadsheet rounds the decimal digits
        ("3", "0.0##", "3.0"),
        ("3.25", "0.0##", "3.25"),
        ("1250", "#,##0", "1250"),
        ("1250.5", "#,##0.00", "1250.50"),
        ("0.35", "0%", "35%"),
        ("0.4", "#.0", ".4"),
        ("7", "000", "007"),
        ("2.5", '0.0" Nm"', "2.5 Nm"),
        ("2.5", r"0.0\ \N\m", "2.5 Nm"),
        ("2.5", "[Blue]0.00_ ;[Red]-0.00", "2.50"),
        ("-2.5", "0.0;(0.0)", "(2.5)"),
        ("-2.5", "0.0", "-2.5"),
        ("0", '0.0;-0.0;"–"', "–"),
        ("2.5", ";;;", ""),
        ("2.5", "@", "2.5"),
        ("0.333333333333333", "General", "0.333333333"),
        ("2.5", "[$€-407]0.0", "€2.5"),
    ],
)
def test_a_number_shows_as_its_format_says(raw: str, code: str, shown: str) -> None:
    assert show_number(raw, code) == shown


@pytest.mark.parametrize("code", ["# ?/?", "0.00E+00", "0.0,", "[>2]0.0;0.00", "?", "0.0??", "0-0", "d-mmm"])
def test_a_format_that_is_not_understood_is_not_guessed(code: str) -> None:
    assert show_number("2.5", code) is None


@pytest.mark.parametrize(("code", "dated"), [("d-mmm", True), ("[h]:mm", True), ("0.0", False), ('0.0" dm"', False)])
def test_a_date_format_is_told_from_a_number_format(code: str, dated: bool) -> None:
    assert is_date(code) is dated


def test_a_day_number_is_a_date_in_both_calendars() -> None:
    """45353 is 2 March 2024 from 1900; 1904 counts 1,462 days less (ECMA-376 part 1, 18.17.4.1)."""
    assert show_date("45353", from_1904=False) == "2024-03-02"
    assert show_date("43891", from_1904=True) == "2024-03-02"
    assert show_date("nothing", from_1904=False) == "nothing"


@given(st.decimals(min_value=0, max_value=10_000, places=4), st.integers(min_value=0, max_value=4))
def test_fixed_decimals_are_within_half_of_the_last_digit(value: Decimal, places: int) -> None:
    shown = show_number(str(value), "0." + "0" * places if places else "0")
    assert shown is not None
    assert len(shown.partition(".")[2]) == places
    assert abs(Decimal(shown) - value) <= Decimal(1).scaleb(-places) / 2


@given(st.text(alphabet='0#?.,%@;"\\_*[]$-dmyhsE+GeneralN ()', max_size=20), st.text("0123456789.-E", max_size=12))
def test_no_format_and_no_number_raises(code: str, raw: str) -> None:
    shown = show_number(raw, code)
    assert shown is None or isinstance(shown, str)
