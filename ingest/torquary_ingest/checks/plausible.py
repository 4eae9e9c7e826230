"""A figure far from what its conductor or thread allows in any published grid is held."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal

from torquary_schema.sizes import awg_area_mm2, kcmil_area_mm2
from torquary_schema.values import Conductor, Finding, Setting

# Highest torque of a connector screw by conductor area, N·m: the hexagon-head columns of the US fall-back
# grid, NEC informative Annex I Table I.1 (80, 165, 275, 385, 500 lbf·in …), taken one and a half times
# (common practice: makers go beyond the grid for large screws on small wires).
_HIGHEST = (
    (Decimal("9"), Decimal("13.6")),
    (Decimal("22"), Decimal("28")),
    (Decimal("45"), Decimal("47")),
    (Decimal("110"), Decimal("75")),
    (Decimal("260"), Decimal("110")),
)
# Lowest torque that clamps a conductor of at least this area, N·m (common practice).
_LOWEST = ((Decimal("10"), Decimal("0.5")), (Decimal("25"), Decimal("0.8")), (Decimal("70"), Decimal("1.5")))
_ANY = (Decimal("0.05"), Decimal("250"))
# Threads: between a quarter of the smallest and four times the largest value that IEC 60947-1 Table 4
# (from memory) and IEC 60730-1 Table 19.1 give, N·m by nominal diameter in mm.
_THREADS = {
    "2": ("0.02", "1.2"), "2.5": ("0.05", "1.6"), "3": ("0.06", "2.4"), "3.5": ("0.1", "3.5"), "4": ("0.15", "5"),
    "4.5": ("0.2", "7.5"), "5": ("0.2", "10"), "6": ("0.6", "16"), "8": ("0.8", "35"), "10": ("1", "65"),
    "12": ("1.7", "110"), "16": ("5", "220"),
}  # fmt: skip
_THREAD = re.compile(r"^\s*M\s?(\d+(?:[.,]\d+)?)", re.IGNORECASE)


def check_plausible(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold a torque out of all proportion to its conductor, its thread, or any terminal screw."""
    for position, setting in enumerate(settings):
        torque = setting.torque
        if torque is None or setting.purpose != "electrical_terminal":
            continue
        figures = [value for value in (torque.min_nm, torque.max_nm) if value is not None]
        for low, high, what in _bounds(setting):
            if figures and (min(figures) < low or max(figures) > high):
                yield position, _implausible(setting, low, high, what)
                break


def _bounds(setting: Setting) -> Iterator[tuple[Decimal, Decimal, str]]:
    yield (*_ANY, "any terminal screw")
    smallest, largest = _areas(setting.conductor)
    high = next((most for area, most in _HIGHEST if largest is not None and largest <= area), None)
    low = next((least for area, least in reversed(_LOWEST) if smallest is not None and smallest >= area), None)
    if high is not None or low is not None:
        yield low or _ANY[0], high or _ANY[1], f"a conductor {setting.conductor.printed}"
    thread = _THREAD.match(setting.terminal.thread or setting.terminal.printed)
    bounds = _THREADS.get(thread[1].replace(",", ".")) if thread else None
    if thread and bounds:
        yield Decimal(bounds[0]), Decimal(bounds[1]), f"a thread M{thread[1]}"


def _areas(conductor: Conductor) -> tuple[Decimal | None, Decimal | None]:
    """Return smallest and largest printed area in mm²; gauges by their own formula, only to judge by."""
    smallest = conductor.min_mm2 if conductor.min_mm2 is not None else _gauge_area(conductor.min_awg)
    largest = conductor.max_mm2 if conductor.max_mm2 is not None else _gauge_area(conductor.max_awg)
    return smallest, largest


def _gauge_area(size: str | None) -> Decimal | None:
    if not size:
        return None
    if size.endswith("kcmil"):
        return kcmil_area_mm2(size.removesuffix("kcmil").strip())
    return awg_area_mm2(size)


def _implausible(setting: Setting, low: Decimal, high: Decimal, what: str) -> Finding:
    printed = setting.torque.printed if setting.torque else ""
    return Finding(
        code="torque_implausible",
        message=f"{printed!r} is far from what {what} takes in the published grids ({low} to {high} N·m); "
        "compare it with the sheet",
        place=setting.place,
        printed=printed,
    )
