"""Terminals put into settings: the fewest, then the fewest changes of bit, then the board's own
order.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations

from torquary_catalogue.board.bands import Band, judge, keeps_inside, share
from torquary_catalogue.board.bit_changes import choose_batches
from torquary_catalogue.board.driver import Driver
from torquary_catalogue.board.order import count_changes, order_by_driver, order_settings
from torquary_catalogue.board.plan import Batch, DriverSetting, Task
from torquary_catalogue.board.round_value import nearest_round
from torquary_catalogue.board.scale import Scale
from torquary_catalogue.board.settled import Certain, name_bit
from torquary_catalogue.board.stabbing import Span, stab_late
from torquary_schema.torque_factors import factor_nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A terminal, and the band that it is to be set in: the printed one, or what of it a deviation
    leaves.
    """

    certain: Certain
    band: Band


@dataclass(frozen=True, slots=True, kw_only=True)
class _Picked:
    """A value of a driver: index on its scale, value in the unit; without a driver only value and
    unit.
    """

    value: Decimal
    unit: str
    driver: Driver | None = None
    scale: Scale | None = None
    at: int = 0

    @property
    def value_nm(self) -> Decimal:
        return self.value * factor_nm(self.unit)


def choose_drivers(items: Sequence[Item], drivers: Sequence[Driver]) -> Sequence[Driver]:
    """Return the fewest drivers with which no more settings are needed than with all of them;
    earlier ones first.
    """
    bands = [item.band for item in items]
    fewest = len(stab_late(_spans(bands, drivers))) if len(drivers) > 1 else 0
    for count in range(1, len(drivers)):
        for some in combinations(drivers, count):
            spans = _spans(bands, some)
            if all(low <= high for low, high in spans) and len(stab_late(spans)) == fewest:
                return some
    return drivers


@dataclass(frozen=True, slots=True, kw_only=True)
class Arranged:
    """The settings in the order of the work, and how often the bit is changed; `proved`: not seldomer by any others.

    Each driver is taken up once. With several it is proved where one driver with the scales of all would need as many
    changes of bit: which driver takes which setting is chosen by the value alone.
    """

    settings: tuple[DriverSetting, ...]
    bit_changes: int
    proved: bool


def arrange(items: Sequence[Item], drivers: Sequence[Driver], unit: str) -> Arranged:
    """Return the fewest settings; of these, with one driver or none, those with the fewest changes of bit.

    `items` are in the board's own order; each can be set by one of the drivers at least, if there
    are any.
    """
    groups, proved = _group(items, drivers)
    picked = [_pick_value(group, drivers, unit) for group in groups]
    bits = [tuple(group) for group in groups]
    alone = order_settings(bits)
    order = alone.settings
    if len({one.driver for one in picked if one.driver}) > 1:
        names = [one.driver.name for one in picked if one.driver]
        order = order_by_driver(bits, names)
    changes = count_changes(order)
    return Arranged(
        settings=tuple(
            _make_setting(number, groups[at], some, picked[at]) for number, (at, some) in enumerate(order, start=1)
        ),
        bit_changes=changes,
        proved=proved and alone.proved and changes == count_changes(alone.settings),
    )


def _spans(bands: Sequence[Band], drivers: Sequence[Driver]) -> list[Span]:
    """Return the bands as spans of the values that count: those of the scales, or else all upper
    ends.
    """
    values = sorted(
        {value for driver in drivers for scale in driver.scales for value in scale.values_nm}
    )
    if not drivers:
        values = sorted({band.high_nm for band in bands})
    return [
        (bisect_left(values, one.low_nm), bisect_right(values, one.high_nm) - 1) for one in bands
    ]


