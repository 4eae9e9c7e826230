"""A plan as CSV: one row for each terminal of the board, with room for what is found and done."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from torquary_catalogue.board.listed import ListedTerminal
from torquary_catalogue.board.plan import Plan
from torquary_catalogue.board.plan_words import say_notes, say_verdict, write_bit_of, write_source
from torquary_catalogue.board.settled import Certain
from torquary_catalogue.decimals import shorten
from torquary_catalogue.show.figures import UNITS

LISTED = ("board", "row", "way", "mark", "device", "terminal", "screw", "conductor")
FILLED_IN = ("found", "done", "who", "when", "photo", "remark")
"""Columns that are empty in the plan and make it a record when they are filled in."""
COLUMNS = (
    "name",
    *LISTED,
    "state",
    "setting",
    "driver",
    "calibrated",
    "value",
    "unit",
    "set_nm",
    "bit",
    "where",
    "printed",
    "deviation",
    "notes",
    *FILLED_IN,
    "sheet",
    "id",
)


def write_plan_table(plans: list[Plan]) -> str:
    """Return the plans as CSV text, in the order of the work; texts stand as printed."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for plan in plans:
        writer.writerows(_rows(plan))
    return out.getvalue()


def _rows(plan: Plan) -> Iterator[dict[str, Any]]:
    calibrated = {driver.name: driver.calibrated for driver in plan.drivers}
    for setting in plan.settings:
        for batch in setting.batches:
            for task in batch.tasks:
                yield {
                    **_named(task.terminal),
                    **_source(task.certain, plan.unit),
                    "state": "planned",
                    "setting": setting.number,
                    "driver": setting.driver,
                    "calibrated": calibrated.get(setting.driver) or "",
                    "value": shorten(setting.value),
                    "unit": UNITS[setting.unit],
                    "set_nm": shorten(setting.value_nm),
                    "bit": write_bit_of(batch),
                    "where": setting.where,
                    "deviation": say_verdict(task.verdict, plan.unit),
                    "notes": "; ".join(say_notes(task)),
                }
    for one in plan.unsettled:
        yield {
            **_named(one.terminal),
            "state": "no certain figure",
            "notes": "; ".join((one.why, *one.settles)),
        }
    for other in plan.not_settable:
        yield {
            **_named(other.certain.terminal),
            **_source(other.certain, plan.unit),
            "state": "not settable",
            "notes": other.why,
        }
    for left in plan.left_out:
        yield {**_named(left), "state": left.joint}


def _named(one: ListedTerminal) -> dict[str, Any]:
    place = {"row": one.place.row, "way": one.place.way, "mark": one.place.mark}
    texts = {name: getattr(one, name) for name in LISTED if name not in place}
    return {"name": one.name, **place, **texts}


def _source(certain: Certain, unit: str) -> dict[str, Any]:
    return {
        "printed": write_source(certain, unit),
        "sheet": certain.row.sheet,
        "id": certain.row.id,
    }
