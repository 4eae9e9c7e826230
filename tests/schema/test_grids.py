"""Published grids: every row carries its source, and standard and column are looked up together."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from torquary_schema import grids
from torquary_schema.grids import (
    across_flats_inch,
    across_flats_mm,
    hex_socket_torque,
    thread_torque,
    thread_torques,
    us_conductor_torque,
)
from torquary_schema.sizes import circular_mils

D = Decimal
_TABLES = Path(grids.__file__).parent / "grid_tables"


def test_every_row_names_its_source() -> None:
    tables = sorted(_TABLES.glob("*.csv"))
    assert len(tables) >= 7
    for table in tables:
        for row in csv.DictReader(table.read_text("utf-8").splitlines()):
            assert row["source"], table.name
            assert row["seen"] in ("seen in print", "from memory"), table.name


def test_every_cell_of_the_thread_grids_is_found_again() -> None:
    rows = list(csv.DictReader((_TABLES / "thread_torque.csv").read_text("utf-8").splitlines()))
    for row in rows:
        inside = D(row["d_upto_incl_mm"]) if row["d_upto_incl_mm"] else D(row["d_over_mm"]) + 1
        found = thread_torque(row["standard"].split("/")[0].strip(), row["column"], inside)
        assert found is not None
        assert found.nm == D(row["torque_nm"])


def test_column_three_is_not_the_same_in_two_standards() -> None:
    """IEC 60947-1 (from memory) and IEC 60730-1 (seen in print) mean different screws by column III."""
    household = thread_torque("IEC 60730-1", "III", D(4))
    industrial = thread_torque("IEC 60947-1", "III", D(4))
    assert household is not None
    assert industrial is not None
    assert (household.nm, industrial.nm) == (D("0.6"), D("1.2"))
    assert {t.nm for t in thread_torques(D(4))} >= {D("0.6"), D("1.2"), D("1.6")}


def test_outside_a_grid_there_is_nothing() -> None:
    assert thread_torque("IEC 60947-1", "I", D(10)) is None
    assert thread_torque("IEC 1", "I", D(4)) is None
    assert us_conductor_torque("36", "slot_small") is None
    assert hex_socket_torque("1/16") is None
    assert across_flats_mm("M7", "cap") is None
    with pytest.raises(ValueError, match="AWG"):
        us_conductor_torque("12.5", "slot_small")


def test_inch_and_metric_keys() -> None:
    """ASME B18.3; ISO 4014 and DIN 931 differ at M10 and M12."""
    assert across_flats_inch("1/4") == "3/16"
    assert [across_flats_mm("M10", k) for k in ("head_iso", "head_din")] == [D(16), D(17)]


def test_the_highest_us_torque_is_that_of_the_size_at_or_above_an_area() -> None:
    pound_inch = D("0.1129848290276167")  # NIST SP 811, Appendix B.8
    # NEC informative Annex I, Table I.1, split-bolt connectors: 80 lbf·in for 8 AWG, 165 for 6–4 AWG.
    # 8 AWG has 16,510 circular mils (NEC chapter 9, Table 8, from memory).
    assert grids.us_highest_torque(D(16_000)) == 80 * pound_inch
    assert grids.us_highest_torque(circular_mils("8")) == 80 * pound_inch
    assert grids.us_highest_torque(D(17_000)) == 165 * pound_inch
    assert grids.us_highest_torque(D(2_400_000)) is None
