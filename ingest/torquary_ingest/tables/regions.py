"""Where on a page tables without a full grid may stand: between rules, and where lines fall into columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from statistics import median

from torquary_ingest.document import Rule, Word
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Chunk, Line, holds_several, make_lines, rows_of_lines
from torquary_schema.values import Box

SAME_END = 7.0
"""Points: rules whose ends differ by less belong to one table."""

MOST_HEADS = 3
"""Lines above the first row that may head some of its columns."""

PROSE_WORDS = 7
"""A chunk with fewer words is no line of prose."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """Lines that may be a table, and the rules that run across all of it (their y, downwards)."""

    lines: tuple[Line, ...]
    box: Box
    across: tuple[float, ...] = field(default=())
    part_rules: tuple[Rule, ...] = field(default=())

    @property
    def bounded(self) -> bool:
        """Tell whether rules mark the region off above and below."""
        return len(self.across) > 1


def find_regions(words: Sequence[Word], rules: Sequence[Rule]) -> list[Region]:
    """Regions bounded by rules first, then groups of lines that fall into chunks."""
    lines = make_lines(words)
    prose = find_prose(lines)
    ruled = _between_rules(lines, prose, rules)
    taken = {id(w) for region in ruled for line in region.lines for w in line.words}
    rest = make_lines([w for w in words if id(w) not in taken and id(w) not in prose])
    return ruled + _in_columns(rest, rules)


def find_prose(lines: Sequence[Line]) -> set[int]:
    """Identities of the words that stand in running text: long chunks stacked left-aligned and close.

    Lines that hold a figure by itself are rows, however long their labels.
    """
    chunks = [c for line in lines if not _holds_figure(line) for c in line.chunks]
    chunks.sort(key=lambda c: (c.box.top, c.box.x0))
    prose: set[int] = set()
    for i, upper in enumerate(chunks):
        for lower in chunks[i + 1 : i + 60]:
            if lower.box.top - upper.box.bottom > 1.4 * upper.size:
                break
            if _runs_on(upper, lower):
                prose.update(id(w) for c in (upper, lower) for w in c.words)
    return prose


def _holds_figure(line: Line) -> bool:
    """Tell whether a figure stands by itself beside other texts of the line."""
    return len(line.chunks) > 1 and any(is_figure(c.text) for c in line.chunks[1:])


def _runs_on(upper: Chunk, lower: Chunk) -> bool:
    """Tell whether `lower` continues `upper` as running text."""
    if lower.box.top < upper.box.middle[1] or len(upper.words) < PROSE_WORDS:
        return False
    letters = sum(c.isalpha() for w in upper.words for c in w.text)
    if letters < 0.6 * sum(len(w.text) for w in upper.words) or upper.box.width < 18 * upper.size:
        return False
    return abs(upper.box.x0 - lower.box.x0) < 3 * upper.size and lower.box.x1 < upper.box.x1 + 6 * upper.size


def _between_rules(lines: Sequence[Line], prose: set[int], rules: Sequence[Rule]) -> list[Region]:
    regions: list[Region] = []
    for group in _rule_groups(rules):
        run: list[Rule] = [group[0]]
        for rule in group[1:]:
            inside = _lines_inside(lines, run[-1], rule)
            if not inside or _tabular(inside, prose):
                run.append(rule)
                continue
            regions += _region_of(run, lines, rules)
            run = [rule]
        regions += _region_of(run, lines, rules)
    return regions


def _rule_groups(rules: Sequence[Rule]) -> list[list[Rule]]:
    """Horizontal rules with the same ends, from the top down; groups of at least two."""
    groups: list[list[Rule]] = []
    for rule in sorted((r for r in rules if r.horizontal and r.end - r.start > 40), key=lambda r: r.at):
        for group in groups:
            if abs(group[0].start - rule.start) < SAME_END and abs(group[0].end - rule.end) < SAME_END:
                group.append(rule)
                break
        else:
            groups.append([rule])
    return [group for group in groups if len(group) > 1]


def _lines_inside(lines: Sequence[Line], upper: Rule, lower: Rule) -> list[Line]:
    """The lines between two rules, cut to the words within the rules' ends."""
    low, high = min(upper.start, lower.start) - 4, max(upper.end, lower.end) + 4
    words = [
        w
        for line in lines
        if upper.at - 2 < line.box.middle[1] < lower.at + 2
        for w in line.words
        if low <= w.box.middle[0] <= high
    ]
    return make_lines(words)


