"""The title of a file whose tables are given: a line over all of them, not the name of the first one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable

from torquary_ingest.document import Table
from torquary_schema.words import spot

_WITH_DIGITS = re.compile(r"\w*\d\w*")


def find_title(tables: Iterable[Table], names: Collection[str] = ()) -> str:
    """Return the first line that stands over every table that has lines; "" if each has its own.

    `names` (of worksheets) give the title only where nothing else does.
    """
    captions = [table.caption for table in tables if table.caption]
    shared = [line for line in captions[0] if all(line in other for other in captions)] if captions else []
    return next((line for line in shared if line not in names), shared[0] if shared else "")


def heads_the_next(caption: list[str], own: list[str]) -> bool:
    """Tell whether the first line over a table is a title for the next one too, which has lines of its own.

    A single line is the table's own name unless it names a kind of device; a line that differs from one of the
    next table's only in words with digits ("QX 16 torques", "QX 63 torques") is never a title.
    """
    if not caption:
        return False
    if not own:
        return True
    form = _WITH_DIGITS.sub("#", caption[0])
    if any(_WITH_DIGITS.sub("#", line) == form for line in own):
        return False
    return len(caption) > 1 or bool(spot("family", caption[0]))
