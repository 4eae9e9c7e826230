"""What would tell apart rows whose figures differ."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from torquary_catalogue.find.named_size import name_conductor
from torquary_catalogue.find.remarks import name_roles
from torquary_catalogue.find.row import Figures, Row

NOT_SAID = "not said"

ASPECTS: tuple[tuple[str, Callable[[Row], object]], ...] = (
    ("maker", lambda row: row.maker),
    ("series", lambda row: row.series),
    ("model", lambda row: row.model),
    ("device", lambda row: row.device_printed),
    ("rated current", lambda row: row.rated_current),
    ("terminal", lambda row: row.terminal_printed),
    ("role", lambda row: name_roles(row.roles)),
    ("clamp", lambda row: row.clamp),
    ("thread", lambda row: row.thread),
    ("conductor", name_conductor),
    ("material", lambda row: ", ".join(row.material)),
    ("stranding", lambda row: ", ".join(row.stranding)),
    ("ferrule", lambda row: {True: "with", False: "without", None: None}[row.ferrule]),
    ("conductors in one terminal", lambda row: row.conductor_count),
    ("sheet", lambda row: f"{row.file} {row.edition}".strip()),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """An aspect in which the rows differ, with the values met. `settles`: each value has one figure only."""

    aspect: str
    values: tuple[str, ...]
    settles: bool


def tell_apart(rows: Iterable[Row]) -> tuple[Difference, ...]:
    """Return the aspects that would tell the figures apart, those that settle it alone first."""
    kept = [(row, row.figures) for row in rows]
    found = []
    for aspect, value in ASPECTS:
        met: dict[str, Figures] = {}
        settles = True
        for row, figures in kept:
            settles &= met.setdefault(str(value(row) or NOT_SAID), figures) == figures
        if len(met) > 1:
            found.append(Difference(aspect=aspect, values=tuple(met), settles=settles))
    return tuple(sorted(found, key=lambda difference: not difference.settles))
