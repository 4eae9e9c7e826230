"""Regions that rules across show: runs of rules with the same ends, and the rows and head outside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

from torquary_ingest.document import Rule
from torquary_ingest.tables.head_search import LONG, head_over, is_caption, make_body, rows_beyond
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line, holds_several, make_lines, rows_of_lines
from torquary_ingest.tables.prose import PROSE_WORDS
from torquary_ingest.tables.region import Region, part_rules
from torquary_schema.values import Box

SAME_END = 7.0
"""Points: rules whose ends differ by less belong to one table."""

SHORTEST = 40.0
"""Points: shorter rules bound no table."""


PADDING = 0.55
"""Share of the usual distance of rules that stands white over a row's text at most; the text has its share too."""

ONE_ROW = 1.3
"""Times the usual distance of rules up to which two of them bound one row."""

UNDERLINE = 1.5
"""Type sizes between a heading and the rule under it at most (own choice)."""

HEAD_WHITE = 3.0
"""Type sizes of white from the headings between two rules to what follows them, at most (own choice)."""

LEAST_ROWS = 2
"""Rows that show how far rules usually stand apart."""


def without_underlines(rules: Sequence[Rule], lines: Sequence[Line]) -> list[Rule]:
    """Return the rules but those that underline the headings of lists one under the other, and bound no table.

    Each such rule stands right under a bold line by itself, over rows that are not bold, as do all with its ends.
    """
    underlines = [group for group in _rule_groups(rules) if all(_underlines(rule, lines) for rule in group)]
    under = {id(rule) for group in underlines for rule in group}
    return [rule for rule in rules if id(rule) not in under]


def _underlines(rule: Rule, lines: Sequence[Line]) -> bool:
    beside = [line for line in lines if line.box.x0 < rule.end and rule.start < line.box.x1]
    above = [line for line in beside if line.box.middle[1] < rule.at]
    below = [line for line in beside if line.box.middle[1] > rule.at]
    if not (above and below):
        return False
    heading, row = max(above, key=lambda n: n.box.bottom), min(below, key=lambda n: n.box.top)
    near = rule.at - heading.box.bottom <= UNDERLINE * heading.size
    return near and heading.bold and not row.bold and len(heading.chunks) == 1 < len(row.chunks)


def find_between_rules(lines: Sequence[Line], prose: set[int], rules: Sequence[Rule]) -> list[Region]:
    """Return the regions between rules; `prose` are the ids of words in running text."""
    regions: list[Region] = []
    for group in _rule_groups(rules):
        run: list[Rule] = [group[0]]
        step = median(lower.at - upper.at for upper, lower in pairwise(group))
        for at, rule in enumerate(group[1:], start=1):
            inside = _lines_inside(lines, run[-1], rule)
            next_rows = _lines_inside(lines, rule, group[at + 1]) if at + 1 < len(group) else []
            captioned = len(run) == 1 and len(inside) == 1 and is_caption(inside[0])
            titled = captioned or _opens_with_title(run, [*inside, *next_rows])
            row = rule.at - run[-1].at <= ONE_ROW * step
            if not titled and (not inside or _tabular(inside, prose, most=PROSE_WORDS * 2 if row else LONG)):
                run.append(rule)
                continue
            regions += _region_of(run, lines, rules)
            run = [rule]
        regions += _region_of(run, lines, rules)
    return regions


def _rule_groups(rules: Sequence[Rule]) -> list[list[Rule]]:
    """Horizontal rules with the same ends, from the top down; groups of at least two, none within another's rows."""
    groups: list[list[Rule]] = []
    for rule in sorted((r for r in rules if r.horizontal and r.end - r.start > SHORTEST), key=lambda r: r.at):
        for group in groups:
            if abs(group[0].start - rule.start) < SAME_END and abs(group[0].end - rule.end) < SAME_END:
                group.append(rule)
                break
        else:
            groups.append([rule])
    several = [group for group in groups if len(group) > 1]
    return [group for group in several if not any(_is_within(group, other) for other in several)]


