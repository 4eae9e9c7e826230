"""Cards: lists that stand side by side, each under the type of the device that it is of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from torquary_ingest.document import Cell, Entry, Page
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.designations import PART_TYPE, find_types
from torquary_ingest.skeleton.headings import LARGER
from torquary_schema.roles import says_terminal

_BETWEEN = 8.0
"""Type sizes of a card's title between it and its list at most: a description and names of terminals stand between."""


def find_title(lines: Sequence[Line], first: Line, page: Page | None = None) -> Entry | None:
    """Return the type of a device over the list that begins with a line, if another stands beside it at its height.

    Two types at one height each head what is set under them at the same left edge, or in the same frame of the page.
    """
    title = max(_lines_over(lines, first, page), key=lambda line: line.box.top, default=None)
    if title is None or first.box.top - title.box.bottom > _BETWEEN * title.size or not names_device(title.text):
        return None
    beside = [line for line in lines if line is not title and line.box.level_with(title.box)]
    if not any(line.size == title.size and names_device(line.text) for line in beside):
        return None
    return Entry(field="device", cell=Cell(row=1, column=1, text=title.text, box=title.box, words=title.words))


def _lines_over(lines: Sequence[Line], first: Line, page: Page | None) -> list[Line]:
    """Return the larger lines over a line that begin where it does, or stand in its frame."""
    larger = [line for line in lines if line.box.bottom <= first.box.top and line.size > LARGER * first.size]
    frames = list(_frames_over(page, first)) if page is not None else []
    return [line for line in larger if abs(line.box.x0 - first.box.x0) < first.size or _is_framed(line, larger, frames)]


def _frames_over(page: Page, first: Line) -> Iterator[tuple[float, float]]:
    """Yield from where to where the rules and shades reach that stand over a line, or around it."""
    reaches = [(rule.start, rule.end, rule.at) for rule in page.rules if rule.horizontal]
    reaches += [(shade.box.x0, shade.box.x1, shade.box.top) for shade in page.shades]
    for start, end, top in reaches:
        if top < first.box.top and start - 1 <= first.box.x0 and first.box.x1 <= end + 1:
            yield start - 1, end + 1


def _is_framed(title: Line, lines: Sequence[Line], frames: Sequence[tuple[float, float]]) -> bool:
    """Tell whether a frame reaches over a title, and over no other one at its height."""
    beside = [line for line in lines if line is not title and line.box.level_with(title.box)]
    return any(
        start <= title.box.x0 and title.box.x1 <= end and not any(start < line.box.middle[0] < end for line in beside)
        for start, end in frames
    )


def names_device(text: str) -> bool:
    """Tell whether a text names a type, and no terminal."""
    typed = bool(find_types(text)) or PART_TYPE.search(text) is not None
    return typed and not says_terminal(text)
