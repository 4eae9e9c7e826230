"""The 66 worked checks of the trade: printed text in, normalised value out, each with its source.

`tests/facts/worked_checks.csv` names the source of every row and whether the value stood in print or is
from memory; the test ids carry that remark.
"""

from __future__ import annotations

import csv
import json
import re
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from torquary_ingest.figures import read_conductor, read_drive, read_torque
from torquary_ingest.unit_registry import convert, round_wire_mm2
from torquary_schema.grids import (
    across_flats_mm,
    hex_socket_torque,
    thread_torque,
    us_conductor_torque,
    us_control_circuit_torque,
    us_slot_column,
    us_small_slot_torque,
)
from torquary_schema.sizes import circular_mils
from torquary_schema.torque_factors import factor_nm
from torquary_schema.torque_tools import calibration_due, covers, percent_range, settable_range, spread

_FACTS = Path(__file__).parents[2] / "facts"
_ROWS = {row["id"]: row for row in csv.DictReader((_FACTS / "worked_checks.csv").read_text("utf-8").splitlines())}
D = Decimal


def _expected(check: str) -> dict[str, Any]:
    return json.loads(_ROWS[check]["expected_json"], parse_float=Decimal, parse_int=Decimal)


def _near(got: Decimal | None, wanted: Decimal, relative: str = "1e-6") -> bool:
    return got is not None and abs(got - wanted) <= abs(wanted) * D(relative)


def _mm2(gauge: str) -> Decimal:
    return convert(circular_mils(gauge), "circular_mil", "mm2")


def _ids(*checks: str) -> list[Any]:
    return [pytest.param(c, id=f"{c}-{_ROWS[c]['seen'].replace(' ', '-')}") for c in checks]


def test_every_check_has_a_test() -> None:
    text = Path(__file__).read_text("utf-8")
    assert len(_ROWS) == 66
    assert [check for check in _ROWS if check not in re.findall(r"W\d\d", text.upper())] == []


SINGLE = ("W01", "W02", "W03", "W04", "W05", "W06", "W07", "W08", "W09", "W11", "W12")


@pytest.mark.parametrize("check", _ids(*SINGLE))
def test_a_printed_torque_becomes_newton_metres(check: str) -> None:
    reading = read_torque(_ROWS[check]["input_text"])
    assert reading.doubts == ()
    (figure,) = reading.figures
    for key, wanted in _expected(check).items():
        got = getattr(figure.torque, key)
        assert got == wanted if wanted is None else _near(got, wanted), key


def test_w10_inch_and_foot_differ_by_twelve() -> None:
    assert factor_nm("pound_foot") == 12 * factor_nm("pound_inch")
    inch, foot = (read_torque(t).figures[0].torque.nominal_nm for t in ("20 in-lb", "20 ft-lb"))
    assert foot == 12 * inch


@pytest.mark.parametrize("check", _ids("W13", "W14"))
def test_two_units_that_agree(check: str) -> None:
    reading = read_torque(_ROWS[check]["input_text"])
    wanted = _expected(check)
    assert reading.doubts == ()
    (figure,) = reading.figures
    assert figure.second is not None
    for key in ("min_nm", "nominal_nm", "max_nm"):
        if key in wanted:
            assert getattr(figure.torque, key) == wanted[key]
    for key, value in wanted["second"].items():
        assert round(getattr(figure.second, key), -value.as_tuple().exponent) == value


def test_w15_katakana_dots_and_a_wave_dash() -> None:
    (figure,) = read_torque(_ROWS["W15"]["input_text"]).figures
    assert (figure.torque.min_nm, figure.torque.nominal_nm, figure.torque.max_nm) == (D("2.1"), None, D("2.6"))
    assert read_torque(_ROWS["W15"]["input_text"]).doubts == ()


def test_w16_units_of_the_heading_in_their_order() -> None:
    reading = read_torque("0.79 (7)", unit="N-m (lbf-in.)")
    (figure,) = reading.figures
    assert reading.doubts == ()
    assert figure.torque.nominal_nm == D("0.79")
    assert figure.second is not None
    assert round(figure.second.nominal_nm or D(0), 4) == D("0.7909")


