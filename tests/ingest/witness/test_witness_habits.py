"""Readings of the text layer and of the picture are the same only when every figure and mark is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from torquary_ingest.document import Mark, Word
from torquary_ingest.witness.habits import agree, fold_reading, is_readable, spell_line
from torquary_schema.values import Box

BOX = Box(x0=0, top=0, x1=10, bottom=10)


@pytest.mark.parametrize(
    ("live", "seen"),
    [
        ("18 lb-in", "18 Ib-in"),
        ("20 lb-in", "20 1b-in"),
        ("9 lb-in", "91b-in"),
        ("1.6÷1.8", "1.6+1.8"),
        ("3½", "31/2"),
        ("2.5 N·m", "2.5N.m"),
        ("10–12", "10-12"),
        ("3,5", "3，5"),
        ("2.5 Nm", "2.5 NM"),
        ("1 200", "1200"),
        ("1.3…1.5", "1.3...1.5"),
    ],
)
def test_harmless_habits_are_set_aside(live: str, seen: str) -> None:
    assert agree((live,), seen)


@pytest.mark.parametrize(
    ("live", "seen"),
    [
        ("2.5", "25"),
        ("25", "2.5"),
        ("2.5", "2,5"),
        ("35", "3-5"),
        ("8.3", "2.5"),
        ("1.2", "7.2"),
        ("10", "1O"),
        ("5", "S"),
        ("1.5", "I.5"),
        ("≤ 1.8", "1.8"),
        ("2.5 N·m", "2.5 lb·in"),
        ("18 lb-in", "18 lb-ft"),
        ("2.5", ""),
        ("l2", "12"),
    ],
)
def test_a_figure_mark_or_unit_that_differs_is_not(live: str, seen: str) -> None:
    assert not agree((live,), seen)


@given(st.text(alphabet="0123456789.,-±/", min_size=1, max_size=9), st.integers(0, 8), st.sampled_from("0123456789"))
def test_no_exchange_of_one_digit_is_set_aside(text: str, at: int, digit: str) -> None:
    at %= len(text)
    other = text[:at] + digit + text[at + 1 :]
    assert agree((text,), other) == (other == text)


@given(st.text(max_size=20))
def test_folding_twice_changes_nothing_more_for_agreement(text: str) -> None:
    assert agree((text,), text) or any(char.isalpha() for char in fold_reading(text))


def test_a_raised_note_mark_may_be_seen_or_not() -> None:
    line = [Word(text="2.3", box=BOX, size=9, marks=(Mark(text="1"),))]
    assert agree(spell_line(line), "2.31")
    assert agree(spell_line(line), "2.3")
    assert not agree(spell_line(line), "2.32")


def test_scripts_that_the_recogniser_was_not_taught() -> None:
    assert is_readable("Torque")
    assert is_readable("力矩")
    assert is_readable("·")
    assert not is_readable("מומנט")
    assert is_readable("מומנט2"), "a figure is never passed over"
