"""Torques in words: nothing is rounded out of its printed range, and rounding is shown."""

from __future__ import annotations

import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from sheets_by_hand import held, mm2, report, setting, torque

from torquary_catalogue.decimals import shorten
from torquary_catalogue.errors import WRONG_USE, TorquaryError
from torquary_catalogue.find import find, read_question
from torquary_catalogue.show.figures import read_unit, write_torque
from torquary_catalogue.show.notice import write_notice
from torquary_catalogue.show.plain import write_plain
from torquary_catalogue.show.terminal import draw_tall, print_notice
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report

LB_IN = Decimal("0.1129848290276167")  # NIST SP 811, Appendix B: lbf·in, exact from its definitions


def figures(*texts: str | None) -> tuple[Decimal | None, ...]:
    return tuple(None if text is None else Decimal(text) for text in texts)


@pytest.mark.parametrize(
    ("low", "nominal", "high", "shown"),
    [
        ("2.5", "2.5", "2.5", "2.5 N·m"),
        ("2.50", "2.50", "2.50", "2.5 N·m"),
        ("2", None, "2.5", "2–2.5 N·m"),
        ("1.8", "2", "2.2", "2 N·m (1.8–2.2 N·m)"),
        (None, None, "3", "at most 3 N·m"),
        ("3", None, None, "at least 3 N·m"),
        (None, None, None, ""),
        ("20", "20", "20", "20 N·m"),
    ],
)
def test_figures_ranges_and_limits(low: str | None, nominal: str | None, high: str | None, shown: str) -> None:
    assert write_torque(figures(low, nominal, high)) == shown


def test_a_printed_pound_inch_comes_back_as_printed() -> None:
    value = 22 * LB_IN
    assert write_torque((value, value, value), "pound_inch") == "22 lb·in"
    assert write_torque((value, value, value)) == "≈2.486 N·m"


@given(
    st.decimals(min_value="0.05", max_value="60", places=2),
    st.decimals(min_value="0.01", max_value="60", places=2),
)
def test_a_converted_range_stays_inside_the_printed_one(low: Decimal, width: Decimal) -> None:
    high = low + width
    shown = write_torque((low, None, high), "pound_inch").removesuffix(" lb·in")
    first, last = (Decimal(part.lstrip("≈")) for part in shown.split("–"))
    slack = Decimal("1e-25")
    assert first * LB_IN >= low - slack
    assert last * LB_IN <= high + slack


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=0, max_value=10**6))
def test_shortening_changes_no_number(value: Decimal) -> None:
    short = shorten(value)
    assert short == value
    assert "E" not in str(short)


@pytest.mark.parametrize(
    ("typed", "name"),
    [("Nm", "newton_metre"), ("N·m", "newton_metre"), ("cN·m", "centinewton_metre"), ("lb-in", "pound_inch"),
     ("in.lbs", "pound_inch"), ("lbf·ft", "pound_foot"), ("ft-lb", "pound_foot")],
)  # fmt: skip
def test_units_as_people_type_them(typed: str, name: str) -> None:
    assert read_unit(typed) == name


def test_an_unknown_unit_is_wrong_use() -> None:
    with pytest.raises(TorquaryError, match="lb-in") as caught:
        read_unit("stone")
    assert caught.value.status == WRONG_USE


def test_an_answer_shows_figure_words_place_and_cautions(catalogue: Catalogue) -> None:
    load_report(catalogue, report(setting("one-setting")))
    lines = write_plain(write_notice(find(catalogue, read_question(catalogue, "mcb 10mm2")), "pound_inch"))
    text = "\n".join(lines)
    for part in ("≈22.13 lb·in", "“2.5”", "N·m", "cross recess type Z, size 2", "harbour_breakers.pdf", "2024-03"):
        assert part in text
    for part in ("page 1", "table 1", "row 2", "prove dead", "competent", "local codes"):
        assert part in text


def test_held_shows_the_reason_and_no_figure(catalogue: Catalogue) -> None:
    load_report(catalogue, report(held("held-one")))
    answer = find(catalogue, read_question(catalogue, "mcb 10mm2"))
    notice = write_notice(answer)
    assert notice.headline.startswith("Held, not given")
    assert not any(block.large or ("torque" in dict(block.lines)) for block in notice.blocks)
    assert not any("printed" in dict(block.lines) for block in notice.blocks)
    assert any("why held" in dict(block.lines) for block in notice.blocks)


def test_what_would_tell_rows_apart_is_said(catalogue: Catalogue) -> None:
    wide = setting("wide", conductor=mm2("10", "25"), torque=torque("3.5", "3.5", "3.5"))
    load_report(catalogue, report(setting("narrow"), wide))
    notice = write_notice(find(catalogue, read_question(catalogue, "mcb 12mm2")))
    assert "Say the conductor to tell them apart: 1.5–16 mm² | 10–25 mm²" in notice.notes


def test_the_terminal_shows_tall_digits(catalogue: Catalogue) -> None:
    load_report(catalogue, report(setting("one-setting")))
    notice = write_notice(find(catalogue, read_question(catalogue, "mcb 10mm2")))
    page = io.StringIO()
    print_notice(notice, Console(file=page, width=100))
    assert draw_tall("2.5 N·m").splitlines()[0].rstrip() in page.getvalue()
    assert "local codes" in page.getvalue()


@given(
    st.text(alphabet="0123456789.–≈", min_size=1, max_size=8), st.text(alphabet="0123456789.–≈", min_size=1, max_size=8)
)
def test_tall_digits_tell_every_figure_from_every_other(one: str, other: str) -> None:
    assert (draw_tall(one) == draw_tall(other)) == (one == other)
