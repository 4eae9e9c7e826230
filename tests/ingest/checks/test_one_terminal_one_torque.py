"""Two torques for what may be one terminal hold each other; so does a limit for all that a setting is above."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from torquary_ingest.checks.contradiction import check_contradiction
from torquary_ingest.checks.printed_elsewhere import check_elsewhere
from torquary_schema.roles import roles_of_label
from torquary_schema.values import Conductor, Device, Finding, Place, Setting, Terminal, Torque


def read(label: str, figure: str | None, table: int, *, limit: str | None = None) -> Setting:
    """Return a released setting of one breaker, with the roles that its label names."""
    exact, bound = (None if one is None else Decimal(one) for one in (figure, limit))
    return Setting(
        id=f"{label}-{table}",
        state="released",
        purpose="electrical_terminal",
        device=Device(printed="Breaker QB 16", model="QB 16"),
        terminal=Terminal(printed=label, roles=roles_of_label(label)),
        conductor=Conductor(),
        torque=Torque(
            printed=figure or "", unit_printed="N·m", min_nm=exact, nominal_nm=exact, max_nm=exact, limit_nm=bound
        ),
        place=Place(page=1, table=table, row=2),
    )


@pytest.mark.parametrize(
    ("one", "other", "held"),
    [
        ("Neutral", "Load side N", True),
        ("L, N", "N", True),
        ("Line", "Phase", True),
        ("L1", "Line L1", True),
        ("Load", "2/T1", True),
        ("L1, L2, L3", "L2", True),
        ("Earth", "PE", True),
        ("terminal", "Klemmen", True),
        ("terminals", "Line L1", False),
        ("Main terminals", "Line and load", True),
        ("Line N", "Load N", False),
        ("Load L1", "Load N", False),
        ("Line", "Neutral", False),
        ("supply L1", "load L1", False),
        ("L1", "L2", False),
        ("Coil A1", "Neutral", False),
    ],
)
def test_terminals_whose_roles_may_be_one_hold_each_other(one: str, other: str, *, held: bool) -> None:
    found = {at for at, _ in check_contradiction([read(one, "2.0", 1), read(other, "2.5", 2)])}
    assert found == ({0, 1} if held else set())


@pytest.mark.parametrize(
    ("device", "held"), [("Thermostat QT 7", {0, 1}), ("Thermostat QT 8", set()), ("Relay", set())]
)
def test_a_device_of_the_same_type_is_the_same_whatever_its_kind_is_called(device: str, held: set[int]) -> None:
    """A leaflet in several languages has another word for the kind in each."""
    one, other = (
        replace(read("S1, S2", torque, table), device=Device(printed=printed))
        for torque, table, printed in (("0.2", 1, "Raumregler QT 7"), ("0.4", 2, device))
    )
    assert {at for at, _ in check_contradiction([one, other])} == held


def test_terminals_of_one_table_are_told_apart_by_their_names() -> None:
    assert list(check_contradiction([read("Neutral", "2.0", 1), read("Load side N", "2.5", 1)])) == []


@pytest.mark.parametrize(("role", "held"), [("aux", set()), ("main", {0, 1})])
def test_terminals_of_one_name_in_a_table_are_told_apart_by_the_lines_over_them(role: str, held: set[int]) -> None:
    one, other = (
        replace(read(name, torque, 1), terminal=Terminal(printed="screw terminals", roles=(given,)))
        for name, torque, given in (("a", "2.0", "main"), ("b", "0.8", role))
    )
    assert {at for at, _ in check_contradiction([one, other])} == held


@pytest.mark.parametrize(("limit", "held"), [("2.42", {0, 2}), ("2.43", set()), ("2.5", set())])
@pytest.mark.parametrize("label", ["terminal", "any terminal", "aller Klemmen"])
def test_a_setting_above_a_limit_for_all_terminals_is_held_with_it(label: str, limit: str, held: set[int]) -> None:
    """Within the rounding of another unit it is not above."""
    settings = [read("Line", "2.5", 1), read("Load", "1.8", 1), read(label, None, 2, limit=limit)]
    assert {at for at, _ in check_contradiction(settings)} == held


@pytest.mark.parametrize(
    ("label", "text", "held"),
    [
        ("Load side, neutral conductor", "neutral conductor: 3 N·m", True),
        ("Line and load terminals", "load side 3 N·m", True),
        ("Line side", "phase 3 N·m", True),
        ("Load side", "neutral conductor: 3 N·m", False),
        ("Line side", "load side 3 N·m", False),
    ],
)
def test_a_torque_in_a_text_that_names_one_of_its_roles_holds(label: str, text: str, *, held: bool) -> None:
    elsewhere = Finding(code="figure_not_placed", message="", printed=text)
    found = list(check_elsewhere([read(label, "2.0", 1)], [elsewhere]))
    assert bool(found) is held