def _group(
    items: Sequence[Item], drivers: Sequence[Driver]
) -> tuple[list[dict[str, list[Item]]], bool]:
    """Return groups of terminals that share a value, each by bits, in the order of their first terminals, and whether
    it is proved that no others ask for fewer changes of bit.
    """
    if not items:
        return [], True
    kinds = [_choose_bits(item, drivers) for item in items]
    spans = _spans([item.band for item in items], drivers)
    by_kind: dict[frozenset[str], list[Span]] = {}
    for kind, span in zip(kinds, spans, strict=True):
        by_kind.setdefault(kind, []).append(span)
    batches, proved = choose_batches(by_kind)
    groups: dict[int, dict[str, list[Item]]] = {}
    for item, kind, (low, high) in zip(items, kinds, spans, strict=True):
        middle = (low + high) / 2
        fitting = (one for one in batches if one[1] in kind and low <= one[0] <= high)
        value, bit = min(fitting, key=lambda one: (abs(one[0] - middle), one))
        groups.setdefault(value, {}).setdefault(bit, []).append(item)
    return list(groups.values()), proved


def _choose_bits(item: Item, drivers: Sequence[Driver]) -> frozenset[str]:
    """Return the bits of which each is enough for a terminal: of those that its sheet allows the ones at hand, if any.

    "" stands for a bit that is not printed.
    """
    at_hand = {bit for driver in drivers for bit in driver.bits or ()}
    allowed = [bit for bit in item.certain.bits if bit in at_hand] or item.certain.bits
    return frozenset(map(name_bit, allowed)) or frozenset({""})


def _pick_value(
    group: Mapping[str, Sequence[Item]], drivers: Sequence[Driver], unit: str
) -> _Picked:
    """Choose the value of a group within what its terminals share.

    Best is where the deviation stays inside the most printed ranges, then a mark, then what is
    nearest to the printed nominal value or the middle (a driver is best set to the middle of a
    range: terminal-block catalogue, seen in print).
    """
    items = [item for members in group.values() for item in members]
    shared = share([item.band for item in items])
    nominal = {item.band.nominal_nm for item in items if item.band.nominal_nm is not None}
    aim = nominal.pop() if len(nominal) == 1 else (shared.low_nm + shared.high_nm) / 2
    if not drivers:
        return _Picked(value=nearest_round(shared.low_nm, shared.high_nm, aim, unit), unit=unit)

    def rank(one: _Picked) -> tuple[int, bool, Decimal]:
        unmarked = one.scale is not None and not one.scale.is_mark(one.at)
        return _count_outside(items, one), unmarked, abs(one.value_nm - aim)

    return min(_candidates(shared, drivers), key=rank)


def _count_outside(items: Sequence[Item], picked: _Picked) -> int:
    """Count the printed ranges that the driver's deviation may leave at a value."""
    percent = picked.driver.deviation_percent if picked.driver else None
    if percent is None:
        return 0
    printed = [item.certain.band for item in items if not item.certain.band.is_point]
    return sum(not keeps_inside(band, picked.value_nm, percent) for band in printed)


def _candidates(shared: Band, drivers: Sequence[Driver]) -> Iterator[_Picked]:
    for driver in drivers:
        for scale in driver.scales:
            for at in scale.within(shared.low_nm, shared.high_nm):
                yield _Picked(
                    driver=driver, scale=scale, at=at, value=scale.values[at], unit=scale.unit
                )


def _make_setting(
    number: int, group: Mapping[str, Sequence[Item]], bits: Sequence[str], picked: _Picked
) -> DriverSetting:
    shared = share([item.certain.band for members in group.values() for item in members])
    value_nm = picked.scale.values_nm[picked.at] if picked.scale else _keep_point(shared, picked)
    percent = picked.driver.deviation_percent if picked.driver else None

    def make_task(item: Item) -> Task:
        verdict = None if percent is None else judge(item.certain.band, shared, value_nm, percent)
        return Task(certain=item.certain, verdict=verdict)

    return DriverSetting(
        number=number,
        driver=picked.driver.name if picked.driver else "",
        value=picked.value,
        unit=picked.unit,
        value_nm=value_nm,
        where=picked.scale.tell_place(picked.at) if picked.scale else "",
        shared=shared,
        batches=tuple(Batch(bit=bit, tasks=tuple(map(make_task, group[bit]))) for bit in bits),
    )


def _keep_point(shared: Band, picked: _Picked) -> Decimal:
    """Return the value in N·m; that of a single figure is the printed one, whatever a division made
    of its digits.
    """
    return shared.low_nm if shared.is_point else picked.value_nm
