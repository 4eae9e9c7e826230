"""Conductor cells in the system they are printed in; a size without a system is held."""

from __future__ import annotations

from decimal import Decimal

import pytest

from torquary_ingest.figures import read_conductor

D = Decimal
Ends = tuple[str | None, str | None, str | None, str | None]

CERTAIN: list[tuple[str, str, str, Ends]] = [
    # text, heading unit, system, (min mm², max mm², thinner, thicker)
    ("1.5–6", "mm²", "mm2", ("1.5", "6", None, None)),
    ("16", "mm²", "mm2", ("16", "16", None, None)),
    ("≤ 16", "mm²", "mm2", (None, "16", None, None)),
    ("up to 16 mm²", "", "mm2", (None, "16", None, None)),
    ("1.5 mm² – 6 mm²", "", "mm2", ("1.5", "6", None, None)),
    ("14〜38 mm\n2", "", "mm2", ("14", "38", None, None)),
    ("14-10", "AWG", "awg", (None, None, "14", "10")),
    ("#14", "", "awg", (None, None, "14", "14")),
    ("1/0", "", "awg", (None, None, "1/0", "1/0")),
    ("0000", "AWG", "awg", (None, None, "4/0", "4/0")),
    ("AWG 10-14", "", "awg", (None, None, "14", "10")),
    ("350 kcmil - 1 AWG", "", "kcmil", (None, None, "1", "350 kcmil")),
    ("1/0-250", "AWG/kcmil", "awg", (None, None, "1/0", "250 kcmil")),
    ("200-250", "kcmil", "kcmil", (None, None, "200 kcmil", "250 kcmil")),
    ("1.5-10 mm²/16-8 AWG", "", "mm2", ("1.5", "10", "16", "8")),
    ("1.5-10 (16-8)", "mm² (AWG)", "mm2", ("1.5", "10", "16", "8")),
    ("min. 1 mm²  max. 6 mm²", "", "mm2", ("1", "6", None, None)),
    ("16-8 AWG (1.5-10 mm²)", "", "awg", ("1.5", "10", "16", "8")),
]


@pytest.mark.parametrize(("text", "unit", "system", "ends"), CERTAIN)
def test_a_certain_size(text: str, unit: str, system: str, ends: Ends) -> None:
    reading = read_conductor(text, unit=unit)
    assert reading.doubts == ()
    (given,) = reading.conductors
    assert given.system == system
    assert (given.min_mm2, given.max_mm2) == tuple(e and D(e) for e in ends[:2])
    assert (given.min_awg, given.max_awg) == ends[2:]


HELD = [
    ("2.5", "", "conductor_unit_missing"),
    ("14", "", "conductor_unit_missing"),
    ("16-10", "", "conductor_unit_missing"),
    ("1.5 mm", "", "conductor_unit_missing"),
    ("2.5", "mm² (AWG)", "conductor_unit_missing"),
    ("16 25", "mm²", "conductor_unreadable"),
    ("2.5-35 / 12 2", "mm²", "conductor_unreadable"),
    ("60 AWG", "", "conductor_unreadable"),
    ("4 MCM", "", "conductor_unreadable"),
    ("180 kcmil", "", "conductor_unreadable"),
    ("R8-5", "", "conductor_unreadable"),
    ("0-4 mm²", "", "conductor_unreadable"),
    ("6-2.5 mm²", "", "range_reversed"),
    ("2.\n5 mm²", "", "number_broken"),
    ("10,", "mm²", "number_broken"),
    ("1.250", "mm²", "number_ambiguous"),
    ("1-Feb", "mm²", "date_for_range"),
    ("1\x006", "mm²", "nul_byte"),
    ("16 mm² (cold)", "", "condition_unread"),
    ("16¹ mm²", "", "note_unresolved"),
    ("#1/0 14", "mm²", "conductor_unreadable"),
    ("10 250", "mm²", "number_ambiguous"),
    ("16: 14", "AWG", "conductor_unreadable"),
    ("16 /", "mm²", "conductor_unreadable"),
    ("10 mm², 16 mm² solid", "", "condition_unread"),
    ("solid 25 flexible 10", "mm²", "condition_unread"),
    ("Cu mm 16", "mm²", "conductor_unit_missing"),
    ("4 mm² (d<2.8 mm)", "", "condition_unread"),
]


@pytest.mark.parametrize(("text", "unit", "code"), HELD)
def test_a_doubtful_size_says_why(text: str, unit: str, code: str) -> None:
    assert code in [d.code for d in read_conductor(text, unit=unit).doubts]


