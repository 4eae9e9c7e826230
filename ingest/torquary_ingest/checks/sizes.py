"""One terminal, one conductor, one torque: rows that contradict each other are held."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from torquary_schema.values import Finding, Setting, Torque
from torquary_schema.words import fold


def check_sizes(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold settings of one table that give one terminal and one size two torques with nothing to choose by."""
    rows: dict[tuple[object, ...], list[int]] = {}
    for position, setting in enumerate(settings):
        rows.setdefault(_same_case(setting), []).append(position)
    for positions in rows.values():
        figures = {_figure(settings[position].torque) for position in positions}
        if len(figures) > 1:
            for position in positions:
                yield position, _overlap(settings[position])


def _figure(torque: Torque | None) -> tuple[Decimal | None, ...]:
    return (torque.min_nm, torque.max_nm) if torque else ()


def _same_case(setting: Setting) -> tuple[object, ...]:
    c, d, t = setting.conductor, setting.device, setting.terminal
    return (
        setting.place.page, setting.place.table, fold(d.printed), d.rated_current, fold(t.printed), t.thread, t.drive,
        c.min_mm2, c.max_mm2, c.min_awg, c.max_awg, c.stranding, c.material, c.ferrule, c.count, setting.purpose,
    )  # fmt: skip


def _overlap(setting: Setting) -> Finding:
    return Finding(
        code="sizes_overlap",
        message=f"the table gives {setting.terminal.printed!r} with the same conductor more than one torque; "
        "find out what tells the rows apart",
        place=setting.place,
        printed=setting.place.text,
    )
