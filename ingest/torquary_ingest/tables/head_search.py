"""What stands over and under a body of rows in its columns: more of its rows, and the lines of its head.

Rules and shading say where a head ends, not where a table begins: a body knows its columns, and looks for what stands
in them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from torquary_ingest.tables.columns import Columns, make_columns, part_line
from torquary_ingest.tables.gutters import body_lines, find_gutters
from torquary_ingest.tables.kinds import is_figure
from torquary_ingest.tables.lines import Line, line_of
from torquary_ingest.tables.rows import LABEL, Extent
from torquary_ingest.tables.wording import text_of
from torquary_schema.values import Box
from torquary_schema.words import spot

MOST_LINES = 8
"""Lines of a head at most: two of its own in each of four languages."""

NEAR = 1.4
"""Times the body's pitch from a row, or a line of its head, to the next at most."""

HALF_WAY = 0.75
"""Times the body's pitch from a row to a name that stands between it and the next, at most."""

LEADING = 0.8
"""Shares of the font size: white between a line alone and the line that it heads, at most."""

LARGER = 1.25
"""Times the body's type in which a head may be set; larger type is a title's."""

OFF = 1.0
"""Font sizes by which a text of a head may stand out of its table at the left."""

SPACED = 2.0
"""Font sizes from a line to the next that are near in a table of close rows too."""

LONG = 9
"""Words of a text that names columns, at most: more is a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """What the rows of a table show: its columns, those with figures, and the usual distance of rows and type."""

    columns: Columns
    figured: frozenset[Extent]
    pitch: float
    size: float


def make_body(lines: Sequence[Line]) -> Body | None:
    """Return what the lines of a table show of its body; None where no columns of figures show."""
    gutters, rows = find_gutters(lines), body_lines(lines)
    if not gutters or not rows:
        return None
    box = Box.around(line.box for line in lines)
    columns = make_columns(gutters, lines, box.x0, box.x1)
    size = median(line.size for line in rows)
    steps = [lower.box.middle[1] - upper.box.middle[1] for upper, lower in pairwise(rows)]
    figured = (extent for line in rows for extent, text in _texts(line, columns) if is_figure(text))
    return Body(columns=columns, figured=frozenset(figured), pitch=median(steps), size=size)


def rows_beyond(body: Body, last: Line, lines: Iterable[Line]) -> list[Line]:
    """Return the lines that follow a table's last row and are rows of it, nearest first: no rule bounds them.

    A name that stands half-way between two rows is passed over with them.
    """
    found: list[Line] = []
    waiting: list[Line] = []
    for line in lines:
        own = _within(body, line)
        if own is None or not _is_near(body, last, own) or _runs_on(body, own):
            break
        waiting.append(own)
        if _is_row(body, own):
            found += waiting
            waiting = []
        elif _white(last, own) + body.size > HALF_WAY * body.pitch or len(waiting) > 1:
            break
        last = own
    return found


def _is_near(body: Body, one: Line, other: Line) -> bool:
    """Tell whether two lines are as near as rows, or lines of a head, are: the white between them and one line."""
    return _white(one, other) + body.size <= max(NEAR * body.pitch, SPACED * body.size)


def _white(one: Line, other: Line) -> float:
    """Return the white between two lines, below zero where they stand beside each other."""
    return max(one.box.top - other.box.bottom, other.box.top - one.box.bottom)


def _is_row(body: Body, line: Line) -> bool:
    """Tell whether a line is parted like the body's rows, with figures where they have figures."""
    pieces = part_line(line, body.columns)
    figures = {extent for extent, words in pieces if is_figure(text_of(words))} - {LABEL}
    alone = all(low == high for (low, high), _ in pieces)
    return alone and len(_extents(line, body.columns)) > 1 and bool(figures) and figures <= body.figured


def head_over(body: Body, lower: Line, above: Sequence[Line]) -> list[Line]:
    """Return the lines above a line of a table that head its columns, downwards; none where nothing stands in them.

    A line with texts in several columns heads them, and so does one text set in from the table's left or reaching
    down beside the next line. A text alone at the left belongs to the head under another line of it.
    """
    head: list[Line] = []
    waiting: list[Line] = []
    for line in [*reversed(above)][:MOST_LINES]:
        own = _within(body, line)
        if own is None or not _may_head(body, own, lower):
            break
        waiting.insert(0, own)
        if len(_extents(own, body.columns)) > 1 or _is_set_in(body, own, lower):
            head = [*waiting, *head]
            waiting = []
        lower = own
    return head


def _may_head(body: Body, line: Line, lower: Line) -> bool:
    """Tell whether a line is near enough, set in the body's type, and neither a row of figures nor a sentence."""
    if not _is_near(body, line, lower) or line.size > LARGER * body.size or _runs_on(body, line) or is_caption(line):
        return False
    texts = [text for extent, text in _texts(line, body.columns) if extent != LABEL]
    figures = sum(map(is_figure, texts))
    return 2 * figures <= len(texts) and all(len(chunk.words) < LONG for chunk in line.chunks)


def is_caption(line: Line) -> bool:
    """Tell whether a line begins with the number of a table: "Table 1, continued"."""
    return any(one.start == 0 and one.concept == "numbering" for one in spot("document_word", line.chunks[0].text))


def _runs_on(body: Body, line: Line) -> bool:
    """Tell whether a line is one text that begins at the left and runs on over other columns: a caption or sentence."""
    pieces = part_line(line, body.columns)
    return len(line.chunks) == 1 and pieces[0][0][0] == 0 and max(high for (_, high), _ in pieces) > 0


def _is_set_in(body: Body, line: Line, lower: Line) -> bool:
    """Tell whether a text alone stands close over the next line, not at the left of the table, or reaches beside it."""
    (low, _), _ = part_line(line, body.columns)[0]
    white = lower.box.top - line.box.bottom
    return white < 0 or (low > 0 and white < LEADING * line.size)


def _within(body: Body, line: Line) -> Line | None:
    """Return the texts of a line that stand over the body; None where one of them runs out of it, or none does.

    At the right a heading may be longer than what stands under it, if it begins where a column does.
    """
    left, right = body.columns.edges[0], body.columns.edges[-1]
    chunks = [chunk for chunk in line.chunks if chunk.box.x1 > left and chunk.box.x0 < right]
    begins = [side[0] for side in body.columns.sides[1:] if side[0] is not None]
    for chunk in chunks:
        hangs = chunk.box.x0 < left - OFF * line.size or chunk.box.middle[0] > right
        if hangs and not any(abs(chunk.box.x0 - at) < 1 for at in begins):
            return None
    return line_of(chunks) if chunks else None


def _extents(line: Line, columns: Columns) -> set[Extent]:
    """Return the columns that texts of a line stand in: words of one column may stand apart in a wide face."""
    return {extent for extent, _ in part_line(line, columns)}


def _texts(line: Line, columns: Columns) -> Iterator[tuple[Extent, str]]:
    return ((extent, text_of(words)) for extent, words in part_line(line, columns))
