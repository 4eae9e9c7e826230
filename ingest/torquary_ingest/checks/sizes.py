"""One terminal, one conductor, one torque: rows that contradict each other are held."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import combinations

from torquary_ingest.headings.sense import label_key
from torquary_schema.sizes import gauge_order
from torquary_schema.values import Conductor, Finding, Setting, Torque
from torquary_schema.words import fold

_LEAST, _MOST = Decimal("-Infinity"), Decimal("Infinity")
_Range = tuple[Decimal | None, Decimal | None]
_Sizes = tuple[_Range, _Range]
"""In mm², and by gauge as an area: no system is converted into another."""


def check_sizes(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold settings of one table that give one terminal and one size two torques with nothing to choose by."""
    rows: dict[tuple[object, ...], list[int]] = {}
    for position, setting in enumerate(settings):
        rows.setdefault((setting.place.page, setting.place.table, *same_case(setting)), []).append(position)
    for positions in rows.values():
        said: dict[tuple[_Sizes, _Range], list[int]] = {}
        for position in positions:
            said.setdefault((_sizes(settings[position].conductor), _figure(settings[position].torque)), []).append(
                position
            )
        apart = [pair for pair in combinations(said, 2) if _contradict(*pair)]
        for position in sorted({place for pair in apart for case in pair for place in said[case]}):
            yield position, _overlap(settings[position])


def _contradict(one: tuple[_Sizes, _Range], other: tuple[_Sizes, _Range]) -> bool:
    """Tell whether two rows of one case give a conductor two torques; where one range ends another may begin."""
    (sizes, figure), (others, another) = one, other
    told = [pair for pair in zip(sizes, others, strict=True) if any(pair[0]) and any(pair[1])]
    return figure != another and (any(_meet(*pair) for pair in told) if told else sizes == others)


def _sizes(conductor: Conductor) -> _Sizes:
    gauges = (_order(conductor.min_awg), _order(conductor.max_awg))
    return (conductor.min_mm2, conductor.max_mm2), gauges


def _order(size: str | None) -> Decimal | None:
    return gauge_order(size) if size else None


def _meet(one: _Range, other: _Range) -> bool:
    """Tell whether two ranges are the same, share a stretch, or one is a single size inside the other."""
    lows = sorted(_LEAST if low is None else low for low, _ in (one, other))
    highs = sorted(_MOST if high is None else high for _, high in (one, other))
    single = one[0] == one[1] or other[0] == other[1]
    return one == other or lows[1] < highs[0] or (single and lows[0] < lows[1] == highs[0] < highs[1])


def _figure(torque: Torque | None) -> _Range:
    return (torque.min_nm, torque.max_nm) if torque else (None, None)


def same_case(setting: Setting) -> tuple[object, ...]:
    """Return what tells the case of a setting from others, but for the size of its conductor."""
    c, d, t = setting.conductor, setting.device, setting.terminal
    return (
        fold(d.printed), d.rated_current, label_key(t.printed), t.thread, t.drive,
        c.stranding, c.material, c.ferrule, c.count, setting.purpose,
    )  # fmt: skip


def _overlap(setting: Setting) -> Finding:
    return Finding(
        code="sizes_overlap",
        message=f"the table gives {setting.terminal.printed!r} with the same conductor more than one torque; "
        "find out what tells the rows apart",
        place=setting.place,
        printed=setting.place.text,
    )
