"""The lines at the head of a sheet: those over its first table, which speak for all of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from torquary_ingest.document import Document, Table
from torquary_ingest.document.lines import Line, set_lines
from torquary_ingest.headings.sense import make_sense
from torquary_schema.words import spot

_HEAD_LINES = 8


def read_head(document: Document, tables: Sequence[Table]) -> tuple[str, ...]:
    """Return the first lines of the first page that was read closely, top to bottom, down to its first table.

    A line of torques over one table ("Torques of contactors") speaks for that table alone where another table has
    a line of its own.
    """
    if not document.pages:
        return ()
    page = document.pages[0]
    end = min((_first_row(table) for table in tables if table.page == page.number), default=math.inf)
    live = tuple(word for word in page.words if word.sure is None)  # a logo is no line
    printed = set_lines(replace(page, words=live or page.words))
    lines = [line for line in printed[:_HEAD_LINES] if line.box.top < end]
    kept = takewhile(lambda line: not _opens_table(line, lines), lines)
    own = find_own_lines(tables)
    return tuple(line.text for line in kept if line.text not in own)


def find_own_lines(tables: Sequence[Table]) -> frozenset[str]:
    """Return the lines of torques right over one table where another has a line of its own: they say nothing of it."""
    over = {table.caption[-1] for table in tables if table.caption}
    return frozenset(line for line in over if len(over) > 1 and make_sense(line).has("torque"))


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
    beside = [o for o in lines if o is not line and o.box.level_with(line.box)]
    return any(make_sense(other.text).fields or other.text[:1].isdigit() for other in beside)
