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


def check_sizes(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold settings of one table that give one terminal and one size two torques with nothing to choose by."""
    rows: dict[tuple[object, ...], list[int]] = {}
    for position, setting in enumerate(settings):
        rows.setdefault(_same_case(setting), []).append(position)
    for positions in rows.values():
        apart = [pair for pair in combinations(positions, 2) if _contradict(*(settings[place] for place in pair))]
        for position in sorted({place for pair in apart for place in pair}):
            yield position, _overlap(settings[position])


def _contradict(one: Setting, other: Setting) -> bool:
    """Tell whether two settings of one case give a conductor two torques; where one range ends another may begin."""
    return _figure(one.torque) != _figure(other.torque) and _share_sizes(one.conductor, other.conductor)


def _share_sizes(one: Conductor, other: Conductor) -> bool:
    areas = [(c.min_mm2, c.max_mm2) for c in (one, other)]
    gauges = [(_order(c.min_awg), _order(c.max_awg)) for c in (one, other)]
    told = [(first, second) for first, second in (areas, gauges) if any(first) and any(second)]
    return any(_meet(*pair) for pair in told) if told else areas[0] == areas[1] and gauges[0] == gauges[1]


def _order(size: str | None) -> Decimal | None:
    return gauge_order(size) if size else None


def _meet(one: _Range, other: _Range) -> bool:
    """Tell whether two ranges are the same, share a stretch, or one is a single size inside the other."""
    lows = sorted(_LEAST if low is None else low for low, _ in (one, other))
    highs = sorted(_MOST if high is None else high for _, high in (one, other))
    single = one[0] == one[1] or other[0] == other[1]
    return one == other or lows[1] < highs[0] or (single and lows[0] < lows[1] == highs[0] < highs[1])


def _figure(torque: Torque | None) -> tuple[Decimal | None, ...]:
    return (torque.min_nm, torque.max_nm) if torque else ()


def _same_case(setting: Setting) -> tuple[object, ...]:
    c, d, t = setting.conductor, setting.device, setting.terminal
    return (
        setting.place.page, setting.place.table, fold(d.printed), d.rated_current, label_key(t.printed), t.thread,
        t.drive, c.stranding, c.material, c.ferrule, c.count, setting.purpose,
    )  # fmt: skip


def _overlap(setting: Setting) -> Finding:
    return Finding(
        code="sizes_overlap",
        message=f"the table gives {setting.terminal.printed!r} with the same conductor more than one torque; "
        "find out what tells the rows apart",
        place=setting.place,
        printed=setting.place.text,
    )
