"""A plan as plain lines, for a terminal and for files."""

from __future__ import annotations

from collections.abc import Iterator

from torquary_catalogue.board.plan import CAUTIONS, STEPS, DriverSetting, Plan, name_sheets
from torquary_catalogue.board.plan_words import (
    say_alike,
    say_count,
    say_driver,
    say_fitted,
    say_setting,
    write_bit_of,
    write_source,
    write_value,
)
from torquary_catalogue.show.row_words import join
from torquary_catalogue.show.visible import put_on_one_line


def write_plan_text(plan: Plan) -> list[str]:
    """Return the plan line by line: cautions, what is wrong, what is not certain, then the work."""
    lines = [*write_plan_head(plan), "", "For each terminal:"]
    lines += [f"  {at}. {step}" for at, step in enumerate(STEPS, start=1)]
    for setting in plan.settings:
        lines += ["", *_write_setting(setting, plan.unit)]
    if plan.left_out:
        lines += ["", "Left out:", *(f"  {one.name}: {one.joint}" for one in plan.left_out)]
    lines += [
        "",
        "Sheets used:",
        *(f"  {join(*sheet)}" for sheet in name_sheets([t.certain for t in plan.tasks])),
    ]
    return [_put_on_one_line(line) for line in lines]


def write_plan_head(plan: Plan) -> list[str]:
    """Return what comes before the work line by line: how much it is, cautions, what is wrong, what
    is not certain.
    """
    lines = [f"Board {plan.board}, {plan.made_on}: {say_count(plan)}", ""]
    lines += [f"! {caution}" for caution in CAUTIONS]
    for title, part in (
        ("Before the work begins:", [*say_wrong(plan)]),
        ("Without a certain figure, not planned:", [*say_unsettled(plan)]),
        ("Certain, but no driver at hand can be set to it:", [*say_not_settable(plan)]),
    ):
        lines += ["", title, *part] if part else []
    return [_put_on_one_line(line) for line in lines]


def _put_on_one_line(line: str) -> str:
    """Return a line without the breaks of the texts in it; the blanks that it begins with stay."""
    text = line.lstrip(" ")
    return line[: len(line) - len(text)] + put_on_one_line(text)


def say_wrong(plan: Plan) -> Iterator[str]:
    """Yield what is wrong with list and drivers, and which drivers there are."""
    yield from (f"  ! {fault.text}" for fault in plan.faults)
    yield from (f"  ! {warning}" for warning in plan.warnings)
    yield from (f"  {say_driver(driver)}" for driver in plan.drivers)


def say_unsettled(plan: Plan) -> Iterator[str]:
    """Yield the terminals without a certain figure, each with what would settle it."""
    for one in plan.unsettled:
        yield f"  {one.terminal.name} (row {one.terminal.at}{_column(one.column)}): {one.why}"
        yield from (f"      {settles}" for settles in one.settles)
        if one.command:
            yield f"      ask: {one.command}"


def _column(column: str) -> str:
    return f", column {column}" if column else ""


def say_not_settable(plan: Plan) -> Iterator[str]:
    """Yield the terminals that no driver at hand can be set to, each with its print."""
    for one in plan.not_settable:
        yield f"  {one.certain.terminal.name}: {one.why}"
        yield f"      {write_source(one.certain, plan.unit)}"


def _write_setting(setting: DriverSetting, unit: str) -> Iterator[str]:
    yield f"{setting.number}. SET {write_value(setting, unit)}"
    yield from (f"   {line}" for line in say_setting(setting, unit))
    for batch in setting.batches:
        yield f"   bit: {write_bit_of(batch)}"
        for tasks, said in say_alike(batch.tasks, unit):
            for task in tasks:
                fitted = say_fitted(task)
                yield f"   [ ] {task.terminal.name}{f' ({fitted})' if fitted else ''}"
            yield from (f"         {line}" for line in said)