@pytest.mark.parametrize("check", _ids("W17", "W18"))
def test_two_units_that_disagree_go_to_a_person(check: str) -> None:
    reading = read_torque(_ROWS[check]["input_text"])
    assert [d.code for d in reading.doubts] == ["units_disagree"]
    (figure,) = reading.figures
    assert figure.second is not None
    given = {round(t.nominal_nm or D(0), 4) for t in (figure.torque, figure.second)}
    wanted = _expected(check)
    printed = wanted.get("nominal_nm_printed", wanted.get("printed_nm"))
    assert given == {wanted["nominal_nm_from_lbf_in"], printed}


def test_w19_a_second_range_printed_backwards() -> None:
    reading = read_torque(_ROWS["W19"]["input_text"])
    (figure,) = reading.figures
    assert (figure.torque.min_nm, figure.torque.max_nm) == (D("1.2"), D("1.5"))
    assert [d.code for d in reading.doubts] == ["range_reversed"]
    assert round(D("1.5") / factor_nm("pound_inch"), 2) == _expected("W19")["expected_max_lbf_in"]


def test_w20_a_second_figure_outside_the_range() -> None:
    reading = read_torque(_ROWS["W20"]["input_text"])
    (figure,) = reading.figures
    assert (figure.torque.min_nm, figure.torque.max_nm) == (D("6"), D("8"))
    assert figure.second is not None
    assert round(figure.second.nominal_nm or D(0), 4) == D("8.4739")
    assert [d.code for d in reading.doubts] == ["units_disagree"]


def test_w21_the_finer_print_leads() -> None:
    reading = read_torque(_ROWS["W21"]["input_text"])
    (figure,) = reading.figures
    assert reading.doubts == ()
    assert round(figure.torque.nominal_nm or D(0), 4) == D("4.0675")
    assert figure.second is not None
    assert figure.second.nominal_nm == D(4)


GRID = ("W22", "W23", "W24", "W25", "W26", "W27", "W28", "W30")


@pytest.mark.parametrize("check", _ids(*GRID))
def test_thread_grid_of_iec_60730_1(check: str) -> None:
    text = _ROWS[check]["input_text"]
    column = re.search(r"column (\w+)", text)
    diameter = re.search(r"d = ([\d.]+)", text)
    assert column is not None
    assert diameter is not None
    found = thread_torque("IEC 60730-1", column[1], D(diameter[1]))
    assert found is not None
    assert found.nm == _expected(check)["torque_nm"]
    assert found.seen == _ROWS[check]["seen"]


def test_w29_w31_w32_w33_thread_grid_of_iec_60947_1_from_memory() -> None:
    def nm(column: str, diameter: str) -> Decimal | None:
        found = thread_torque("IEC 60947-1", column, D(diameter))
        assert found is None or found.seen == "from memory"
        return None if found is None else found.nm

    assert {nm("II", d) for d in ("4.11", "4.5", "4.7")} == {_expected("W29")["torque_nm"]}
    assert {c: nm(c, "6") for c in ("II", "III")} == _expected("W31")
    assert {f"M{d}": nm("III", str(d)) for d in (8, 10, 12, 16)} == _expected("W32")
    assert nm("I", "10") is _expected("W33")["torque_nm"]


def test_w34_w35_table_i1_of_nec_annex_i() -> None:
    two = [us_conductor_torque("2", c) for c in ("split_bolt", "other_hex")]
    assert [t.lbf_in for t in two if t] == _expected("W34")["lbf_in"]
    assert [round(t.nm, 4) for t in two if t] == _expected("W34")["nm"]
    assert [t.printed_nm for t in two if t] == _expected("W34")["printed_nm"]
    eight = [us_conductor_torque("8", c) for c in ("slot_small", "slot_large")]
    assert [t.lbf_in for t in eight if t] == _expected("W35")["lbf_in"]
    assert [round(t.nm, 4) for t in eight if t] == _expected("W35")["nm"]


