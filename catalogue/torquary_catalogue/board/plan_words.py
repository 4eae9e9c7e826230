"""A plan in words: the pieces that its text, its page and its paper have in common."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from torquary_catalogue.board.bands import AT_THIS, INSIDE, NOT_INSIDE, POINT, Band, Verdict
from torquary_catalogue.board.driver import Driver
from torquary_catalogue.board.plan import Batch, DriverSetting, Plan, Task
from torquary_catalogue.board.settled import Certain, name_conditions
from torquary_catalogue.decimals import shorten
from torquary_catalogue.find.remarks import count_of
from torquary_catalogue.show.figures import UNITS, write_torque
from torquary_catalogue.show.row_words import (
    NO_BIT,
    join,
    write_device,
    write_place,
    write_printed,
    write_size,
)

_VERDICTS = {
    INSIDE: "inside the printed range, at every value of this setting's band",
    AT_THIS: "inside the printed range at this value",
    NOT_INSIDE: "NOT sure to stay inside the printed range",
    POINT: "for a single printed figure, stated without a verdict",
}
_AGAIN = {
    "no_retightening": "The sheet forbids retightening: once tightened, leave the screw, look alone.",
    "retighten": "The sheet asks to tighten it again later: see there when.",
}


def say_count(plan: Plan) -> str:
    """Say in one line what the plan holds."""
    tools = len({setting.driver for setting in plan.settings})
    parts = [
        count_of(len(plan.terminals), "terminal"),
        f"{len(plan.tasks)} in {count_of(len(plan.settings), 'setting')}",
        count_of(plan.bit_changes, "bit change")
        + ("" if plan.fewest_proved else " (whether fewer would do is not proved)"),
        *([count_of(tools - 1, "driver change")] if tools > 1 else []),
    ]
    more = (
        (len(plan.unsettled), "without a certain figure"),
        (len(plan.not_settable), "that no driver at hand can be set to"),
        (len(plan.left_out), "left out"),
    )
    return ", ".join([*parts, *(f"{count} {what}" for count, what in more if count)])


def write_band(band: Band, unit: str) -> str:
    """Write a band of torques in a unit (canonical name)."""
    return write_torque((band.low_nm, band.low_nm if band.is_point else None, band.high_nm), unit)


def write_value(setting: DriverSetting, unit: str) -> str:
    """Write what the driver is set to, in the unit of its scale, and in the unit asked for where
    that is another.
    """
    value = write_torque((setting.value_nm,) * 3, unit)
    own = f"{shorten(setting.value)} {UNITS[setting.unit]}" if setting.where else value
    return own if own == value else f"{own} ({value})"


def write_bit_of(batch: Batch) -> str:
    """Write the bit of a batch."""
    return batch.bit or NO_BIT


def say_setting(setting: DriverSetting, unit: str) -> Iterator[str]:
    """Say where a setting stands on the scale, and what its terminals have in common."""
    if setting.where:
        yield f"{setting.driver}: {setting.where}"
    count = count_of(len(setting.tasks), "terminal")
    yield f"{count}; what their printed torques share: {write_band(setting.shared, unit)}"


def say_driver(driver: Driver) -> str:
    """Say which driver it is, with its range, deviation and calibration."""
    ranges = " or ".join(
        f"{shorten(scale.lowest)}–{shorten(scale.highest)} {UNITS[scale.unit]}"
        for scale in driver.scales
    )
    percent = driver.deviation_percent
    return join(
        f"driver {driver.name}",
        ranges,
        f"±{shorten(percent)} % ({driver.deviation_from})" if percent else None,
        f"calibrated {driver.calibrated}" if driver.calibrated else None,
        f"certificate {driver.certificate}" if driver.certificate else None,
    )


def write_source(certain: Certain, unit: str) -> str:
    """Write what is printed and where; the torque in the unit asked for stands beside the print."""
    row = certain.row
    more = f", and {count_of(len(certain.rows) - 1, 'more place')}" if len(certain.rows) > 1 else ""
    return (
        f"{write_band(certain.band, unit)}, printed {write_printed(row)}: {write_place(row)}{more}"
    )


def write_named(certain: Certain) -> str:
    """Write device, terminal and conductor as the sheet names them."""
    row = certain.row
    return join(write_device(row), row.terminal_printed, write_size(row))


def say_verdict(verdict: Verdict | None, unit: str) -> str:
    """Say what the driver's deviation makes of the value, "" without a driver."""
    if verdict is None:
        return ""
    span = write_torque((verdict.low_nm, None, verdict.high_nm), unit)
    return f"the driver may give {span}: {_VERDICTS[verdict.kind]}{_say_own(verdict, unit)}"


def _say_own(verdict: Verdict, unit: str) -> str:
    """Say which setting of its own would stay inside, where this one does not."""
    if verdict.kind != NOT_INSIDE:
        return ""
    if verdict.would_keep is None:
        return "; no setting of this driver would"
    low, high = verdict.would_keep
    return (
        f"; a setting of its own from {write_torque((low, None, high), unit)} would (--keep-inside)"
    )


def say_notes(task: Task) -> Iterator[str]:
    """Yield what is to be minded of one terminal: its joint, its conditions, what find says beside
    the figure.
    """
    certain = task.certain
    if task.terminal.joint == "factory":
        yield "factory-made joint: check it as well"
    if certain.conditions:
        yield f"the sheet asks for: {'; '.join(name_conditions(certain.conditions))}"
    yield from (_AGAIN[key] for key in certain.conditions if key in _AGAIN)
    yield from certain.notes
    if task.terminal.remark:
        yield f"remark: {task.terminal.remark}"


def say_fitted(task: Task) -> str:
    """Say what conductor is fitted, "" if the list does not say."""
    one = task.terminal
    size = f"{one.conductors} × {one.conductor}" if one.conductors > 1 else one.conductor
    return join(
        size, one.material, one.stranding, f"{one.ferrule} ferrule" if one.ferrule else None
    )


def say_alike(
    tasks: Sequence[Task], unit: str
) -> Iterator[tuple[tuple[Task, ...], tuple[str, ...]]]:
    """Yield tasks that follow each other and of which the same is to be said, with what that is,
    line by line.
    """
    for lines, alike in groupby(tasks, key=lambda task: _say_task(task, unit)):
        yield tuple(alike), lines


def _say_task(task: Task, unit: str) -> tuple[str, ...]:
    lines = (
        write_source(task.certain, unit),
        write_named(task.certain),
        say_verdict(task.verdict, unit),
    )
    return tuple(line for line in (*lines, *say_notes(task)) if line)
