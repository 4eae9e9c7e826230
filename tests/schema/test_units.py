"""Unit spellings, and the exact factors of NIST SP 811 App. B."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from torquary_schema.torque_factors import factor_nm
from torquary_schema.units import find_units

_FACTS = Path(__file__).parents[1] / "facts"
_NAMES = {
    "newton metre": "newton_metre", "centinewton metre": "centinewton_metre", "decinewton metre": "decinewton_metre",
    "newton centimetre": "newton_centimetre", "newton millimetre": "newton_millimetre",
    "pound-force inch": "pound_inch", "pound-force foot": "pound_foot", "ounce-force inch": "ounce_inch",
    "kilogram-force metre": "kilogram_force_metre", "kilogram-force centimetre": "kilogram_force_centimetre",
    "gram-force centimetre": "gram_force_centimetre", "dyne centimetre": "dyne_centimetre",
}  # fmt: skip
_ROWS = [
    r for r in csv.DictReader((_FACTS / "unit_conversions.csv").read_text("utf-8").splitlines()) if r["unit"] in _NAMES
]
D = Decimal


@pytest.mark.parametrize("row", _ROWS, ids=[r["unit"] for r in _ROWS])
def test_factor_and_spellings_of_the_fact_sheet(row: dict[str, str]) -> None:
    """NIST SP 811 App. B as given in tests/facts/unit_conversions.csv, with every spelling seen on sheets."""
    name = _NAMES[row["unit"]]
    assert factor_nm(name) == D(row["to_nm_exact"])
    for printed in row["symbols_on_sheets"].split(";"):
        spelling = printed.split("(")[0].strip()
        (match,) = find_units(f"2 {spelling}")
        if spelling in ("NM", "kgf"):  # capitals, and a unit cut short: a person confirms
            assert not match.certain
        else:
            assert (match.name, match.certain, match.printed) == (name, True, spelling)


DOUBTFUL = [
    "1.2 NM",
    "1.2 nm",
    "1.2 MNm",
    "14 lbs",
    "14 lb",
    "14 #in",
    '14 "lbs',
    "8 kgf",
    "8 kgf·Mm",
    "8 kgf·M",
    "2 cmN",
]


@pytest.mark.parametrize("text", DOUBTFUL)
def test_a_spelling_with_two_meanings_is_not_certain(text: str) -> None:
    (match,) = find_units(text)
    assert match.certain is False


OTHERS = [
    ("10 mm²", "mm2"), ("10 mm2", "mm2"), ("10 mm\n2", "mm2"), ("10 qmm", "mm2"), ("2m㎡", "mm2"), ("10 sq. mm", "mm2"),
    ("10 мм²", "mm2"), ("AWG 8", "awg"), ("250 MCM", "kcmil"), ("250 kcmil", "kcmil"), ("5 mm", "millimetre"),
    ('1/4"', "inch"), ("16 A", "ampere"), ("libras-pulgada", "pound_inch"), ("po-lb", "pound_inch"),
    ("фунт-дюйм", "pound_inch"), ("Н·м", "newton_metre"), ("牛·米", "newton_metre"), ("Ｎ・ｍ", "newton_metre"),
    ("кгс·см", "kilogram_force_centimetre"), ("NSm", "newton_metre"), ("daN·m", "decanewton_metre"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "name"), OTHERS)
def test_other_units_and_languages(text: str, name: str) -> None:
    (match,) = find_units(text)
    assert (match.name, match.certain) == (name, True)
    assert text[match.start : match.end] == match.printed


def test_places_are_those_of_the_printed_text() -> None:
    text = "２.５　Ｎ・ｍ（22 lb-in）"
    assert [(m.name, text[m.start : m.end]) for m in find_units(text)] == [
        ("newton_metre", "Ｎ・ｍ"),
        ("pound_inch", "lb-in"),
    ]


@pytest.mark.parametrize("text", ["N: 2", "L/N", "in the box", "2.5 Nm2", "2.5 Nm¹", "main", "lbx", "wingnut"])
def test_no_unit_where_none_is_printed(text: str) -> None:
    assert [m for m in find_units(text) if m.kind == "torque"] == []


def test_unknown_names_are_refused() -> None:
    with pytest.raises(KeyError):
        factor_nm("furlong")
