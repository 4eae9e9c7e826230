"""A torque in a table that was not understood speaks against the one that a sentence gives the same terminal."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from torquary_ingest.checks.printed_elsewhere import check_elsewhere
from torquary_schema.values import Conductor, Device, Finding, Place, Setting, Terminal, Torque

SETTING = Setting(
    id="1", state="released", purpose="electrical_terminal", device=Device(printed="QN 7"),
    terminal=Terminal(printed="relay terminals X7"), conductor=Conductor(),
    torque=Torque(
        printed="0.8 N·m", unit_printed="N·m", min_nm=Decimal("0.8"), nominal_nm=Decimal("0.8"), max_nm=Decimal("0.8")
    ),
    place=Place(page=1, text="Tighten the relay terminals X7 to 0.8 N·m."),
)  # fmt: skip
BOLT = replace(SETTING, terminal=Terminal(printed="terminal screws", thread="M8"))


@pytest.mark.parametrize(
    ("printed", "setting", "held"),
    [
        ("Relay X7\n1.5–2.5 mm²\ntorque 0.5 N·m, slot 3.5", SETTING, True),
        ("Relay X7\n1.5–2.5 mm²\ntorque 0.8 N·m, slot 3.5", SETTING, False),
        ("Inputs X3\n0.2–1.5 mm²\ntorque 0.25 N·m", SETTING, False),
        ("Terminal | M8 female thread\nTorque | 11 N·m", BOLT, True),
        ("Terminal | M6 female thread\nTorque | 5 N·m", BOLT, False),
        ("Mounting screws | M8\nTorque | 20 N·m", BOLT, False),
    ],
)
def test_a_card_that_was_not_understood(printed: str, setting: Setting, *, held: bool) -> None:
    card = Finding(code="table_no_headings", message="", place=Place(page=1, table=1), printed=printed)
    assert bool(list(check_elsewhere([setting], [card]))) is held