def _is_within(group: Sequence[Rule], other: Sequence[Rule]) -> bool:
    """Tell whether wider rules run between the rules of a group, over all of their width: rules under some columns."""
    first, last, wide = group[0], group[-1], other[0]
    wider = wide.start < first.start + SAME_END and wide.end > first.end - SAME_END and other is not group
    return wider and any(first.at < rule.at < last.at for rule in other)


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


def _tabular(lines: Sequence[Line], prose: set[int], *, most: int) -> bool:
    """Tell whether lines between two rules look like rows of a table rather than text.

    A line alone, of fewer than `most` words, is a name over the rows that follow.
    """
    words = [w for line in lines for w in line.words]
    if sum(id(w) in prose for w in words) > 0.5 * len(words):
        return False
    several = [holds_several(row) for row in rows_of_lines(lines)]
    return sum(several) >= 0.4 * len(several) or (len(lines) == 1 and len(words) < most)


def _opens_with_title(run: Sequence[Rule], following: Sequence[Line]) -> bool:
    """Tell whether a title of another table follows the last rule: a line alone, further down than a row's padding.

    Under it stands that table's head: texts side by side without a figure.
    """
    steps = [lower.at - upper.at for upper, lower in pairwise(run)]
    if len(steps) < LEAST_ROWS or len(following) < 2:
        return False
    title, head = following[0], following[1]
    white = title.box.top - run[-1].at
    alone = len(title.chunks) == 1 and title.box.x0 < run[-1].start + SAME_END + title.size
    headed = len(head.chunks) > 1 and not any(is_figure(chunk.text) for chunk in head.chunks)
    return alone and headed and white > PADDING * median(steps)


def _region_of(run: Sequence[Rule], lines: Sequence[Line], rules: Sequence[Rule]) -> list[Region]:
    """The region of a run of rules, with what stands over and under it in its columns; none without rows of texts."""
    if len(run) < 2:
        return []
    inside = _lines_inside(lines, run[0], run[-1])
    if sum(len(line.chunks) > 1 for line in inside) < 2 or _is_head_alone(run, inside, _below(lines, run[-1])):
        return []
    inside = _grown(inside, run[0].at, [n for n in lines if n.box.middle[1] < run[0].at - 2], _below(lines, run[-1]))
    box = Box(x0=min(r.start for r in run), top=run[0].at, x1=max(r.end for r in run), bottom=run[-1].at)
    box = box.union(Box.around(line.box for line in inside))
    across = tuple(rule.at for rule in run)
    return [Region(lines=tuple(inside), box=box, across=across, part_rules=part_rules(rules, box))]


def _is_head_alone(run: Sequence[Rule], inside: Sequence[Line], below: Sequence[Line]) -> bool:
    """Tell whether two rules hold the headings of rows that follow with no rule under them, on this page at least."""
    if len(run) > 2 or not below or any(is_figure(chunk.text) for line in inside for chunk in line.chunks):
        return False
    rows = [line for line in below if len(line.chunks) > 1][:1]
    first, last = below[0], inside[-1]
    near = first.box.top - last.box.bottom <= HEAD_WHITE * first.size
    return near and any(len(row.chunks) >= len(last.chunks) and is_figure(row.chunks[-1].text) for row in rows)


def _below(lines: Sequence[Line], rule: Rule) -> list[Line]:
    return [line for line in lines if line.box.middle[1] > rule.at + 2]


def _grown(inside: list[Line], top: float, above: Sequence[Line], below: Sequence[Line]) -> list[Line]:
    """Return lines between rules with the rows that run on above and below them, and with the head over them.

    `top` is where the upper rule runs: a head stands close over it, however far the first row is set under it.
    """
    body = make_body(inside)
    if body is None:
        return inside
    inside = [*inside, *rows_beyond(body, inside[-1], below)]
    rows = rows_beyond(body, inside[0], reversed(above))[::-1]
    higher = [line for line in above if not rows or line.box.middle[1] < rows[0].box.top]
    first = rows[0] if rows else _reaching_to(inside[0], top)
    return [*head_over(body, first, higher), *rows, *inside]


def _reaching_to(line: Line, top: float) -> Line:
    return replace(line, box=replace(line.box, top=min(top, line.box.top)))
