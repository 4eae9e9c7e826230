"""The plan of a board made: what can be set arranged, what cannot be said why, what is wrong with
the drivers said.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from typing import TypeVar

from torquary_catalogue.board.arranging import Item, arrange, choose_drivers
from torquary_catalogue.board.bands import Band
from torquary_catalogue.board.driver import Driver, lowest_and_highest
from torquary_catalogue.board.listed import LEFT_OUT, ListedTerminal, ListFault
from torquary_catalogue.board.plan import DriverSetting, NotSettable, Plan
from torquary_catalogue.board.scale import Scale
from torquary_catalogue.board.settled import Certain, Unsettled, name_bit
from torquary_catalogue.decimals import shorten
from torquary_catalogue.show.figures import UNITS, write_figures
from torquary_schema.torque_tools import covers, settable_range

MOST_DRIVERS = 6
"""Drivers of one plan at most: every choice of them is tried."""


def make_plan(
    board: str,
    terminals: Sequence[ListedTerminal],
    told: Sequence[Certain | Unsettled],
    *,
    faults: Sequence[ListFault] = (),
    drivers: Sequence[Driver] = (),
    unit: str = "newton_metre",
    keep_inside: bool = False,
    today: date,
) -> Plan:
    """Return the plan of a board; `told` is what the catalogue says of the terminals that are to be
    tightened.

    With several drivers the fewest that allow the fewest settings are taken, those without a fault
    first. `keep_inside` makes rather one setting more than to let a deviation leave a printed
    range, where it can.
    """
    certain = _in_order([one for one in told if isinstance(one, Certain)])
    others = [one for one in certain if drivers and not _can_be_set(one.band, drivers)]
    lost = {one.terminal.name for one in others}
    usable = [one for one in certain if one.terminal.name not in lost]
    narrowed = drivers if keep_inside else ()
    items = [Item(certain=one, band=_narrow(one.band, narrowed)) for one in usable]
    chosen = choose_drivers(items, sorted(drivers, key=lambda one: any(one.say_faults(today))))
    arranged = arrange(items, chosen, unit)
    return Plan(
        board=board,
        made_on=today,
        unit=unit,
        drivers=tuple(chosen),
        faults=tuple(faults),
        warnings=tuple(_warn(usable, chosen, arranged.settings, today)),
        unsettled=tuple(_in_order([one for one in told if isinstance(one, Unsettled)])),
        not_settable=tuple(_tell_not_settable(others, drivers)),
        left_out=tuple(one for one in terminals if one.joint in LEFT_OUT),
        settings=arranged.settings,
        bit_changes=arranged.bit_changes,
        fewest_proved=arranged.proved,
    )


def _tell_not_settable(
    others: Sequence[Certain], drivers: Sequence[Driver]
) -> Iterator[NotSettable]:
    for one in others:
        yield NotSettable(certain=one, why=_say_why_not(one.band, drivers))


_Told = TypeVar("_Told", Certain, Unsettled)


def _in_order(told: list[_Told]) -> list[_Told]:
    """Return what is said of terminals in the board's own order."""
    return sorted(told, key=lambda one: one.terminal.order)


def _can_be_set(band: Band, drivers: Sequence[Driver]) -> bool:
    return any(
        scale.within(band.low_nm, band.high_nm) for driver in drivers for scale in driver.scales
    )


def _narrow(band: Band, drivers: Sequence[Driver]) -> Band:
    """Return what of a printed range keeps the widest deviation inside; all of it where nothing can
    be set there.
    """
    percents = [
        driver.deviation_percent for driver in drivers if driver.deviation_percent is not None
    ]
    kept = (
        settable_range(band.low_nm, band.high_nm, max(percents))
        if percents and not band.is_point
        else None
    )
    if kept is None:
        return band
    narrow = Band(low_nm=kept[0], high_nm=kept[1], nominal_nm=band.nominal_nm)
    return narrow if _can_be_set(narrow, drivers) else band


def _say_why_not(band: Band, drivers: Sequence[Driver]) -> str:
    """Say why no driver can be set within a band."""
    wanted = write_figures(
        (band.low_nm, band.low_nm if band.is_point else None, band.high_nm, None)
    )
    if not any(_reaches(driver, band) for driver in drivers):
        names = "; ".join(f"{driver.name}: {_write_range(driver)}" for driver in drivers)
        return f"{wanted} is outside the range of the drivers ({names})"
    near = "; ".join(
        _say_nearest(band, scale, driver) for driver in drivers for scale in driver.scales
    )
    return f"{wanted} is on no scale, and is not rounded ({near})"


def _reaches(driver: Driver, band: Band) -> bool:
    ends: tuple[Decimal, Decimal] = lowest_and_highest(driver)
    return covers(*ends, band.low_nm) or covers(*ends, band.high_nm)


def _write_range(driver: Driver) -> str:
    return " or ".join(
        f"{shorten(one.lowest)}–{shorten(one.highest)} {UNITS[one.unit]}" for one in driver.scales
    )


def _say_nearest(band: Band, scale: Scale, driver: Driver) -> str:
    at = bisect_left(scale.values_nm, band.low_nm)
    near = [scale.values[one] for one in (at - 1, at) if 0 <= one < len(scale.values)]
    shown = " and ".join(f"{shorten(value)}" for value in near)
    return f"the nearest of {driver.name}: {shown} {UNITS[scale.unit]}"


def _warn(
    certain: Sequence[Certain],
    chosen: Sequence[Driver],
    settings: Sequence[DriverSetting],
    today: date,
) -> Iterator[str]:
    """Yield what is wrong with the drivers, to be said before the work begins."""
    for driver in chosen:
        yield from driver.say_faults(today)
        count = sum(len(one.tasks) for one in settings if one.driver == driver.name)
        yield from driver.say_soon_due(count, today)
    listed = [driver for driver in chosen if driver.bits is not None]
    at_hand = {bit for driver in listed for bit in driver.bits or ()}
    lacking = Counter(
        " or ".join(map(name_bit, one.bits))
        for one in certain
        if one.bits and not at_hand & set(one.bits)
    )
    if listed:
        yield from (
            f"bit not at hand: {bit} (for {count} terminal(s))" for bit, count in lacking.items()
        )
