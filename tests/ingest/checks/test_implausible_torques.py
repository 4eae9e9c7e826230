"""A figure out of proportion to its thread, its conductor or its own range is held; the last one in proportion is not.

Bounds are worked from the grids on file: IEC test torques and NEC informative Annex I, Table I.1.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from torquary_ingest.checks.plausible import check_plausible
from torquary_schema.values import Conductor, Device, Place, Setting, Terminal, Torque


def is_held(
    low: str, high: str = "", *, thread: str | None = None, area: str | None = None, gauge: str | None = None
) -> bool:
    """Tell whether a torque in N·m is held for a terminal of a thread, or one that takes a conductor."""
    mm2 = None if area is None else Decimal(area)
    least, most = Decimal(low), Decimal(high or low)
    setting = Setting(
        id="s1",
        state="released",
        purpose="electrical_terminal",
        device=Device(printed="Breaker QB 16"),
        terminal=Terminal(printed="L1", thread=thread),
        conductor=Conductor(printed=area or gauge or "", max_mm2=mm2, max_awg=gauge),
        torque=Torque(printed=low, unit_printed="N·m", min_nm=least, nominal_nm=None, max_nm=most),
        place=Place(page=1, table=1, row=2),
    )
    return [finding.code for _, finding in check_plausible([setting])] == ["torque_implausible"]


@pytest.mark.parametrize(("low", "high", "held"), [("1", "4", False), ("1", "4.1", True), ("2.0", "24", True)])
def test_a_range_ends_at_most_four_times_where_it_begins(low: str, high: str, *, held: bool) -> None:
    assert is_held(low, high) is held


@pytest.mark.parametrize(
    ("thread", "torque", "held"),
    [
        ("M5", "0.2", False),  # a quarter of 0.8 N·m
        ("M5", "0.19", True),
        ("M5", "10", False),  # four times 2.5 N·m
        ("M5", "10.1", True),
        ("M12", "200", False),  # four times 50 N·m
        ("M12", "201", True),
        ("M12.5", "201", False),  # above M12 the grids are of small terminals: they say nothing against much
        ("M20", "0.3", True),  # less than a quarter of 1.25 N·m
        ("M20", "0.32", False),
        ("M21", "0.3", False),  # a marking, no thread
    ],
)
def test_a_thread_takes_a_quarter_of_the_least_to_four_times_the_most_of_all_grids(
    thread: str, torque: str, *, held: bool
) -> None:
    assert is_held(torque, thread=thread) is held


@pytest.mark.parametrize(("torque", "held"), [("13.5", False), ("13.6", True)])
def test_makers_go_beyond_the_torque_for_a_gauge_by_a_half_at_most(torque: str, *, held: bool) -> None:
    assert is_held(torque, gauge="14") is held  # 80 lbf·in are 9.04 N·m, and one and a half of that 13.56


@pytest.mark.parametrize(
    ("area", "least"), [("4", "0.2"), ("10", "0.5"), ("25", "0.8"), ("70", "1.5"), ("150", "3"), ("2.5", "0.05")]
)
def test_a_conductor_wants_a_least_torque(area: str, least: str) -> None:
    little = Decimal(least) - Decimal("0.01")
    assert (is_held(least, area=area), is_held(str(little), area=area)) == (False, True)


@pytest.mark.parametrize(("torque", "held"), [("0.04", True), ("0.05", False), ("250", False), ("251", True)])
def test_no_terminal_screw_takes_less_or_more_than_any(torque: str, *, held: bool) -> None:
    assert is_held(torque) is held
