"""Sizes of a row that are not said to be of its auxiliary terminals, beside torques of its main ones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_schema.roles import spot_roles
from torquary_schema.units import find_units
from torquary_schema.values import Finding, Setting

_SMALL = frozenset({"aux", "control", "coil"})
"""Terminals of small conductors beside those of the main circuit."""

Row = tuple[int | None, int | None, int | None]


def check_shared_sizes(settings: Sequence[Setting]) -> Iterator[tuple[int, Finding]]:
    """Hold an auxiliary terminal's setting whose row gives the same size, and another torque, to its main terminals."""
    rows: dict[Row, list[int]] = {}
    for at, setting in enumerate(settings):
        place = setting.place
        if place.table is not None and setting.conductor.printed:
            rows.setdefault((place.page, place.table, place.row), []).append(at)
    for row in rows.values():
        for at in row:
            main = next((settings[other] for other in row if _shares_size(settings[at], settings[other])), None)
            if main is not None:
                yield at, _doubted(settings[at], main)


def _shares_size(small: Setting, main: Setting) -> bool:
    """Tell whether one is of auxiliary terminals and the other of others, with one size and two torques."""
    ours, theirs = set(small.terminal.roles), set(main.terminal.roles)
    parted = bool(ours) and ours <= _SMALL and not theirs & _SMALL
    alike = small.conductor.printed == main.conductor.printed and small.device.printed == main.device.printed
    said = any(spot_roles(one.text) for one in small.scope if one.kind == "heading" and _heads_sizes(one.text))
    torques = [one.torque.printed if one.torque else "" for one in (small, main)]
    return parted and alike and not said and torques[0] != torques[1]


def _heads_sizes(heading: str) -> bool:
    return any(unit.kind in ("area", "gauge") for unit in find_units(heading))


def _doubted(setting: Setting, main: Setting) -> Finding:
    message = (
        f"the row gives {setting.conductor.printed!r} for {main.terminal.printed!r} too, which has another torque; "
        f"look whether {setting.terminal.printed!r} takes that size"
    )
    return Finding(code="condition_unread", message=message, place=setting.place, printed=setting.place.text)
