"""Rows and cells of boxes that a style sheet lays out as a table: CSS Grid 1, rows of flexible boxes, `display: table`.

Only boxes that hold short texts are cells: what lays out a whole page is no table.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import groupby

from lxml import etree

from torquary_ingest.openers.web_page.sight import BLOCKS, Looks

Box = tuple[etree._Element, int]
"""A cell and the columns it takes."""

_REPEAT = re.compile(r"repeat\(\s*(\d{1,3})\s*,(.*)\)\Z", re.DOTALL)
_TRACK = re.compile(r"repeat\([^()]*(?:\([^()]*\)[^()]*)*\)|[\w-]+\([^()]*\)|\[[^\]]*\]|[^\s\[\]]+")
_SPAN = re.compile(r"span\s+(\d{1,3})\Z")
_LINES = re.compile(r"(\d{1,3})\s*/\s*(-?\d{1,3})\Z")

_LONGEST = 240
"""Letters of a cell at most (own choice): longer texts are paragraphs."""
_MOST_BLOCKS = 2
"""Blocks inside a cell at most (own choice): a name with a line beneath."""
_NO_CELL_NAMES = (
    "table dl ul ol h1 h2 h3 h4 h5 h6 form section article main aside header footer"
)
_NO_CELLS = frozenset(_NO_CELL_NAMES.split())


def lay_rows(looks: Looks, element: etree._Element) -> list[list[Box]]:
    """Return the rows of cells that the styles lay out inside an element; [] where they lay out no table."""
    gridded = looks.style(element, "display").endswith("grid")
    rows = list(_grid_rows(looks, element)) if gridded else _equal_rows(looks, element)
    cells = [cell for row in rows for cell, _ in row]
    return rows if len(rows) > 1 and all(map(_is_cell, cells)) else []


def _grid_rows(looks: Looks, element: etree._Element) -> Iterator[list[Box]]:
    """Yield the rows of a grid: its children one after the other, each in the next columns that are free."""
    width = _tracks(looks.style(element, "grid-template-columns"))
    row: list[Box] = []
    used = 0
    for child in _items(looks, element) if width > 1 else ():
        span = _span_of(looks, child, width)
        if used + span > width:
            yield row
            row, used = [], 0
        row.append((child, span))
        used += span
    if row:
        yield row


def _tracks(template: str) -> int:
    """Return how many columns a template has, 0 where the width of the screen decides."""
    count = 0
    for track in _TRACK.findall(template):
        repeat = _REPEAT.match(track)
        if repeat is not None:
            count += int(repeat[1]) * _tracks(repeat[2])
        elif track.startswith("repeat"):
            return 0
        elif not track.startswith("["):
            count += 1
    return 0 if template in ("", "none", "subgrid") else count


def _span_of(looks: Looks, child: etree._Element, width: int) -> int:
    told = looks.style(child, "grid-column")
    if span := _SPAN.match(told):
        return min(int(span[1]), width)
    if lines := _LINES.match(told):
        last = int(lines[2])
        return max(1, min((width + 2 + last if last < 0 else last) - int(lines[1]), width))
    return 1


def rows_among(looks: Looks, element: etree._Element) -> Iterator[tuple[list[etree._Element], list[list[Box]]]]:
    """Yield the children of an element that lay out rows of one table, with these: rows that follow one another."""
    for width, run in groupby(_items(looks, element), key=lambda child: len(_cells_of_row(looks, child))):
        children = list(run)
        rows = [[(cell, 1) for cell in _cells_of_row(looks, child)] for child in children]
        if width > 1 and len(rows) > 1 and all(_is_cell(cell) for row in rows for cell, _ in row):
            yield children, rows


def _equal_rows(looks: Looks, element: etree._Element) -> list[list[Box]]:
    """Return the children of an element as rows, where each lays out as many cells beside each other; else []."""
    rows = [[(cell, 1) for cell in _cells_of_row(looks, child)] for child in _items(looks, element)]
    return rows if len({len(row) for row in rows}) == 1 and len(rows[0]) > 1 else []


def _cells_of_row(looks: Looks, element: etree._Element) -> list[etree._Element]:
    """Return the boxes that an element lays out beside each other; [] where it lays out no row."""
    display = looks.style(element, "display")
    cells = list(_items(looks, element)) if display == "table-row" or display.endswith(("flex", "grid")) else []
    if display.endswith("flex") and looks.style(element, "flex-direction").startswith("column"):
        return []
    gridded = display.endswith("grid")
    return cells if not gridded or _tracks(looks.style(element, "grid-template-columns")) == len(cells) else []


def _items(looks: Looks, element: etree._Element) -> Iterator[etree._Element]:
    """Yield the children that take a place; those of a box that is none itself (`display: contents`) stand for it."""
    for child in element:
        if not isinstance(child.tag, str) or not looks.of(child).placed:
            continue
        if looks.style(child, "display") == "contents":
            yield from _items(looks, child)
        else:
            yield child


def _is_cell(element: etree._Element) -> bool:
    inner: Sequence[etree._Element] = list(element.iterdescendants())
    if element.tag in _NO_CELLS or any(one.tag in _NO_CELLS for one in inner):
        return False
    blocks = [one for one in inner if one.tag in BLOCKS]
    return len(blocks) <= _MOST_BLOCKS and len("".join(map(str, element.itertext())).strip()) <= _LONGEST
