"""Cards: lists that stand side by side, each under the type of the device that it is of."""

from __future__ import annotations

from collections.abc import Sequence

from torquary_ingest.document import Cell, Entry
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.designations import PART_TYPE, find_types
from torquary_ingest.skeleton.headings import LARGER
from torquary_schema.roles import says_terminal

_BETWEEN = 8.0
"""Type sizes of a card's title between it and its list at most: a description and names of terminals stand between."""


def find_title(lines: Sequence[Line], first: Line) -> Entry | None:
    """Return the type of a device over the list that begins with a line, if another stands beside it at its height.

    Two types at one height each head what is set under them at the same left edge.
    """
    over = [line for line in lines if line.box.bottom <= first.box.top and _heads(line, first)]
    title = max(over, key=lambda line: line.box.top, default=None)
    if title is None or first.box.top - title.box.bottom > _BETWEEN * title.size or not _is_type(title):
        return None
    beside = [line for line in lines if line is not title and line.box.level_with(title.box)]
    if not any(line.size == title.size and _is_type(line) for line in beside):
        return None
    return Entry(field="device", cell=Cell(row=1, column=1, text=title.text, box=title.box, words=title.words))


def _heads(line: Line, first: Line) -> bool:
    return line.size > LARGER * first.size and abs(line.box.x0 - first.box.x0) < first.size


def _is_type(line: Line) -> bool:
    """Tell whether a line names a type, and no terminal."""
    typed = bool(find_types(line.text)) or PART_TYPE.search(line.text) is not None
    return typed and not says_terminal(line.text)