def test_w36_w37_tables_i2_and_i3_of_nec_annex_i() -> None:
    slots = [us_small_slot_torque("5/32", wide=wide) for wide in (False, True)]
    assert [t.lbf_in for t in slots if t] == _expected("W36")["lbf_in"]
    sockets = [hex_socket_torque(size) for size in ("1/8", "3/16", "3/8")]
    wanted = _expected("W37")
    assert [t.lbf_in for t in sockets if t] == wanted["lbf_in"]
    assert [round(t.nm, 4) for t in sockets if t] == wanted["nm"]
    assert [t.printed_nm for t in sockets if t] == wanted["printed_nm"]


def test_w38_one_large_dimension_puts_a_slot_in_the_larger_column() -> None:
    found = us_conductor_torque("4", us_slot_column(D("1.2"), D(8)))
    assert found is not None
    assert found.lbf_in == _expected("W38")["lbf_in"]


def test_w39_control_circuit_rule_of_nec_430_9() -> None:
    found = us_control_circuit_torque()
    assert (round(found.nm, 4), found.printed_nm) == (_expected("W39")["min_nm"], _expected("W39")["printed_nm"])


AREAS = ("W40", "W41", "W42", "W43", "W44", "W45")


@pytest.mark.parametrize("check", _ids(*AREAS))
def test_awg_area_after_astm_b258_and_the_nec_table(check: str) -> None:
    area = _mm2(_ROWS[check]["input_text"].removeprefix("AWG "))
    wanted = _expected(check)
    assert abs(area - wanted["area_mm2_formula"]) <= D("5e-5")
    assert _near(area, wanted["nec_t8_mm2"], "1e-3")


def test_w46_mcm_is_kcmil() -> None:
    (conductor,) = read_conductor("250 MCM").conductors
    assert (conductor.system, conductor.min_awg, conductor.max_awg) == ("kcmil", "250 kcmil", "250 kcmil")
    assert abs(_mm2("250 kcmil") - _expected("W46")["area_mm2"]) <= D("5e-4")


@pytest.mark.parametrize("check", _ids("W47", "W48"))
def test_awg_runs_downward(check: str) -> None:
    reading = read_conductor(_ROWS[check]["input_text"])
    wanted = _expected(check)
    (conductor,) = reading.conductors
    assert reading.doubts == ()
    assert (conductor.min_awg, conductor.max_awg) == (wanted["awg_from"], wanted["awg_to"])
    assert (conductor.min_mm2, conductor.max_mm2) == (None, None)
    assert abs(_mm2(conductor.min_awg or "") - wanted["min_mm2"]) <= D("5e-4")
    assert abs(_mm2(conductor.max_awg or "") - wanted["max_mm2"]) <= D("5e-4")


def test_w49_awg_to_kcmil() -> None:
    (conductor,) = read_conductor(_ROWS["W49"]["input_text"]).conductors
    assert (conductor.min_awg, conductor.max_awg) == ("1/0", "300 kcmil")
    wanted = _expected("W49")
    assert abs(_mm2("1/0") - wanted["min_mm2"]) <= D("5e-3") + D("5e-3")
    assert abs(_mm2("300 kcmil") - wanted["max_mm2"]) <= D("5e-3")


def test_w50_mcm_behind_an_awg_size() -> None:
    reading = read_conductor(_ROWS["W50"]["input_text"])
    (conductor,) = reading.conductors
    assert (conductor.min_awg, conductor.max_awg) == ("6", "1/0")
    assert [d.code for d in reading.doubts] == ["mcm_behind_awg"]


def test_w51_w52_counted_range_and_qmm() -> None:
    (two,) = read_conductor(_ROWS["W51"]["input_text"]).conductors
    assert (two.count, two.min_mm2, two.max_mm2, two.stranding) == (2, D("1.5"), D(10), ("solid",))
    (qmm,) = read_conductor(_ROWS["W52"]["input_text"]).conductors
    assert (qmm.min_mm2, qmm.max_mm2) == (D(50), D(150))