def _tabular(lines: Sequence[Line], prose: set[int]) -> bool:
    """Tell whether lines between two rules look like rows of a table rather than text."""
    words = [w for line in lines for w in line.words]
    if sum(id(w) in prose for w in words) > 0.5 * len(words):
        return False
    several = [holds_several(row) for row in rows_of_lines(lines)]
    return sum(several) >= 0.4 * len(several) or (len(lines) == 1 and len(words) < 6)


def _region_of(run: Sequence[Rule], lines: Sequence[Line], rules: Sequence[Rule]) -> list[Region]:
    """The region between the first and last rule of a run, if any lines with chunks stand there."""
    if len(run) < 2:
        return []
    inside = _lines_inside(lines, run[0], run[-1])
    if sum(len(line.chunks) > 1 for line in inside) < 2:
        return []
    inside = _head_above(lines, run[0], inside) + inside
    box = Box(
        x0=min(r.start for r in run), top=run[0].at, x1=max(r.end for r in run), bottom=run[-1].at
    ).union(Box.around(line.box for line in inside))
    return [
        Region(
            lines=tuple(inside),
            box=box,
            across=tuple(r.at for r in run),
            part_rules=_part_rules(rules, box),
        )
    ]


def _head_above(lines: Sequence[Line], rule: Rule, inside: Sequence[Line]) -> list[Line]:
    """The heading that stands on the first rule: a line of at least as many texts as the figures' row beneath has."""
    first = inside[0]
    if not any(is_figure(chunk.text) or chunk.text[:1].isdigit() for chunk in first.chunks):
        return []
    above = [w for line in lines for w in line.words if rule.start - 4 <= w.box.middle[0] <= rule.end + 4]
    heads = make_lines([w for w in above if rule.at - 3 * w.size < w.box.middle[1] <= rule.at - 2])
    return heads[-1:] if heads and _stand_over(heads[-1], first) else []


def _stand_over(upper: Line, lower: Line) -> bool:
    """Tell whether each text of the lower line stands under a text of its own in the upper."""
    if len(lower.chunks) < 2:
        return False
    under = [[a for a in upper.chunks if a.box.x0 < b.box.x1 and b.box.x0 < a.box.x1] for b in lower.chunks]
    return all(len(found) == 1 for found in under) and len({id(found[0]) for found in under}) == len(under)


def _part_rules(rules: Sequence[Rule], box: Box) -> tuple[Rule, ...]:
    """Rules under spanning headings: in the box, but not all across it."""
    return tuple(
        r
        for r in rules
        if r.horizontal
        and box.top - 2 <= r.at <= box.bottom + 2
        and r.start >= box.x0 - 3
        and r.end <= box.x1 + 3
        and r.end - r.start < 0.9 * box.width
    )


def _in_columns(lines: Sequence[Line], rules: Sequence[Rule]) -> list[Region]:
    """Groups of consecutive lines of which most fall into chunks."""
    regions: list[Region] = []
    group: list[Line] = []
    for line in lines:
        if group and not _follows(group, line, rules):
            regions += _column_region(group, rules)
            group = []
        group.append(line)
    return regions + _column_region(group, rules)


def _follows(group: Sequence[Line], line: Line, rules: Sequence[Rule]) -> bool:
    """Tell whether the line is near enough to the group's last to be a row of the same table."""
    size = max(line.size, group[-1].size)
    upper, lower = group[-1].box.bottom, line.box.top
    parted = any(r.horizontal and upper - 2 < r.at < lower + 2 and r.end > line.box.x0 for r in rules)
    if lower - upper > (3.2 if parted else 2.2) * size:
        return False
    alone = 0
    for earlier in reversed(group):
        if len(earlier.chunks) > 1:
            break
        alone += 1
    return alone < 3 or len(line.chunks) > 1


