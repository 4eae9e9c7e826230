"""The registry by which sheets are read: against NIST SP 811, scipy.constants, ASTM B258 and the parts of each unit."""

from __future__ import annotations

import csv
import subprocess
import sys
from decimal import Decimal, localcontext
from pathlib import Path

import pint
import pytest
from scipy import constants

from torquary_catalogue.show.figures import UNITS as SHOWN
from torquary_ingest.figures import read_conductor, read_torque
from torquary_ingest.openers.lengths import INCHES
from torquary_ingest.unit_registry import convert, newton_metres, round_wire_mm2
from torquary_schema.sizes import circular_mils
from torquary_schema.torque_factors import factor_nm, torque_units
from torquary_schema.units import find_units

_FACTS = Path(__file__).parents[1] / "facts"
D = Decimal

# What the units are made of; 1 lb = 0.45359237 kg, g_n = 9.80665 m/s², 1 in = 0.0254 m, all exact (NIST SP 811).
_NEWTONS = {
    "newton": D(1), "centinewton": D("0.01"), "decinewton": D("0.1"), "decanewton": D(10), "millinewton": D("0.001"),
    "kilonewton": D(1000), "dyne": D("0.00001"), "pound": D("0.45359237") * D("9.80665"),
    "ounce": D("0.45359237") * D("9.80665") / 16, "kilogram_force": D("9.80665"), "gram_force": D("0.00980665"),
}  # fmt: skip
_METRES = {
    "metre": D(1), "centimetre": D("0.01"), "millimetre": D("0.001"), "inch": D("0.0254"), "foot": D("0.3048"),
}  # fmt: skip


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((_FACTS / name).read_text("utf-8").splitlines()))


@pytest.mark.parametrize("name", torque_units())
def test_a_torque_unit_is_worth_the_product_of_its_parts(name: str) -> None:
    force, _, length = name.rpartition("_")
    with localcontext(prec=40):
        assert newton_metres(D(1), name) == _NEWTONS[force] * _METRES[length]


@pytest.mark.parametrize("name", torque_units())
def test_the_factors_of_the_asking_side_are_those_of_the_registry(name: str) -> None:
    assert newton_metres(D(1), name) == factor_nm(name)
    assert set(SHOWN) <= set(torque_units())


def test_torques_against_nist_print() -> None:
    """NIST SP 811 (2008) App. B.8 prints seven digits."""
    printed = {"pound_inch": "0.1129848", "pound_foot": "1.355818", "ounce_inch": "0.007061552"}
    for name, value in printed.items():
        assert abs(newton_metres(D(1), name) / D(value) - 1) < D("5e-7")


def test_torques_against_scipy_constants() -> None:
    """scipy.constants (CODATA and exact legal definitions), in binary floating point: 1e-15 relative."""
    from_scipy = {
        "pound_inch": constants.pound * constants.g * constants.inch,
        "pound_foot": constants.pound * constants.g * constants.foot,
        "ounce_inch": constants.oz * constants.g * constants.inch,
        "kilogram_force_centimetre": constants.g / 100,
    }
    for name, value in from_scipy.items():
        assert abs(newton_metres(D(1), name) / D(value) - 1) < D("1e-15")


@pytest.mark.parametrize("row", _rows("awg.csv"), ids=[r["awg"] for r in _rows("awg.csv")])
def test_awg_in_mm2(row: dict[str, str]) -> None:
    """ASTM B258 formula to the printed digits; NEC chapter 9 Table 8 (from memory) within 0.1 %."""
    area = convert(circular_mils(row["awg"]), "circular_mil", "mm2")
    assert abs(area - D(row["area_mm2_formula"])) <= D("5e-5")
    assert not row["nec_t8_mm2"] or abs(area / D(row["nec_t8_mm2"]) - 1) <= D("1e-3") + D("5e-4")


