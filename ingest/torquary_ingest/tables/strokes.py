"""Rules that belong together: pieces of one line joined, lines that meet gathered into frames."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from torquary_ingest.document import Rule
from torquary_schema.values import Box

NEAR = 2.6
"""Points: rules closer than this are one line (double rules, the two edges of a thick one)."""

REACH = 3.5
"""Points: a rule that ends this near another one meets it."""

MOST_RULES = 4000
"""More rules than this on a page are a drawing, no table and no boxes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Rules that meet: horizontal ones by `at` downwards, vertical ones by `at` rightwards."""

    across: tuple[Rule, ...]
    down: tuple[Rule, ...]

    @property
    def box(self) -> Box:
        """Extent in points."""
        xs = [r.at for r in self.down] + [x for r in self.across for x in (r.start, r.end)]
        ys = [r.at for r in self.across] + [y for r in self.down for y in (r.start, r.end)]
        return Box(x0=min(xs), top=min(ys), x1=max(xs), bottom=max(ys))


def join_rules(rules: Iterable[Rule], horizontal: bool) -> list[Rule]:
    """Join rules of one direction that lie on one line and touch or overlap."""
    joined: list[Rule] = []
    for lane in _lanes([r for r in rules if r.horizontal == horizontal and r.end - r.start > 1.0]):
        lane.sort(key=lambda r: r.start)
        current = lane[0]
        for rule in lane[1:]:
            if rule.start <= current.end + REACH:
                longer = rule if rule.end - rule.start > current.end - current.start else current
                current = Rule(
                    horizontal=horizontal,
                    at=longer.at,
                    start=current.start,
                    end=max(current.end, rule.end),
                    thickness=max(current.thickness, rule.thickness),
                )
            else:
                joined.append(current)
                current = rule
        joined.append(current)
    return sorted(joined, key=lambda r: (r.at, r.start))


def _lanes(rules: list[Rule]) -> list[list[Rule]]:
    """Group rules whose `at` lies within NEAR of the lane's first."""
    lanes: list[list[Rule]] = []
    for rule in sorted(rules, key=lambda r: r.at):
        if lanes and rule.at - lanes[-1][0].at <= NEAR:
            lanes[-1].append(rule)
        else:
            lanes.append([rule])
    return lanes


def gather_frames(across: Sequence[Rule], down: Sequence[Rule]) -> list[Frame]:
    """Gather rules that meet, directly or through others, into frames."""
    parent = list(range(len(across) + len(down)))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    order = sorted(range(len(down)), key=lambda j: down[j].at)
    ats = [down[j].at for j in order]
    for i, rule in enumerate(across):
        k = bisect_left(ats, rule.start - REACH)
        while k < len(ats) and ats[k] <= rule.end + REACH:
            other = down[order[k]]
            if other.start - REACH <= rule.at <= other.end + REACH:
                parent[root(i)] = root(len(across) + order[k])
            k += 1
    groups: dict[int, tuple[list[Rule], list[Rule]]] = {}
    for i, rule in enumerate(across):
        groups.setdefault(root(i), ([], []))[0].append(rule)
    for j, rule in enumerate(down):
        groups.setdefault(root(len(across) + j), ([], []))[1].append(rule)
    return [Frame(across=tuple(a), down=tuple(d)) for a, d in groups.values()]


def edges(ats: Iterable[float], near: float = REACH) -> list[float]:
    """Distinct positions, those within `near` of each other taken as one (the first)."""
    out: list[float] = []
    for at in sorted(ats):
        if not out or at - out[-1] > near:
            out.append(at)
    return out


def covered(rules: Iterable[Rule], at: float, start: float, end: float, near: float = REACH) -> float:
    """Share of the stretch from `start` to `end` at `at` that rules draw."""
    parts = sorted((max(r.start, start), min(r.end, end)) for r in rules if abs(r.at - at) <= near)
    total, reach = 0.0, start
    for a, b in parts:
        a = max(a, reach)
        if b > a:
            total += b - a
            reach = b
    return total / (end - start) if end > start else 0.0