def _column_region(group: Sequence[Line], rules: Sequence[Rule]) -> list[Region]:
    """The group without the one-chunk lines that lead and trail it."""
    if sum(len(line.chunks) > 1 for line in group) < 2:
        return []
    several = _in_rows(group)
    kept = [*_spanning_head(group, several[0]), *group[several[0] : several[-1] + 1]]
    kept += _tail(kept, group[several[-1] + 1 :])
    box = Box.around(line.box for line in kept)
    return [
        Region(
            lines=tuple(kept),
            box=box,
            across=_full_rules(rules, box),
            part_rules=_part_rules(rules, box),
        )
    ]


def _in_rows(group: Sequence[Line]) -> list[int]:
    """Numbers of the lines that stand in rows of several texts."""
    rows = [row for row in rows_of_lines(group) for _ in row]
    return [i for i, row in enumerate(rows) if holds_several(row)]


def _spanning_head(group: Sequence[Line], first: int) -> list[Line]:
    """One-chunk lines right above the first row: first lines of headings over columns.

    They are set in from its left, or reach down beside it: a line over the table does neither. One that begins with
    a text of the rows beneath, not their first, may hang out of the table at its right.
    """
    left, right = group[first].chunks[0].box.x1, max(line.box.x1 for line in group[first:])
    begins = [chunk.box.x0 for line in group[first : first + 2] for chunk in line.chunks]
    heads: list[Line] = []
    for above in reversed(group[max(first - MOST_HEADS, 0) : first]):
        head = heads[0] if heads else group[first]
        gap = head.box.top - above.box.bottom
        inside = left < above.box.x0 and gap < 0.8 * head.size
        hangs = above.box.x1 > right + 2 and not any(abs(above.box.x0 - at) < 1 and left < at for at in begins)
        if hangs or not (inside or gap < 0):
            break
        heads.insert(0, above)
    return heads


def _tail(kept: Sequence[Line], following: Sequence[Line]) -> Sequence[Line]:
    """The one-chunk line right beneath the last row that goes on one of its texts.

    It begins small, or stands at the left of one of them, much closer than the rows stand to each other.
    """
    line, last = following[0] if following else None, kept[-1]
    if line is None:
        return ()
    gap, height = line.box.top - last.box.bottom, median(one.box.height for one in kept)
    gaps = [lower.box.top - upper.box.bottom for upper, lower in pairwise(kept) if lower.box.top > upper.box.bottom]
    under = any(abs(chunk.box.x0 - line.box.x0) < 2 for row in kept[-3:] for chunk in row.chunks)
    apart = bool(gaps) and max(gaps) - gap > 0.5 * height and under
    return (line,) if gap < 0.3 * height and (line.chunks[0].text[:1].islower() or apart) else ()


def _full_rules(rules: Sequence[Rule], box: Box) -> tuple[float, ...]:
    return tuple(
        sorted(
            r.at
            for r in rules
            if r.horizontal
            and box.top - 6 <= r.at <= box.bottom + 6
            and min(r.end, box.x1) - max(r.start, box.x0) >= 0.9 * box.width
        )
    )


def cut_region(region: Region, at: float) -> list[Region]:
    """The parts of a region above and below a height, each without one-chunk lines at its ends."""
    rules = [Rule(horizontal=True, at=y, start=region.box.x0, end=region.box.x1) for y in region.across]
    upper = [line for line in region.lines if line.box.middle[1] < at]
    lower = [line for line in region.lines if line.box.middle[1] >= at]
    return [*_column_region(upper, [*rules, *region.part_rules]), *_column_region(lower, [*rules, *region.part_rules])]


def frame_region(words: Sequence[Word], across: Sequence[Rule], box: Box) -> Region:
    """The region of a frame: its words, and the rules that run across it."""
    return Region(
        lines=tuple(make_lines(words)),
        box=box,
        across=_full_rules(across, box),
        part_rules=_part_rules(across, box),
    )
