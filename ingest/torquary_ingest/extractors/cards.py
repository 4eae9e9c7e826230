"""Cards: lists that stand side by side, each under the type of the device that it is of."""

from __future__ import annotations

import re
from collections.abc import Sequence

from torquary_ingest.document import Cell, Entry
from torquary_ingest.document.lines import Line
from torquary_ingest.headings.designations import find_types
from torquary_schema.words import spot

_LARGER = 1.08
"""Size of a card's title over that of the text under it at least, as of all headings."""
_BETWEEN = 8.0
"""Type sizes of a card's title between it and its list at most: a description and names of terminals stand between."""
_CODE = re.compile(r"(?<![\w-])[A-Z][A-Z\d]*-[A-Z\d]+(?![\w-])")


def find_title(lines: Sequence[Line], first: Line) -> Entry | None:
    """Return the type of a device over the list that begins with a line, if another stands beside it at its height.

    Two types at one height each head what is set under them at the same left edge.
    """
    over = [line for line in lines if line.box.bottom <= first.box.top and _heads(line, first)]
    title = max(over, key=lambda line: line.box.top, default=None)
    if title is None or first.box.top - title.box.bottom > _BETWEEN * title.size or not _is_type(title):
        return None
    beside = [line for line in lines if line is not title and _level(line, title)]
    if not any(line.size == title.size and _is_type(line) for line in beside):
        return None
    return Entry(field="device", cell=Cell(row=1, column=1, text=title.text, box=title.box, words=title.words))


def _heads(line: Line, first: Line) -> bool:
    return line.size > _LARGER * first.size and abs(line.box.x0 - first.box.x0) < first.size


def _level(line: Line, other: Line) -> bool:
    return line.box.top < other.box.middle[1] < line.box.bottom


def _is_type(line: Line) -> bool:
    """Tell whether a line names a type, and no terminal."""
    typed = bool(find_types(line.text)) or _CODE.search(line.text) is not None
    return typed and not any(match.concept == "terminal" for match in spot("tightened", line.text))
