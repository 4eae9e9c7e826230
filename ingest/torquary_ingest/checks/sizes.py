"""Which conductors two settings may both mean, and the figures by which they are compared."""

from __future__ import annotations

from decimal import Decimal

from torquary_ingest.headings.sense import label_key
from torquary_schema.sizes import circular_mils
from torquary_schema.values import Conductor, Setting
from torquary_schema.words import fold

_LEAST, _MOST = Decimal("-Infinity"), Decimal("Infinity")
_Range = tuple[Decimal | None, Decimal | None]
_Sizes = tuple[_Range, _Range]
"""In mm², and by gauge as an area: no system is converted into another."""


def may_meet(one: Conductor, other: Conductor) -> bool:
    """Tell whether some conductor may be meant by both: no size, kind, metal, ferrule or count keeps them apart."""
    for kinds in ((one.stranding, other.stranding), (one.material, other.material)):
        if all(kinds) and not set(kinds[0]) & set(kinds[1]):
            return False
    if None not in (one.ferrule, other.ferrule) and one.ferrule != other.ferrule:
        return False
    if None not in (one.count, other.count) and one.count != other.count:
        return False
    pairs = [pair for pair in zip(_sizes(one), _sizes(other), strict=True) if any(pair[0]) and any(pair[1])]
    return all(_meet(*pair) for pair in pairs)


def figure_of(setting: Setting) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
    """Return lowest, highest and limiting torque of a setting in N·m."""
    torque = setting.torque
    return (torque.min_nm, torque.max_nm, torque.limit_nm) if torque else (None, None, None)


def _sizes(conductor: Conductor) -> _Sizes:
    gauges = (_order(conductor.min_awg), _order(conductor.max_awg))
    return (conductor.min_mm2, conductor.max_mm2), gauges


def _order(size: str | None) -> Decimal | None:
    return circular_mils(size) if size else None


def _meet(one: _Range, other: _Range) -> bool:
    """Tell whether two ranges are the same, share a stretch, or one is a single size inside the other."""
    lows = sorted(_LEAST if low is None else low for low, _ in (one, other))
    highs = sorted(_MOST if high is None else high for _, high in (one, other))
    single = one[0] == one[1] or other[0] == other[1]
    return one == other or lows[1] < highs[0] or (single and lows[1] == highs[0])


def same_case(setting: Setting) -> tuple[object, ...]:
    """Return what tells the case of a setting from others, but for the size of its conductor."""
    c, d, t = setting.conductor, setting.device, setting.terminal
    return (
        fold(d.printed), d.rated_current, label_key(t.printed), t.thread, t.drive,
        c.stranding, c.material, c.ferrule, c.count, setting.purpose,
    )  # fmt: skip
