"""Lines of a page outside its tables, and which of them make one block: a paragraph, a list, a row and its figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.checks.ledger.mentions import is_bare_figure
from torquary_ingest.document import Page, Table
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.tables.turning import turn_box
from torquary_schema.values import Box

_TURNS = (90, 180, 270)
_GAP = 1.6
"""Type sizes of white between lines of one block at most."""
_BESIDE = 8.0
"""Type sizes of white between texts of one row at most; a bare figure belongs to its row from anywhere."""

_APART = 10_000.0
"""Points between groups of lines whose places are not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Lines that stand together, top to bottom."""

    page: int
    lines: tuple[Line, ...]

    @property
    def box(self) -> Box:
        """The rectangle around its lines, in points."""
        return Box.around(line.box for line in self.lines)

    @property
    def printed(self) -> str:
        """All that is printed in the block, a line for each line."""
        return "\n".join(line.text for line in self.lines)


def free_lines(page: Page, tables: Sequence[Table]) -> tuple[Line, ...]:
    """Return the lines of a page outside its tables, those printed on their side among them.

    Where the page has no words of its own, they are the lines above and below its tables.
    """
    if not page.words:
        return tuple(_lines_of_tables(page, tables))
    return (*set_lines(page, tables), *(line for turn in _TURNS for line in _turned_lines(page, tables, turn)))


def _lines_of_tables(page: Page, tables: Sequence[Table]) -> Iterator[Line]:
    """Yield the lines above and below tables without places, each once; the groups stand apart, in order."""
    seen: set[str] = set()
    groups = (group for table in tables for group in (table.caption, table.below))
    for number, group in enumerate(groups):
        for at, text in enumerate(group):
            if text not in seen:
                top = number * _APART + at
                yield Line(page=page.number, words=(), text=text, box=Box(x0=0, top=top, x1=1, bottom=top + 1), size=1)
            seen.add(text)


def _turned_lines(page: Page, tables: Sequence[Table], turn: int) -> Iterator[Line]:
    """Yield the lines printed at an angle, in their boxes on the page."""
    boxes = [table.box for table in tables if table.box is not None]
    words = [w for w in page.words if w.turn == turn and not any(box.holds(w.box.middle) for box in boxes)]
    if not words:
        return
    upright = {replace(w, box=turn_box(w.box, turn, page.width, page.height), turn=0): w for w in words}
    for line in set_lines(replace(page, words=tuple(upright), tables=None)):
        own = tuple(upright[word] for word in line.words)
        yield replace(line, words=own, box=Box.around(word.box for word in own))


def cut_blocks(lines: Sequence[Line]) -> tuple[Block, ...]:
    """Return the blocks of a page's lines, in the order in which they begin."""
    groups: list[list[Line]] = []
    for line in lines:
        near = [group for group in groups if any(_stand_together(other, line) for other in group)]
        joined = [line for group in near for line in group]
        groups = [group for group in groups if group not in near]
        groups.append([*joined, line])
    blocks = (sorted(group, key=lambda line: (line.box.top, line.box.x0)) for group in groups)
    made = [Block(page=group[0].page, lines=tuple(group)) for group in blocks]
    return tuple(sorted(made, key=lambda block: (block.box.top, block.box.x0)))


def _stand_together(one: Line, other: Line) -> bool:
    across = max(one.box.x0, other.box.x0) - min(one.box.x1, other.box.x1)
    down = max(one.box.top, other.box.top) - min(one.box.bottom, other.box.bottom)
    size = max(one.size, other.size)
    if down <= -0.5 * min(one.box.height, other.box.height):
        return across <= _BESIDE * size or is_bare_figure(one.text) or is_bare_figure(other.text)
    return down <= _GAP * min(one.size, other.size) and across <= 0
