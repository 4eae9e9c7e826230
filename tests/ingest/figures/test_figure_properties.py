"""What holds for every figure: the printed value comes back exactly, noise never raises, a slip is held."""

from __future__ import annotations

import string
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from torquary_ingest.figures import find_decimal_mark, read_conductor, read_drive, read_torque, torque_like
from torquary_ingest.figures.numbers import read_number
from torquary_schema.torque_factors import factor_nm

D = Decimal
SPELLINGS = {
    "newton_metre": ("Nm", "N·m", "N.m", "N-m", "N m", "N⋅m", "N・m", "N*m", "Newton metres", "Н·м", "牛·米"),
    "centinewton_metre": ("cNm", "cN·m"),
    "millinewton_metre": ("mNm", "mN·m"),
    "newton_centimetre": ("Ncm", "N·cm"),
    "pound_inch": ("lb-in", "lbf·in", "in-lbs", "in. lbs.", "IN-LB", "pound-inches", "lb. · in.", "po-lb", "фунт-дюйм"),
    "pound_foot": ("ft-lb", "lbf·ft", "ft. lbs.", "foot-pounds"),
    "kilogram_force_centimetre": ("kgf·cm", "kgf-cm", "кгс·см"),
    "ounce_inch": ("ozf·in", "in oz"),
}
DASHES = (
    "-",
    "‐",
    "‑",
    "–",
    "—",
    "−",
    "~",
    "〜",
    "～",
    "∼",
    "÷",
    "…",
    "...",
    "..",
    " - ",
    " – ",
    " to ",
    " bis ",
    " à ",
    " до ",
)
numbers = st.decimals(min_value=D("0.1"), max_value=D("999.9"), places=1) | st.decimals(
    min_value=D("0.01"), max_value=D("99.99"), places=2
)
units = st.sampled_from([(name, spelling) for name, all_of in SPELLINGS.items() for spelling in all_of])
marks = st.sampled_from([".", ","])
gaps = st.sampled_from(["", " ", "\u00a0", "\u2009", "\n"])


def _print(value: Decimal, mark: str) -> str:
    return f"{value:f}".replace(".", mark)


@given(value=numbers, unit=units, mark=marks, gap=gaps)
def test_any_figure_comes_back_exactly(value: Decimal, unit: tuple[str, str], mark: str, gap: str) -> None:
    name, spelling = unit
    reading = read_torque(_print(value, mark) + gap + spelling)
    assert reading.doubts == ()
    (figure,) = reading.figures
    assert figure.unit == name
    assert figure.torque.min_nm == figure.torque.nominal_nm == figure.torque.max_nm == value * factor_nm(name)


@given(low=numbers, more=numbers, unit=units, mark=marks, dash=st.sampled_from(DASHES), twice=st.booleans())
def test_any_range_comes_back_exactly(
    low: Decimal, more: Decimal, unit: tuple[str, str], mark: str, dash: str, twice: bool
) -> None:
    name, spelling = unit
    high = low + more
    first = f"{_print(low, mark)} {spelling}" if twice else _print(low, mark)
    reading = read_torque(f"{first}{dash}{_print(high, mark)} {spelling}")
    assert reading.doubts == ()
    (figure,) = reading.figures
    factor = factor_nm(name)
    torque = figure.torque
    assert (torque.min_nm, torque.nominal_nm, torque.max_nm) == (low * factor, None, high * factor)


@given(value=numbers, mark=marks, unit=units)
def test_the_unit_of_the_heading_serves_a_bare_figure(value: Decimal, mark: str, unit: tuple[str, str]) -> None:
    reading = read_torque(_print(value, mark), unit=f"[{unit[1]}]")
    assert reading.doubts == ()
    assert reading.figures[0].torque.nominal_nm == value * factor_nm(unit[0])


@given(value=numbers, tolerance=st.integers(1, 30), mark=marks)
def test_a_tolerance_in_per_cent(value: Decimal, tolerance: int, mark: str) -> None:
    reading = read_torque(f"{_print(value, mark)} Nm ± {tolerance} %")
    assert reading.doubts == ()
    torque = reading.figures[0].torque
    part = value * tolerance / 100
    assert (torque.min_nm, torque.nominal_nm, torque.max_nm) == (value - part, value, value + part)


