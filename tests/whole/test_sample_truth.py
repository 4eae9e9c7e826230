"""The reader finds in every sample sheet what a careful person reads there, and releases nothing else."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting, SheetReport
from torquary_schema.vocabulary import keys
from torquary_schema.words import fold

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
TRUTHS = sorted(SAMPLES.glob("*.truth.json"))


@pytest.fixture(scope="module", params=TRUTHS, ids=lambda path: path.name.split(".")[0])
def case(request: pytest.FixtureRequest) -> tuple[dict[str, Any], SheetReport]:
    truth: dict[str, Any] = json.loads(request.param.read_text("utf-8"))
    return truth, read_sheet(SAMPLES / truth["file"])


def same_terminal(setting: Setting, row: dict[str, Any]) -> bool:
    """Tell whether the terminal's label holds the true one whole (a version or "Terminals" may stand beside)."""
    printed, true = fold(setting.terminal.printed), fold(row["terminal"])
    return f" {true} " in f" {printed} "


def is_row(setting: Setting, row: dict[str, Any]) -> bool:
    """Tell whether a setting says exactly what the true row says."""
    size, torque = setting.conductor, setting.torque
    if torque is None or row["torque"] is None:
        return False
    wanted = row["conductor"] or {}
    areas = [Decimal(wanted[key]) if key in wanted else None for key in ("min_mm2", "max_mm2")]
    return (
        same_terminal(setting, row)
        and setting.purpose == row["purpose"]
        and (row["family"] not in keys("family") or setting.device.family == row["family"])
        and [torque.min_nm, torque.max_nm] == [Decimal(row["torque"][key]) for key in ("min_nm", "max_nm")]
        and [size.min_mm2, size.max_mm2] == areas
        and (size.min_awg, size.max_awg) == (wanted.get("min_awg"), wanted.get("max_awg"))
    )


def test_every_plain_row_is_released_once(case: tuple[dict[str, Any], SheetReport]) -> None:
    truth, report = case
    released = [setting for setting in report.settings if setting.state == "released"]
    plain = [row for row in truth["rows"] if row["state"] == "released"]
    found = {(row["terminal"], str(row["conductor"])): sum(is_row(s, row) for s in released) for row in plain}
    assert {key: count for key, count in found.items() if count != 1} == {}


def test_nothing_is_released_that_the_sheet_does_not_say(case: tuple[dict[str, Any], SheetReport]) -> None:
    truth, report = case
    plain = [row for row in truth["rows"] if row["state"] == "released"]
    strangers = [
        (setting.terminal.printed, setting.conductor.printed, setting.torque and setting.torque.printed)
        for setting in report.settings
        if setting.state == "released" and not any(is_row(setting, row) for row in plain)
    ]
    assert strangers == []


def test_every_doubtful_row_is_held_with_a_reason(case: tuple[dict[str, Any], SheetReport]) -> None:
    truth, report = case
    for row in truth["rows"]:
        if row["state"] == "held":
            held = [s for s in report.settings if same_terminal(s, row)]
            assert held, row["terminal"]
            assert all(s.state == "held" and s.findings for s in held), row["terminal"]
