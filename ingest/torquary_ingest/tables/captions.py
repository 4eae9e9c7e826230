"""Lines above and below a table that speak for it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_ingest.document import Table, Word
from torquary_ingest.tables.lines import Line, make_lines
from torquary_ingest.tables.prose import PROSE_WORDS
from torquary_ingest.tables.wording import text_of
from torquary_schema.values import Box

ABOVE = 3.2
"""Line heights from one caption line to the next, or to the table."""

BELOW = 2.6
"""Line heights from the table to its first note, or from one note to the next."""

LARGER = 1.25
"""Size of a heading over that of the text beside it at least (own choice)."""

APART = 6
"""Sizes of type between a heading and the text beside it at most: further off stands another text (own choice)."""

_NUMBERED = re.compile(r"[A-Z]?\d+(?:\.\d+)*[.)]?\s")
"""How the heading of a section begins: "3.2 Connections", "R3 Torques"."""

MOST_ABOVE = 6
MOST_BELOW = 12


def add_captions(tables: Sequence[Table], words: Sequence[Word]) -> list[Table]:
    """Give each table the lines above (nearest last) and below it that stand outside all tables."""
    boxes = [t.box for t in tables if t.box is not None]
    free = [w for w in words if not any(b.holds(w.box.middle) for b in boxes)]
    lines = _blocks(make_lines(free, space=3.0))
    return [_with_captions(table, lines, boxes) for table in tables]


def _blocks(lines: Sequence[Line]) -> list[Line]:
    """Lines parted at gaps wide enough to be a column's or a table's."""
    return [Line(chunks=(chunk,), box=chunk.box) for line in lines for chunk in line.chunks]


def _with_captions(table: Table, lines: Sequence[Line], boxes: Sequence[Box]) -> Table:
    if table.box is None:
        return table
    box = table.box
    near = [line for line in lines if line.box.x1 > box.x0 - 2 and line.box.x0 < box.x1 + 2]
    others = [b for b in boxes if b is not box and b.x1 > box.x0 and b.x0 < box.x1]
    ceiling = max((b.bottom for b in others if b.bottom <= box.top + 2), default=-1e9)
    floor = min((b.top for b in others if b.top >= box.bottom - 2), default=1e9)
    near += _larger_beside(near, lines)
    above = _chain_up(box, [n for n in near if ceiling - 2 < n.box.middle[1] < box.top], ceiling)
    if not above:
        apart = [line for line in lines if line not in near and not _runs_beside(line, box, lines, boxes)]
        above = _chain_up(box, [n for n in apart if ceiling - 2 < n.box.middle[1] < box.top], ceiling)
    below = _chain_down(box, [n for n in near if box.bottom < n.box.middle[1] < floor + 2], floor)
    return replace(
        table,
        caption=tuple(_texts_of(above)),
        below=tuple(text_of(line.words) for line in below),
    )


def _texts_of(lines: Sequence[Line]) -> Iterator[str]:
    """Yield the texts of lines; a heading in larger type and what stands behind it on its height are one."""
    held: Line | None = None
    for line in lines:
        joins = held is not None and _heads(held, line)
        if held is not None and not joins:
            yield text_of(held.words)
        words = [*held.words, *line.words] if held is not None and joins else line.words
        held = replace(line, chunks=(replace(line.chunks[0], words=tuple(words)),)) if joins else line
    if held is not None:
        yield text_of(held.words)


def _larger_beside(near: Sequence[Line], lines: Sequence[Line]) -> list[Line]:
    """Return the texts in larger type left of a line and on its height: "OT 4" before "Feed-through terminal"."""
    held = {id(line) for line in near}
    return [line for line in lines if id(line) not in held and any(_heads(line, one) for one in near)]


def _heads(line: Line, beside: Line) -> bool:
    before = 0 < beside.box.x0 - line.box.x1 <= APART * line.size and line.box.level_with(beside.box)
    return before and line.size >= LARGER * beside.size


def _runs_beside(line: Line, box: Box, lines: Sequence[Line], boxes: Sequence[Box]) -> bool:
    """Tell whether the column of text that a line stands in goes on beside the table: it is then none of its lines.

    A line at the left margin over a narrow table in the middle of the page stands alone there.
    """
    beside = [one for one in (*(other.box for other in lines if other is not line), *boxes) if one is not box]
    return any(
        one.top < box.bottom and one.bottom > box.top and one.x0 < line.box.x1 and one.x1 > line.box.x0
        for one in beside
    )


def _chain_up(box: Box, lines: Sequence[Line], ceiling: float) -> list[Line]:
    """Lines above, nearest last, as long as none is too far from the next; notes of a table above are not."""
    chain: list[Line] = []
    edge = box.top
    for line in sorted(lines, key=lambda n: -n.box.bottom):
        if edge - line.box.bottom > ABOVE * line.size or len(chain) == MOST_ABOVE:
            break
        if chain and not _on_same_height(chain, line) and _ends_section(line, chain[-1]):
            break
        if _on_same_height(chain, line):
            chain.append(line)
            continue
        chain.append(line)
        edge = min(edge, line.box.top)
    chain.sort(key=lambda n: (n.box.top, n.box.x0))
    return chain[_cut(chain, ceiling, box.top) :]


def _ends_section(above: Line, heading: Line) -> bool:
    """Tell whether a line is the end of the text before a heading: it is plain, and the heading bold.

    The heading is larger too, or numbered over running text: a bold line without a number may be the list's own title.
    """
    headed = heading.bold and not above.bold
    numbered = _NUMBERED.match(text_of(heading.words)) is not None and _is_running(text_of(above.words))
    return headed and (heading.size >= LARGER * above.size or numbered)


def _is_running(text: str) -> bool:
    return text.endswith((".", "。")) or len(text.split()) >= PROSE_WORDS


def _chain_down(box: Box, lines: Sequence[Line], floor: float) -> list[Line]:
    """Lines below, as long as none is too far from the one before; captions of a table below are not."""
    chain: list[Line] = []
    edge = box.bottom
    for line in sorted(lines, key=lambda n: n.box.top):
        if line.box.top - edge > BELOW * line.size or len(chain) == MOST_BELOW:
            break
        chain.append(line)
        edge = max(edge, line.box.bottom)
    chain.sort(key=lambda n: (n.box.top, n.box.x0))
    return chain[: _cut(chain, box.bottom, floor)]


def _on_same_height(chain: Sequence[Line], line: Line) -> bool:
    return bool(chain) and chain[-1].box.level_with(line.box)


def _cut(chain: Sequence[Line], upper: float, lower: float) -> int:
    """Number of lines between two tables that go to the upper one: those above the widest gap (the first such)."""
    if not chain:
        return 0
    tops = [line.box.top for line in chain] + [lower]
    bottoms = [upper] + [line.box.bottom for line in chain]
    gaps = [top - bottom for top, bottom in zip(tops, bottoms, strict=True)]
    return next(k for k, gap in enumerate(gaps) if gap >= max(gaps) - 1.5)
