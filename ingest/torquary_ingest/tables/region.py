"""A part of a page that may be a table without a full grid: its lines, and the rules that run through it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from torquary_ingest.document import Rule
from torquary_ingest.tables.lines import Line
from torquary_schema.values import Box

NEAR = 6.0
"""Points above and below the texts of a region within which rules are its own."""

ON_EDGE = 3.5
"""Points from the end of a head within which a rule is drawn on it."""

ALL_ACROSS = 0.9
"""Share of a region's width that a rule across all of it covers at least."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """Lines that may be a table, the rules that run across all of it (their y, downwards), and its upright ones."""

    lines: tuple[Line, ...]
    box: Box
    across: tuple[float, ...] = field(default=())
    part_rules: tuple[Rule, ...] = field(default=())
    upright: tuple[Rule, ...] = field(default=())

    @property
    def bounded(self) -> bool:
        """Tell whether rules mark the region off above and below."""
        return len(self.across) > 1


    def below(self, top: float) -> Region:
        """Return what lies beneath a height, where a head ends for all columns whatever rule is drawn there."""
        across = (top, *(at for at in self.across if at > top + ON_EDGE))
        inner = tuple(rule for rule in self.part_rules if rule.at > top + ON_EDGE)
        lines = tuple(line for line in self.lines if line.box.middle[1] > top)
        box = Box(x0=self.box.x0, top=top, x1=self.box.x1, bottom=self.box.bottom)
        return Region(lines=lines, box=box, across=across, part_rules=inner, upright=self.upright)


def make_region(lines: Sequence[Line], rules: Sequence[Rule], box: Box | None = None) -> Region:
    """Return the region of lines, in their own box unless one is given, with the rules on and in it."""
    box = Box.around(line.box for line in lines) if box is None else box
    return Region(lines=tuple(lines), box=box, across=_full_rules(rules, box), part_rules=part_rules(rules, box))


def _full_rules(rules: Sequence[Rule], box: Box) -> tuple[float, ...]:
    near = (rule for rule in rules if rule.horizontal and box.top - NEAR <= rule.at <= box.bottom + NEAR)
    shares = ((rule.at, min(rule.end, box.x1) - max(rule.start, box.x0)) for rule in near)
    return tuple(sorted(at for at, width in shares if width >= ALL_ACROSS * box.width))


def part_rules(rules: Sequence[Rule], box: Box) -> tuple[Rule, ...]:
    """Return the rules in a box that do not run all across it: those under spanning headings, for instance."""
    return tuple(
        r
        for r in rules
        if r.horizontal
        and box.top - 2 <= r.at <= box.bottom + 2
        and r.start >= box.x0 - 3
        and r.end <= box.x1 + 3
        and r.end - r.start < ALL_ACROSS * box.width
    )