@pytest.mark.parametrize("row", _rows("kcmil.csv"), ids=[r["kcmil_or_MCM"] for r in _rows("kcmil.csv")])
def test_kcmil_in_mm2(row: dict[str, str]) -> None:
    """1 kcmil = 0.506707479 mm² exactly by definition; NEC chapter 9 Table 8 prints whole mm²."""
    area = convert(D(row["kcmil_or_MCM"]), "kcmil", "mm2")
    assert area == convert(circular_mils(f"{row['kcmil_or_MCM']} kcmil"), "circular_mil", "mm2")
    assert abs(area - D(row["area_mm2_exact"])) <= D("5e-4")
    assert round(area) == D(row["nec_t8_mm2"])


def test_lengths_and_round_wires() -> None:
    assert convert(D("0.5"), "inch", "millimetre") == D("12.7")
    assert convert(D("2.5"), "centimetre", "millimetre") == D(25)
    assert round(round_wire_mm2(D("1.6")), 6) == D("2.010619")  # π/4 × 1.6²


def test_lengths_of_style_sheets_are_those_of_the_registry() -> None:
    """Openers know a length by its spelling in a file's own language, before anything printed is read."""
    spelled = {"in": "inch", "cm": "centimetre", "mm": "millimetre"}
    for spelling, name in spelled.items():
        assert INCHES[spelling] == pytest.approx(float(convert(D(1), name, "inch")), rel=1e-15)
    assert INCHES["q"] * 4 == pytest.approx(INCHES["mm"])
    assert [round(inches * 72, 9) for inches in (INCHES["pt"], INCHES["pc"], INCHES["px"])] == [1, 12, 0.75]


def test_what_is_printed_in_the_wanted_unit_keeps_its_digits() -> None:
    assert str(newton_metres(D("2.50"), "newton_metre")) == "2.50"
    assert str(newton_metres(D("250"), "centinewton_metre")) == "2.50"


@pytest.mark.parametrize("printed", ["Nm", "nm", "lb-in", "N·m", "pounds"])
def test_no_printed_text_is_a_unit(printed: str) -> None:
    with pytest.raises(KeyError):
        newton_metres(D(1), printed)


@pytest.mark.parametrize(("unit", "into"), [("inch", "newton_metre"), ("mm2", "millimetre"), ("pound_inch", "mm2")])
def test_nothing_is_converted_into_another_kind(unit: str, into: str) -> None:
    with pytest.raises(pint.DimensionalityError):
        convert(D(1), unit, into)


def test_every_unit_of_torque_that_can_be_found_can_be_converted() -> None:
    for text in ("2 N·m", "2 lb·in", "2 kgf·cm", "2 dN·m", "2 oz·in", "2 mN·m"):
        (unit,) = find_units(text)
        assert newton_metres(D(2), unit.name) > 0


def test_a_sheet_is_read_by_the_registry(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a pound-inch and a mm² of another size, the readers give other figures."""
    torques = ["newton_metre = [torque]", "pound_inch = 2 * newton_metre"]
    areas = ["millimetre = [length]", "mm2 = 100 * millimetre ** 2"]
    other = pint.UnitRegistry([*torques, *areas], non_int_type=Decimal)
    monkeypatch.setattr("torquary_ingest.unit_registry._registry", lambda: other)
    read_torque.cache_clear()
    read_conductor.cache_clear()
    try:
        (figure,) = read_torque("22 lb-in").figures
        (wire,) = read_conductor("Ø 2 mm").conductors
    finally:
        read_torque.cache_clear()
        read_conductor.cache_clear()
    assert figure.torque.nominal_nm == 44
    assert wire.min_mm2 is not None
    assert round(wire.min_mm2, 6) == D("0.031416")


def test_asking_does_not_import_the_registry() -> None:
    program = "import sys, torquary_catalogue.find, torquary_catalogue.show; assert 'pint' not in sys.modules"
    subprocess.run([sys.executable, "-c", program], check=True)