@given(value=numbers, unit=units)
def test_a_second_unit_rounded_in_print_agrees(value: Decimal, unit: tuple[str, str]) -> None:
    name, spelling = unit
    other = "pound_inch" if name != "pound_inch" else "newton_metre"
    second = round(value * factor_nm(name) / factor_nm(other), 1)
    if second > 0:
        printed = SPELLINGS[other][0]
        assert read_torque(f"{value:f} {spelling} ({second:f} {printed})").doubts == ()


@given(whole=st.integers(1, 999), rest=st.integers(0, 999), mark=marks)
def test_three_places_without_a_convention_are_never_decided(whole: int, rest: int, mark: str) -> None:
    printed = f"{whole}{mark}{rest:03d}"
    assert read_number(printed).doubt == "number_ambiguous"
    other = "," if mark == "." else "."
    assert (read_number(printed, mark).value, read_number(printed, mark).doubt) == (D(f"{whole}.{rest:03d}"), "")
    assert (read_number(printed, other).value, read_number(printed, other).doubt) == (D(f"{whole}{rest:03d}"), "")


NOISE = st.text(
    alphabet=st.one_of(
        st.sampled_from("0123456789.,-–…±/½ ()[]=:;×xNmMlbinft·²#AWG\n\"'%≤<>\u00ad\u2009"), st.characters()
    ),
    max_size=24,
)


@settings(max_examples=300)
@given(
    text=NOISE,
    unit=st.sampled_from(["", "Nm", "N·m (lb·in)", "lbs", "mm²", "AWG"]),
    mark=st.sampled_from(["", ".", ","]),
)
def test_noise_gives_a_value_or_a_doubt(text: str, unit: str, mark: str) -> None:
    assert mark in ("", ".", ",")
    torque = read_torque(text, unit=unit, decimal_mark=mark)  # type: ignore[arg-type]
    conductor = read_conductor(text, unit=unit, decimal_mark=mark)  # type: ignore[arg-type]
    read_drive(text, heading=unit)
    torque_like(text)
    find_decimal_mark([text, unit])
    if torque.kind == "figures":
        assert torque.figures or torque.doubts
    if conductor.kind == "figures":
        assert conductor.conductors or conductor.doubts
    for figure in torque.figures:
        bounds = (figure.torque.min_nm, figure.torque.nominal_nm, figure.torque.max_nm)
        assert any(b is not None for b in bounds)
        assert all(b is None or b > 0 for b in bounds)


@pytest.mark.parametrize("text", ["2.5 Nm", "2.5 N·m", "22 lb-in", "22 in-lb", "3 ft-lb", "25 kgf·cm"])
def test_a_changed_letter_of_the_unit_is_never_read_in_silence(text: str) -> None:
    honest = read_torque(text).figures[0].torque.nominal_nm
    real_units = {"25 kgf·mm", "25 kgf·Cm", "25 kgf·cM"}
    for at, printed in enumerate(text):
        if not printed.isalpha():
            continue
        for letter in set(string.ascii_letters) - {printed}:
            slip = text[:at] + letter + text[at + 1 :]
            reading = read_torque(slip)
            if slip in real_units or letter == printed.swapcase():
                continue
            unchanged = [f.torque.nominal_nm for f in reading.figures] == [honest]
            assert reading.doubts or reading.kind == "words" or unchanged, slip


@pytest.mark.parametrize("text", ["2.5 Nm", "0.8–1.2 Nm", "1,8 ... 2,0 Nm", "2.0 ± 0.2 Nm", "2.5 N·m (22 lb·in)"])
def test_a_sign_lost_in_the_figure_is_never_read_as_another_sign(text: str) -> None:
    """A letter in place of a digit or mark must not vanish: the text layer may be damaged there."""
    for at, printed in enumerate(text):
        if printed.isdigit() or printed in ".,":
            for letter in "OlISBZ?_$":
                slip = text[:at] + letter + text[at + 1 :]
                assert read_torque(slip).doubts, slip


def test_the_decimal_mark_of_a_sheet() -> None:
    assert find_decimal_mark(["2,5", "1.200", "0,500"]) == ","
    assert find_decimal_mark(["2.5 Nm", "16 mm²"]) == "."
    assert find_decimal_mark(["1.250", "16"]) == ""
    assert find_decimal_mark(["2,5", "2.5"]) == ""
    assert find_decimal_mark(["1.200,0"]) == ","
    assert find_decimal_mark([]) == ""
