"""Where on a page tables without a full grid may stand: between rules, and where lines fall into columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, takewhile
from math import inf
from statistics import median

from torquary_ingest.document import Rule, Word
from torquary_ingest.tables.between_rules import find_between_rules, without_underlines
from torquary_ingest.tables.drawings_beside import part_drawing
from torquary_ingest.tables.head_search import head_over, make_body
from torquary_ingest.tables.lines import Line, holds_several, make_lines, rows_of_lines, words_left
from torquary_ingest.tables.page_blocks import part_blocks
from torquary_ingest.tables.page_columns import part_columns
from torquary_ingest.tables.prose import find_prose
from torquary_ingest.tables.region import NEAR, Region, make_region
from torquary_ingest.tables.ruled_lists import part_ruled_lists
from torquary_ingest.tables.twin_lists import part_twins
from torquary_schema.values import Box

_LOOKED_BACK = 12
"""Lines looked back at."""

_MOST_ALONE = 3
"""Lines alone, one under the other, that may stand in a table."""


def find_regions(words: Sequence[Word], rules: Sequence[Rule]) -> list[Region]:
    """Regions bounded by rules first, then groups of lines that fall into chunks; blocks of a page by themselves."""
    parts = [part for part in _parts(words, rules) if part]
    if len(parts) < 2:
        return _regions_in(words, rules)
    boxes = [Box.around(word.box for word in part) for part in parts]
    owned = [_rules_of(box, rules, boxes) for box in boxes]
    return [region for part, own in zip(parts, owned, strict=True) for region in _regions_in(part, own)]


def _rules_of(box: Box, rules: Sequence[Rule], boxes: Sequence[Box]) -> list[Rule]:
    """Return the rules that run where a part of the page stands, as far as the parts beside it."""
    left, right = _sides(box, boxes)
    across = (rule for rule in rules if rule.horizontal and box.top - NEAR <= rule.at <= box.bottom + NEAR)
    own = (rule for rule in across if rule.start < box.x1 and box.x0 < rule.end)
    cut = [replace(rule, start=max(rule.start, left), end=min(rule.end, right)) for rule in own]
    return [*cut, *(rule for rule in rules if not rule.horizontal)]


def _sides(box: Box, boxes: Sequence[Box]) -> tuple[float, float]:
    """Return the middle of the white left of a part and right of it, as far as other parts stand beside it."""
    beside = [other for other in boxes if other.top < box.bottom and box.top < other.bottom]
    left = max(((other.x1 + box.x0) / 2 for other in beside if other.x1 <= box.x0), default=-inf)
    right = min(((box.x1 + other.x0) / 2 for other in beside if box.x1 <= other.x0), default=inf)
    return left, right


def _parts(words: Sequence[Word], rules: Sequence[Rule]) -> Iterator[Sequence[Word]]:
    """Yield the words of the page by columns, blocks under headings, and lists with rules of their own."""
    for column in part_columns(words) or part_drawing(words) or [words]:
        for block in part_blocks(column) or [column]:
            for part in part_twins(block) or [block]:
                yield from part_ruled_lists(part, rules) or [part]


def _regions_in(words: Sequence[Word], rules: Sequence[Rule]) -> list[Region]:
    lines = make_lines(words)
    prose = find_prose(lines)
    rules = without_underlines(rules, lines)
    ruled = find_between_rules(lines, prose, rules)
    taken = (word for region in ruled for line in region.lines for word in line.words)
    rest = make_lines([word for word in words_left(words, taken) if id(word) not in prose])
    return ruled + _in_columns(rest, rules)


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
    # Cells of a head set at heights of their own stand beside each other: none of their lines stands alone.
    *before, own = rows_of_lines([*group[-_LOOKED_BACK:], line])
    alone = len(list(takewhile(_is_alone, reversed(before))))
    return alone < _MOST_ALONE or not _is_alone(own)


def _is_alone(row: Sequence[Line]) -> bool:
    return len(row) == 1 and len(row[0].chunks) == 1


def _column_region(group: Sequence[Line], rules: Sequence[Rule]) -> list[Region]:
    """The group without the one-chunk lines that lead and trail it."""
    if sum(len(line.chunks) > 1 for line in group) < 2:
        return []
    several = _in_rows(group)
    rows = group[several[0] : several[-1] + 1]
    body = make_body(rows)
    kept = [*(head_over(body, rows[0], group[: several[0]]) if body else ()), *rows]
    kept += _tail(kept, group[several[-1] + 1 :])
    return [make_region(kept, rules)]


def _in_rows(group: Sequence[Line]) -> list[int]:
    """Numbers of the lines that stand in rows of several texts."""
    rows = [row for row in rows_of_lines(group) for _ in row]
    return [i for i, row in enumerate(rows) if holds_several(row)]


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


def cut_region(region: Region, at: float) -> list[Region]:
    """The parts of a region above and below a height, each without one-chunk lines at its ends."""
    rules = [Rule(horizontal=True, at=y, start=region.box.x0, end=region.box.x1) for y in region.across]
    upper = [line for line in region.lines if line.box.middle[1] < at]
    lower = [line for line in region.lines if line.box.middle[1] >= at]
    return [*_column_region(upper, [*rules, *region.part_rules]), *_column_region(lower, [*rules, *region.part_rules])]


def frame_region(words: Sequence[Word], across: Sequence[Rule], box: Box) -> Region:
    """The region of a frame: its words, and the rules that run across it."""
    return make_region(make_lines(words), across, box)
