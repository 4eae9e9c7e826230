"""A figure far from what its conductor or thread allows in any published grid is held."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import cache

from torquary_ingest.lexis.threads import diameter_mm
from torquary_ingest.unit_registry import convert
from torquary_schema.grids import thread_torques, us_highest_torque
from torquary_schema.sizes import circular_mils
from torquary_schema.values import Conductor, Finding, Setting, Torque

# Makers go beyond the highest torque of NEC informative Annex I, Table I.1, by up to a half, for large screws
# on small wires (common practice).
_BEYOND = Decimal("1.5")
# Lowest torque of a terminal that takes conductors of up to this area, N·m (common practice): a figure ten times too
# small is below it.
_LOWEST = tuple(
    (Decimal(area), Decimal(least))
    for area, least in (("4", "0.2"), ("10", "0.5"), ("25", "0.8"), ("70", "1.5"), ("150", "3"))
)
_ANY = (Decimal("0.05"), Decimal("250"))
# A thread takes from a quarter of the smallest to four times the largest value that any grid on file gives for
# it (common practice). Above M12 the grids stop at the test torques of small terminals: no upper bound there.
_SPREAD = 4
_GUIDED_MM = Decimal(12)
# A range of torques ends at most so many times where it begins (common practice: makers print ±10 to ±50 %).
_WIDEST = 4
_LARGEST_MM = Decimal(20)  # "M21" is a marking, no thread


def check_plausible(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold a torque out of all proportion to its conductor, its thread, or any terminal screw."""
    for position, setting in enumerate(settings):
        torque = setting.torque
        if torque is None or setting.purpose != "electrical_terminal":
            continue
        figures = [value for value in (torque.min_nm, torque.max_nm, torque.limit_nm) if value is not None]
        if _is_too_wide(torque):
            message = f"{torque.printed!r} is a wider range than torques are printed in; compare it with the sheet"
            place, printed = setting.place, torque.printed
            yield position, Finding(code="torque_implausible", message=message, place=place, printed=printed)
            continue
        for low, high, what in _bounds(setting):
            if figures and (min(figures) < low or max(figures) > high):
                yield position, _implausible(setting, low, high, what)
                break


def _is_too_wide(torque: Torque) -> bool:
    """Tell whether a range ends far from where it begins: a decimal mark may be lost ("2,0 – 24")."""
    low, high = torque.min_nm, torque.max_nm
    return low is not None and high is not None and high > _WIDEST * low


def _bounds(setting: Setting) -> Iterator[tuple[Decimal, Decimal, str]]:
    yield (*_ANY, "any terminal screw")
    smallest, largest = _areas(setting.conductor)
    highest = us_highest_torque(largest) if largest is not None else None
    high = highest * _BEYOND if highest is not None else None
    taken = largest if largest is not None else smallest
    low = next((least for area, least in reversed(_lowest()) if taken is not None and taken >= area), None)
    if high is not None or low is not None:
        yield low or _ANY[0], high or _ANY[1], f"a conductor {setting.conductor.printed}"
    thread = diameter_mm(setting.terminal.thread or setting.terminal.printed)
    bounds = _thread_bounds(thread) if thread is not None else None
    if bounds:
        yield (*bounds, f"a thread M{thread}")


@cache
def _thread_bounds(diameter_mm: Decimal) -> tuple[Decimal, Decimal] | None:
    """Return the lowest and highest likely torque of a thread in N·m; None where no grid has it."""
    given = [grid.nm for grid in thread_torques(diameter_mm)]
    if not given or diameter_mm > _LARGEST_MM:
        return None
    return min(given) / _SPREAD, max(given) * _SPREAD if diameter_mm <= _GUIDED_MM else _ANY[1]


@cache
def _lowest() -> tuple[tuple[Decimal, Decimal], ...]:
    """Return `_LOWEST` with its areas in circular mils."""
    return tuple((_mils_in(area), least) for area, least in _LOWEST)


def _areas(conductor: Conductor) -> tuple[Decimal | None, Decimal | None]:
    """Return smallest and largest printed area in circular mils, only to judge by."""
    return _area(conductor.min_mm2, conductor.min_awg), _area(conductor.max_mm2, conductor.max_awg)


def _area(mm2: Decimal | None, gauge: str | None) -> Decimal | None:
    if mm2 is not None:
        return _mils_in(mm2)
    return circular_mils(gauge) if gauge else None


def _mils_in(mm2: Decimal) -> Decimal:
    return convert(mm2, "mm2", "circular_mil")


def _implausible(setting: Setting, low: Decimal, high: Decimal, what: str) -> Finding:
    printed = setting.torque.printed if setting.torque else ""
    return Finding(
        code="torque_implausible",
        message=f"{printed!r} is far from what {what} takes in the published grids "
        f"({_short(low)} to {_short(high)} N·m); "
        "compare it with the sheet",
        place=setting.place,
        printed=printed,
    )


def _short(value: Decimal) -> str:
    return f"{value.quantize(Decimal('0.01')).normalize():f}"
