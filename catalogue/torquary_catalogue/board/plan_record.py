"""Plans as mappings, for --json and the page (`plan.schema.json`)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from torquary_catalogue.board.driver import Driver
from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.plan import CAUTIONS, STEPS, DriverSetting, Plan, Task, name_sheets
from torquary_catalogue.board.plan_words import say_notes, write_bit_of
from torquary_catalogue.board.settled import Certain, name_conditions
from torquary_catalogue.decimals import shorten
from torquary_catalogue.find import Row
from torquary_catalogue.show.figures import UNITS

_PLACE = ("id", "sheet", "file", "title", "edition", "page", "table_number", "row_number")
_PRINTED = (
    "maker",
    "device_printed",
    "terminal_printed",
    "conductor_printed",
    "torque_printed",
    "unit_printed",
)
_FIGURES = ("min_nm", "nominal_nm", "max_nm", "limit_nm")


def plans_to_dict(plans: Sequence[Plan]) -> dict[str, Any]:
    """Return plans with all that they say; torques in N·m as Decimal, settings in the unit of their
    scale too.
    """
    return {"torquary_plan": 1, "plans": [plan_to_dict(plan) for plan in plans]}


def plan_to_dict(plan: Plan) -> dict[str, Any]:
    """Return one plan."""
    return {
        "board": plan.board,
        "made_on": plan.made_on.isoformat(),
        "unit": UNITS[plan.unit],
        "cautions": list(CAUTIONS),
        "steps": list(STEPS),
        "faults": [asdict(fault) for fault in plan.faults],
        "warnings": list(plan.warnings),
        "drivers": [_driver_to_dict(driver) for driver in plan.drivers],
        "unsettled": [
            {
                "terminal": terminal_to_dict(one.terminal),
                "why": one.why,
                "settles": list(one.settles),
                "command": one.command,
                "column": one.column,
            }
            for one in plan.unsettled
        ],
        "not_settable": [
            {**_certain_to_dict(one.certain), "why": one.why} for one in plan.not_settable
        ],
        "left_out": [terminal_to_dict(one) for one in plan.left_out],
        "bit_changes": plan.bit_changes,
        "fewest_bit_changes_proved": plan.fewest_proved,
        "settings": [_setting_to_dict(setting) for setting in plan.settings],
        "sheets": [
            {"file": file, "title": title, "edition": edition}
            for file, title, edition in name_sheets([task.certain for task in plan.tasks])
        ],
    }


def terminal_to_dict(one: ListedTerminal) -> dict[str, Any]:
    """Return a terminal as the list has it, with the name that tells it from the others."""
    told = asdict(one) | {
        "name": one.name,
        "row": one.place.row,
        "way": one.place.way,
        "mark": one.place.mark,
    }
    del told["place"]
    return told


def _driver_to_dict(driver: Driver) -> dict[str, Any]:
    return {
        "driver": driver.name,
        "scales": [
            {
                "unit": UNITS[scale.unit],
                "lowest": shorten(scale.lowest),
                "highest": shorten(scale.highest),
            }
            for scale in driver.scales
        ],
        "deviation_percent": driver.deviation_percent,
        "deviation_from": driver.deviation_from,
        "calibrated": driver.calibrated.isoformat() if driver.calibrated else None,
        "certificate": driver.certificate,
    }


def _certain_to_dict(one: Certain) -> dict[str, Any]:
    return {
        "terminal": terminal_to_dict(one.terminal),
        "printed": [_row_to_dict(row) for row in one.rows],
    }


def _row_to_dict(row: Row) -> dict[str, Any]:
    told = {name: getattr(row, name) for name in (*_PLACE, *_PRINTED)}
    return told | {name: getattr(row, name) for name in _FIGURES}


def _setting_to_dict(setting: DriverSetting) -> dict[str, Any]:
    return {
        "number": setting.number,
        "driver": setting.driver,
        "value": shorten(setting.value),
        "unit": UNITS[setting.unit],
        "value_nm": shorten(setting.value_nm),
        "where": setting.where,
        "shared": {
            "low_nm": shorten(setting.shared.low_nm),
            "high_nm": shorten(setting.shared.high_nm),
        },
        "batches": [
            {"bit": write_bit_of(batch), "tasks": [_task_to_dict(task) for task in batch.tasks]}
            for batch in setting.batches
        ],
    }


def _task_to_dict(task: Task) -> dict[str, Any]:
    verdict = task.verdict
    told = verdict and {
        "kind": verdict.kind,
        "low_nm": shorten(verdict.low_nm),
        "high_nm": shorten(verdict.high_nm),
        "would_keep": verdict.would_keep and list(verdict.would_keep),
    }
    return {
        **_certain_to_dict(task.certain),
        "conditions": name_conditions(task.certain.conditions),
        "notes": list(say_notes(task)),
        "deviation": told,
    }