def test_w53_a_diameter_is_no_area() -> None:
    (wire,) = read_conductor(_ROWS["W53"]["input_text"]).conductors
    assert (wire.system, wire.stranding) == ("diameter", ("solid",))
    assert _near(wire.min_mm2, _expected("W53")["area_mm2"])
    assert wire.min_mm2 == round_wire_mm2(D("1.6"))


def test_w54_both_systems_kept_as_printed() -> None:
    reading = read_torque(_ROWS["W54"]["input_text"])
    (figure,) = reading.figures
    assert reading.doubts == ()
    assert figure.torque.nominal_nm == D("2.4")
    given = figure.conductor
    assert given is not None
    assert (given.min_mm2, given.max_mm2, given.min_awg, given.max_awg) == (D("0.75"), D(25), "18", "4")
    assert given.material == ("copper",)
    assert _mm2("18") != D("0.75")


def test_w55_material_beside_each_range() -> None:
    reading = read_torque(_ROWS["W55"]["input_text"])
    given = [f.conductor for f in reading.figures]
    assert reading.doubts == ()
    assert [(c.material, c.min_awg, c.max_awg) for c in given if c] == [
        (("copper",), "14", "10"),
        (("aluminium",), "12", "10"),
    ]
    assert all(_near(f.torque.nominal_nm, _expected("W55")["nominal_nm"]) for f in reading.figures)


def test_w56_several_pairs_in_one_cell() -> None:
    reading = read_torque(_ROWS["W56"]["input_text"])
    assert reading.doubts == ()
    pairs = [(f.conductor.min_mm2, f.conductor.max_mm2, f.torque.nominal_nm) for f in reading.figures if f.conductor]
    assert pairs == [(None, D(25), D("2.5")), (D(35), D(35), D("4.5"))]


def test_w57_a_lug_code_is_no_range() -> None:
    reading = read_conductor(_ROWS["W57"]["input_text"])
    assert reading.conductors == ()
    assert [d.code for d in reading.doubts] == ["conductor_unreadable"]


def test_w58_w59_drives() -> None:
    (recess,) = read_drive(_ROWS["W58"]["input_text"])
    assert (recess.kind, recess.size) == ("cross_z", "2")
    (untold,) = read_drive(_ROWS["W59"]["input_text"])
    assert (untold.kind, untold.size) == ("cross", "2")


def test_w60_key_width_depends_on_the_screw() -> None:
    assert across_flats_mm("M8", "set") == _expected("W60")["across_flats_mm"]
    assert across_flats_mm("M8", "cap") == D(6)


def test_w61_w62_w63_what_a_six_per_cent_tool_keeps_from_memory() -> None:
    assert spread(D("2.0"), D(6)) == (_expected("W61")["low_nm"], _expected("W61")["high_nm"])
    settable = settable_range(D("2.5"), D(3), D(6))
    assert settable is not None
    assert abs(settable[0] - _expected("W62")["settable_from_nm"]) <= D("1e-4")
    assert abs(settable[1] - _expected("W62")["settable_to_nm"]) <= D("1e-4")
    assert settable_range(D("1.8"), D("2.0"), D(6)) is None


def test_w64_w65_scale_and_calibration() -> None:
    assert covers(D("1.0"), D("6.0"), D("0.5")) is _expected("W64")["usable"]
    assert calibration_due(date(2025, 3, 1), date(2025, 11, 1), 5200) is _expected("W65")["due"]
    assert calibration_due(date(2025, 3, 1), date(2025, 11, 1), 4999) is False
    assert calibration_due(date(2025, 3, 1), date(2026, 3, 1), 0) is True


def test_w66_per_cent_of_the_value() -> None:
    assert percent_range(D("1.2"), D(90), D(100)) == (_expected("W66")["min_nm"], _expected("W66")["max_nm"])
