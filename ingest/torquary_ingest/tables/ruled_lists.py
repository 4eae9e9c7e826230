"""Lists of names and values under which rules of one length are drawn, beside other texts: each by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from torquary_ingest.document import Rule, Word
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import EDGE, Line, make_lines, words_left

_LEAST_RULES = 4
"""Rules of one length, one under the other, from which they are those of a list (own choice)."""

_MOSTLY = 0.8
"""Share of the lines between the rules that are a name and a value, at least (own choice)."""

_PITCH = 3.0
"""Sizes of type from one rule of a list to the next at most (own choice)."""


def part_ruled_lists(words: Sequence[Word], rules: Sequence[Rule]) -> list[Sequence[Word]]:
    """Return the words of each list, and last all others; [] where there is no such list, or nothing beside it."""
    parts: list[Sequence[Word]] = []
    left = list(words)
    for run in _runs(rules, words):
        inside, beside = _within(run, left)
        if beside and _is_list(make_lines(inside), run[0].start) and not _is_named_left(beside, run[0].start):
            parts.append(inside)
            left = words_left(left, inside)
    return [*parts, left] if parts else []


def _runs(rules: Sequence[Rule], words: Sequence[Word]) -> Iterator[list[Rule]]:
    """Yield rules of one start and end that follow each other closely, top to bottom."""
    size = max((word.size for word in words), default=0.0)
    across = sorted((rule for rule in rules if rule.horizontal), key=_reach)
    for _, alike in groupby(across, key=_reach):
        run: list[Rule] = []
        for rule in sorted(alike, key=lambda one: one.at):
            if run and rule.at - run[-1].at > _PITCH * size:
                yield from [run] if len(run) >= _LEAST_RULES else []
                run = []
            run.append(rule)
        yield from [run] if len(run) >= _LEAST_RULES else []


def _reach(rule: Rule) -> tuple[int, int]:
    return round(rule.start / EDGE), round(rule.end / EDGE)


def _within(run: Sequence[Rule], words: Sequence[Word]) -> tuple[list[Word], list[Word]]:
    """Return the words between the ends of the rules and those beside them; a line stands over the first rule too."""
    pitch = (run[-1].at - run[0].at) / (len(run) - 1)
    level = [w for w in words if run[0].at - pitch <= w.box.middle[1] <= run[-1].at + pitch / 2]
    inside = [w for w in level if run[0].start - EDGE <= w.box.middle[0] <= run[0].end + EDGE]
    return inside, words_left(level, inside)


def _is_named_left(beside: Sequence[Word], start: float) -> bool:
    """Tell whether words stand left of the rules: they may name the rows, as figures of a drawing do not."""
    left = (word.text for word in beside if word.box.middle[0] < start)
    return any(any(map(str.isalpha, text)) for text in left)


def _is_list(lines: Sequence[Line], start: float) -> bool:
    """Tell whether most lines are a name in words at the left end of the rules and a value."""
    named = (line for line in lines if len(line.chunks) == 2 and not is_figure(line.chunks[0].text))
    pairs = [line for line in named if line.box.x0 < start + 2 * line.size]
    return len(pairs) >= max(_MOSTLY * len(lines), _LEAST_RULES - 1)
