"""The values of a list of properties set as two columns of text, each under the name on its left."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from torquary_ingest.clauses.items import Item, make_item, marks_on
from torquary_ingest.clauses.tables_of_text import GOES_ON
from torquary_ingest.document.lines import CLOSE, Line
from torquary_schema.values import ScopeText

_SPACE = 0.25
"""Shares of the type size between two words."""
_SPREAD = 0.3
"""Shares of the type size by which the gaps between lines of one value differ at most."""


def set_values(values: Sequence[Line], names: Sequence[Line]) -> list[Item]:
    """Return the values of a list of properties, each under the name at the height of its first line.

    A name without a value heads those beneath it. A value that no name stands beside is left out.
    """
    named = _rows_of(names, values, names)
    found: list[Item] = []
    for value in _rows_of(values, names, names):
        beside = [name for name in named if name[0].box.level_with(value[0].box)]
        heads = [name for name in named if name[0].box.top < value[0].box.top]
        heads = [name for name in heads if not any(one.box.level_with(name[0].box) for one in values)]
        if len(beside) == 1:
            over = tuple(map(_as_heading, (*beside, *heads[-1:])))
            marks = marks_on(beside[0])
            found.append(replace(make_item(tuple(value), over), marks=marks, valued=True))
    return found


def _rows_of(lines: Sequence[Line], beside: Sequence[Line], names: Sequence[Line]) -> list[list[Line]]:
    """Return the lines of a column in rows: a close line goes on with the last if nothing stands beside it.

    Where the text beside it is over several lines too, both go on: behind a comma, with small letters set closer
    than rows are, or where neither had room for a further word and the name opens nothing anew.
    """
    tight = _tight(lines, beside)
    found: list[list[Line]] = []
    for line in lines:
        last = found[-1][-1] if found else None
        level = [other for other in beside if other.box.level_with(line.box)]
        small = all(one.text[:1].islower() for one in (line, *level))
        if last is None or _gap(last, line) >= CLOSE * line.size:
            found.append([line])
            continue
        listed = last.text.endswith(GOES_ON) or (small and _gap(last, line) <= tight)
        if not level or listed or _had_no_room(lines, line, beside, level, names):
            found[-1].append(line)
        else:
            found.append([line])
    return found


def _had_no_room(
    lines: Sequence[Line], line: Line, beside: Sequence[Line], level: Sequence[Line], names: Sequence[Line]
) -> bool:
    """Tell whether a line and those at its height go on for want of room, and the name opens nothing anew."""
    wrapped = _is_wrapped(lines, line) and all(_is_wrapped(beside, one) for one in level)
    return wrapped and not any(_opens_anew(names, one) for one in (line, *level) if one in names)


def _above(column: Sequence[Line], line: Line) -> Line | None:
    return max((one for one in column if one.box.bottom <= line.box.middle[1]), key=lambda o: o.box.top, default=None)


def _is_wrapped(column: Sequence[Line], line: Line) -> bool:
    """Tell whether a line's first word had no room behind the line above it."""
    above = _above(column, line)
    right = max(one.box.x1 for one in column)
    return above is not None and above.box.x1 + _SPACE * line.size + line.words[0].box.width > right


def _opens_anew(column: Sequence[Line], line: Line) -> bool:
    """Tell whether a line begins as an entry does: with a capital, behind a line that no comma ends."""
    above = _above(column, line)
    return line.text[:1].isupper() and not (above is not None and above.text.endswith(GOES_ON))


def _tight(lines: Sequence[Line], beside: Sequence[Line]) -> float:
    """Return the widest gap, in points, between lines of one row; -inf where all lines are as far apart."""
    gaps = [_gap(*pair) for column in (lines, beside) for pair in pairwise(column)]
    size = max((line.size for line in lines), default=0.0)
    tight = min(gaps, default=0.0) + _SPREAD * size
    return tight if any(gap > tight for gap in gaps) else -math.inf


def _gap(upper: Line, lower: Line) -> float:
    return lower.box.top - upper.box.bottom


def _as_heading(lines: Sequence[Line]) -> ScopeText:
    text = " ".join(line.text for line in lines)
    return ScopeText(kind="list_heading", text=text, page=lines[0].page)
