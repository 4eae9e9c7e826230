"""What the head of a sheet says of the whole: its title, and the lines above its first table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import takewhile

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.headings.sense import make_sense
from torquary_schema.words import spot

_HEAD_LINES = 8
_HEAD_LENGTH = 80
"""Letters of a line that may be a title at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetHead:
    """The title of a sheet, and the lines above its first table, top to bottom, with the page they stand on."""

    title: str = ""
    lines: tuple[str, ...] = ()
    page: int | None = None


def read_sheet_head(document: Document, tables: Sequence[Table]) -> SheetHead:
    """Return the title, and the first lines of the first page that was read closely, down to its first table.

    A line of torques over one table ("Torques of contactors") speaks for that table alone where another table has
    a line of its own.
    """
    if not document.pages:
        return SheetHead(title=document.title)
    page = document.pages[0]
    end = min((_first_row(table) for table in tables if table.page == page.number), default=math.inf)
    lines = [line for line in set_lines(page)[:_HEAD_LINES] if line.box.top < end]
    kept = takewhile(lambda line: not _opens_table(line, lines), lines)
    over = {table.caption[-1] for table in tables if table.caption}
    own = {line for line in over - {document.title} if len(over) > 1 and make_sense(line).has("torque")}
    texts = tuple(line.text for line in kept if line.text not in own)
    return SheetHead(title=_whole_line(document.title, texts), lines=texts, page=page.number)


def _whole_line(title: str, lines: Sequence[str]) -> str:
    """Return the line of a sheet's head that holds its title ("Time relay TR 2" for "TR 2"), else the title.

    The title that a file notes of itself is often a part of the printed one.
    """
    if not title:
        return ""
    return next((line for line in lines if f" {title} " in f" {line} " and len(line) <= _HEAD_LENGTH), title)


def _first_row(table: Table) -> float:
    """Return the height below which lines are a table's own: its frame, or without one the heading of its torques.

    A table without a frame may have taken the title in; what stands under the word for torque is none.
    """
    if table.means == "ruled":
        return table.box.top if table.box is not None else math.inf
    heads = (cell.box.bottom for cell in table.cells if cell.box is not None and make_sense(cell.text).has("torque"))
    return min(heads, default=math.inf) if table.means == "aligned" else math.inf


def _opens_table(line: Line, lines: Sequence[Line]) -> bool:
    """Tell whether a line is the heading of a table or the first pair of a list: what follows names no device."""
    sense = make_sense(line.text)
    if len(set(sense.fields)) > 1 and sense.unit("torque", "area", "gauge"):
        return True
    if not (sense.fields or sense.figure) or spot("family", line.text):
        return False
    beside = [o for o in lines if o is not line and o.box.top < line.box.middle[1] < o.box.bottom]
    return any(make_sense(other.text).fields or other.text[:1].isdigit() for other in beside)