def test_words_beside_the_size() -> None:
    first, second = read_conductor("1.5–6 solid / 1.5-4 flexible", unit="mm²").conductors
    assert (first.stranding, first.max_mm2) == (("solid",), D(6))
    assert (second.stranding, second.max_mm2) == (("flexible",), D(4))
    (counted,) = read_conductor("2 x 1.5…10 mm²").conductors
    assert (counted.count, counted.min_mm2, counted.max_mm2) == (2, D("1.5"), D(10))
    (ferrule,) = read_conductor("0.5-2.5 mm² without ferrule").conductors
    assert ferrule.ferrule is False


@pytest.mark.parametrize(
    ("text", "unit", "counts", "ends"),
    [
        ("2 x (1 ... 2.5)", "mm²", (2,), [("1", "2.5")]),
        ("2 x (1 to 2.5) mm²", "", (2,), [("1", "2.5")]),
        ("2 x (1 ... 2.5); 2 x (2.5 ... 6); max. 1 x 10", "mm²", (2, 2, 1), [("1", "2.5"), ("2.5", "6"), (None, "10")]),
    ],
)
def test_sizes_in_brackets_are_counted(
    text: str, unit: str, counts: tuple[int, ...], ends: list[tuple[str | None, str]]
) -> None:
    reading = read_conductor(text, unit=unit)
    assert reading.doubts == ()
    assert tuple(one.count for one in reading.conductors) == counts
    assert [(one.min_mm2, one.max_mm2) for one in reading.conductors] == [(e[0] and D(e[0]), D(e[1])) for e in ends]


def test_a_number_in_brackets_before_the_size_counts_unless_it_may_be_one() -> None:
    (one,) = read_conductor("(2) 1/0 AWG-250 kcmil").conductors
    assert (one.count, one.min_awg, one.max_awg) == (2, "1/0", "250 kcmil")
    (one,) = read_conductor("(4) 25", unit="AWG (mm²)").conductors
    assert (one.count, one.min_awg, one.max_mm2) == (None, "4", D(25))


def test_words_before_the_last_of_two_sizes_are_of_that_size() -> None:
    reading = read_conductor("1.5–16 mm², with ferrule up to 10 mm²")
    assert reading.doubts == ()
    assert [(one.printed, one.ferrule) for one in reading.conductors] == [("1.5–16 mm²", None), ("up to 10 mm²", True)]


Told = list[tuple[str | None, str | None, tuple[str, ...], bool | None]]

WITH_KINDS: list[tuple[str, Told]] = [
    # what a bracket gives for a kind is that kind's, and says nothing of the size before it
    ("4–16 mm² (fine-stranded 4–10 mm² with ferrule)", [("4", "16", (), None), ("4", "10", ("flexible",), True)]),
    ("1.5 – 25 mm² (flexible: max. 16 mm²)", [("1.5", "25", (), None), (None, "16", ("flexible",), None)]),
    ("1–6 mm² (solid) and 1–4 mm² (stranded)", [("1", "6", ("solid",), None), ("1", "4", ("stranded",), None)]),
    ("max. 1,5 mm² ein-/feindrähtig", [(None, "1.5", ("solid", "flexible"), None)]),
    ("10 mm² mehr- oder feindrähtig", [("10", "10", ("stranded", "flexible"), None)]),
]


@pytest.mark.parametrize(("text", "told"), WITH_KINDS)
def test_sizes_with_kinds_of_their_own(text: str, told: Told) -> None:
    reading = read_conductor(text)
    assert reading.doubts == ()
    assert [(_text(c.min_mm2), _text(c.max_mm2), c.stranding, c.ferrule) for c in reading.conductors] == told


def _text(number: Decimal | None) -> str | None:
    return None if number is None else str(number)


def test_a_comma_between_two_prints_of_a_size() -> None:
    [one] = read_conductor("Cu 2.5–16 mm², AWG 14–6").conductors
    assert (one.min_mm2, one.max_mm2, one.min_awg, one.max_awg) == (D("2.5"), D("16"), "14", "6")


def test_a_gauge_thicker_than_the_size_before_it_may_be_for_another() -> None:
    """10 AWG is 5.26 mm² (ASTM B258): too thick for 4 mm², and in use beside 6 mm²."""
    doubtful = read_conductor("solid 0.2–6 mm², flexible 0.2–4 mm² (AWG 24–10)").doubts
    certain = read_conductor("solid 0.2–6 mm², flexible 0.2–4 mm² (AWG 24–12)").doubts
    assert ([doubt.code for doubt in doubtful], certain) == (["condition_unread"], ())
    # 18 AWG is 0.82 mm² and in use beside 0.75 mm².
    assert read_conductor("solid 0.2–1 mm², flexible 0.2–0.75 mm² (AWG 24–18)").doubts == ()
