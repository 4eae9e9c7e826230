"""Conductor sizes against ASTM B258 and IEC 60228."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from torquary_schema.sizes import (
    IEC_60228,
    awg_number,
    circular_mils,
    is_gauge,
    pairings_of_gauge,
    pairings_of_mm2,
    write_aught,
)

_FACTS = Path(__file__).parents[1] / "facts"
D = Decimal


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((_FACTS / name).read_text("utf-8").splitlines()))


@pytest.mark.parametrize("row", _rows("awg.csv"), ids=[r["awg"] for r in _rows("awg.csv")])
def test_awg(row: dict[str, str]) -> None:
    """ASTM B258: the diameter in mils is the root of the circular mils, to the printed digits in mm."""
    assert awg_number(row["awg"]) == int(row["n"])
    assert abs(circular_mils(row["awg"]).sqrt() * D("0.0254") - D(row["diameter_mm"])) <= D("5e-5")


def test_gauges_sort_from_thin_to_thick() -> None:
    order = ["24", "14", "10", "1", "1/0", "3/0", "200 kcmil", "4/0", "250 kcmil", "1000 kcmil"]
    assert sorted(reversed(order), key=circular_mils) == order
    assert circular_mils("250 kcmil") == D(250_000)


def test_what_is_a_gauge() -> None:
    assert all(is_gauge(t) for t in ("14", "1/0", "4/0", "0", "250 kcmil"))
    assert not any(is_gauge(t) for t in ("5/0", "60", "014", "2.5", "1.5", "", "kcmil"))
    assert write_aught("000") == "3/0"
    for text in ("99", "many"):
        with pytest.raises(ValueError, match="not a size in AWG or kcmil"):
            circular_mils(text)


def test_iec_60228_sizes() -> None:
    """IEC 60228:2004 Tables 1 to 4."""
    assert IEC_60228[:5] == (D("0.5"), D("0.75"), D(1), D("1.5"), D("2.5"))
    assert IEC_60228[-1] == D(630)
    assert list(IEC_60228) == sorted(IEC_60228)
    assert D(14) not in IEC_60228


def test_pairings_disagree_and_all_are_given() -> None:
    """2.5 mm² goes with AWG 14 (trade table), 13 (nearest area) or 12 (by ampacity)."""
    gauges = {g for p in pairings_of_mm2(D("2.5")) for g in p.gauges}
    assert gauges == {"12", "13", "14"}
    assert {p.mm2 for p in pairings_of_gauge("4")} == {D(25)}
    assert {p.mm2 for p in pairings_of_gauge("250 kcmil")} == {D(120)}
    assert all(p.source and p.seen for p in pairings_of_mm2(D(120)))
