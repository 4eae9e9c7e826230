"""Boards made by hand: listed terminals, bands, drivers, and a sheet of an invented maker that
answers for them.
"""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from decimal import Decimal
from typing import Any

from sheets_by_hand import mm2, report, setting, torque

from torquary_catalogue.board.bands import Band
from torquary_catalogue.board.driver import Bit, Driver
from torquary_catalogue.board.listed import ListedTerminal, Place
from torquary_catalogue.board.plan import Plan
from torquary_catalogue.board.planning import make_plan
from torquary_catalogue.board.scale import Scale, mark_evenly
from torquary_catalogue.board.settled import Certain
from torquary_catalogue.find import Row
from torquary_schema.values import Device, Drive, Finding, SheetReport, Terminal, Torque

DAY = date(2031, 5, 2)
D = Decimal


def listed(name: str = "L1", way: int = 1, **parts: Any) -> ListedTerminal:
    """A terminal of board B7, in row 1."""
    texts = dict.fromkeys(
        ("maker", "device", "conductor", "material", "stranding", "ferrule", "remark"), ""
    )
    given = {
        "board": "B7",
        "place": Place(row=1, way=way, mark=f"F{way}"),
        "terminal": name,
        "screw": None,
        "conductors": 1,
        "joint": "site",
        "at": way + 1,
        **texts,
    }
    return ListedTerminal(**{**given, **parts})


def certain(low: str, high: str | None = None, *bits: Bit, way: int = 1, **parts: Any) -> Certain:
    """A terminal whose torque is printed as one figure, or from `low` to `high` (N·m)."""
    band = Band(low_nm=D(low), high_nm=D(high or low))
    row: dict[str, Any] = {field.name: None for field in fields(Row)}
    row |= {
        "file": "harbour.pdf",
        "title": "Harbour",
        "edition": "",
        "id": "a",
        "sheet": "b",
        "device_printed": "BK",
    }
    row |= {
        "terminal_printed": "L1",
        "conductor_printed": "",
        "torque_printed": low,
        "unit_printed": "N·m",
    }
    row |= {"min_nm": band.low_nm, "max_nm": band.high_nm, "findings": (), "drive": bits}
    given: dict[str, Any] = {"bits": bits, "conditions": (), "notes": (), "band": band, **parts}
    return Certain(terminal=listed(way=way), rows=(Row(**row),), **given)


def driver(name: str = "TD-1", low: str = "1", high: str = "5", **parts: Any) -> Driver:
    """A driver marked every 0.2 N·m, calibrated in time, of 6 %; `step` makes it a digital one."""
    step, every = parts.pop("step", None), parts.pop("every", "0.2")
    lowest, highest = D(low), D(high)
    scale = Scale(
        unit="newton_metre",
        lowest=lowest,
        highest=highest,
        step=D(step) if step else None,
        marks=() if step else mark_evenly(lowest, highest, D(every)),
    )
    given: dict[str, Any] = {
        "scales": (scale,),
        "deviation_percent": D(6),
        "deviation_from": "by its file",
        "calibrated": date(2031, 3, 1),
        "certificate": "K-118",
        "most_months": 12,
        "most_cycles": 5000,
        "cycles": 100,
        "bits": None,
    }
    return Driver(name=name, **{**given, **parts})


def plan(*told: Certain, **parts: Any) -> Plan:
    """The plan of a board whose terminals are all certain."""
    return make_plan("B7", [one.terminal for one in told], told, today=DAY, **parts)


def values(made: Plan) -> list[str]:
    """What the driver is set to, in the order of the work."""
    return [f"{one.value.normalize():f}" for one in made.settings]


LIMIT = Torque(
    printed="max. 0.8 N·m",
    unit_printed="N·m",
    min_nm=None,
    nominal_nm=None,
    max_nm=None,
    limit_nm=D("0.8"),
)


def harbour() -> SheetReport:
    """A sheet of three devices: a breaker, a switch with a range and a limit, a contactor with a
    held reading.
    """
    breaker = Device(printed="Breaker BK-16", family="mcb", series="BK", model="BK-16")
    switch = Device(printed="Switch SW-40", family="main_switch", series="SW", model="SW-40")
    contactor = Device(printed="Contactor CT-9", family="contactor", series="CT", model="CT-9")
    line = Terminal(
        printed="Line 1, 3", roles=("line_in",), drive=(Drive(kind="cross_z", size="2"),)
    )
    load = Terminal(
        printed="Load 2, 4", roles=("load_out",), drive=(Drive(kind="cross_z", size="2"),)
    )
    bare = Terminal(printed="Neutral N", roles=("neutral",))
    doubt = Finding(code="unit_doubtful", message="'lbs' may be lbf·in or lbf·ft")
    held = {
        "state": "held",
        "findings": (doubt,),
        "torque": torque("20 lbs", None, None, unit="lbs"),
    }
    two, thin, span = (
        torque("2.0", "2.0", "2.0"),
        torque("1.2", "1.2", "1.2"),
        torque("2.5–3.0", "2.5", "3.0"),
    )
    return report(
        setting("bk-line", device=breaker, terminal=line, torque=two),
        setting(
            "bk-load-thin", device=breaker, terminal=load, conductor=mm2("1", "4"), torque=thin
        ),
        setting("bk-load", device=breaker, terminal=load, conductor=mm2("6", "16"), torque=two),
        setting(
            "sw-line", device=switch, terminal=line, torque=span, conditions=("no_retightening",)
        ),
        setting("sw-n", device=switch, terminal=bare, torque=LIMIT),
        setting("ct-line", device=contactor, terminal=line, **held),
    )
