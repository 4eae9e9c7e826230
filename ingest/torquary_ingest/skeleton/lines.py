"""The lines of each page, set once; and those at the head of a sheet in blocks of one size: a title is one block."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from torquary_ingest.document import Page, Table, Word
from torquary_ingest.document.lines import Line, set_lines

_ALIKE = 1.08
"""Sizes of type that are taken for one: the larger over the smaller."""

LARGE = 1.1
"""Size of a title over the usual size of the page's words at least."""

_PITCH = 1.9
"""Sizes of type from one baseline of a block to the next at most: wider blanks part two blocks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageLines:
    """The lines of live text on a page, top to bottom, each with the size of most of its letters in points.

    Text of pictures counts only where a page has no live text: a logo is none. `free` are the lines outside tables,
    `unframed` those outside ruled ones: a table without rules may have taken a title in.
    """

    page: int
    height: float
    lines: tuple[Line, ...]
    free: tuple[Line, ...]
    unframed: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Lines of one size under each other. `size` in points (0 for files without geometry), `scale` over the usual size
    of the sheet's words; `top` and `bottom` in points from the top of the page.
    """

    page: int
    lines: tuple[str, ...]
    size: float = 0.0
    scale: float = 1.0
    top: float = 0.0
    bottom: float = 0.0
    x0: float = 0.0
    x1: float = 0.0

    @property
    def text(self) -> str:
        """The lines joined by blanks."""
        return " ".join(self.lines)


def set_page(page: Page, tables: Iterable[Table]) -> PageLines:
    """Return the lines of a page."""
    live = tuple(word for word in page.words if word.sure is None)
    lines = set_lines(Page(number=page.number, words=live or page.words))
    lines = tuple(replace(line, size=usual_size(line.words)) for line in lines)
    boxes = [(table.box, table.means) for table in tables if table.page == page.number and table.box is not None]
    return PageLines(
        page=page.number,
        height=page.height,
        lines=lines,
        free=tuple(line for line in lines if not any(box.holds(line.box.middle) for box, _ in boxes)),
        unframed=tuple(
            line for line in lines if not any(m == "ruled" and box.holds(line.box.middle) for box, m in boxes)
        ),
    )


def set_blocks(lines: Sequence[Line], usual: float) -> tuple[Block, ...]:
    """Return lines of a page in blocks, top to bottom; `usual` is the size of most words of the sheet."""
    groups: list[list[Line]] = []
    for line in (line for line in lines if not _is_doubtful(line)):
        group = next((g for g in reversed(groups) if _goes_on(g[-1], line)), None)
        if group is None:
            groups.append([line])
        else:
            group.append(line)
    return tuple(_make_block(group, usual) for group in groups)


def usual_size(words: Sequence[Word]) -> float:
    """Return the size in points in which most letters of these words are set; 1 if there are none."""
    sizes = sorted((word.size, len(word.text)) for word in words)
    half = sum(letters for _, letters in sizes) / 2
    for size, letters in sizes:
        half -= letters
        if half <= 0:
            return size or 1.0
    return 1.0


def _is_doubtful(line: Line) -> bool:
    """Tell a line that its print makes doubtful; a scanned one is read all the same."""
    return any(doubt.code != "scanned_figure" for word in line.words for doubt in word.doubts)


def _goes_on(above: Line, line: Line) -> bool:
    alike = max(above.size, line.size) <= _ALIKE * min(above.size, line.size)
    near = 0 < line.box.bottom - above.box.bottom <= _PITCH * line.size
    return alike and near and above.box.x0 < line.box.x1 and line.box.x0 < above.box.x1


def _make_block(group: Sequence[Line], usual: float) -> Block:
    size = max(line.size for line in group)
    return Block(
        page=group[0].page,
        lines=tuple(line.text for line in group),
        size=size,
        scale=size / usual,
        top=group[0].box.top,
        bottom=group[-1].box.bottom,
        x0=min(line.box.x0 for line in group),
        x1=max(line.box.x1 for line in group),
    )
