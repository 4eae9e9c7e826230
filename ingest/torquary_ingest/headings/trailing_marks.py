"""Note marks set in full size behind a text: "Torque N·m 1)", "1–25 2)", "Line *"."""

from __future__ import annotations

import re
from dataclasses import replace

from torquary_ingest.document import Cell, Mark

_TRAILING = re.compile(r"(?<=[^\s(\[,;/&–-])[ \t]+(?P<mark>(?:\d{1,2}|[a-z])\)|[*†‡]{1,3}\)?)(?=[ \t]*(?:\n|$))")


def part_marks(cell: Cell) -> Cell:
    """Return the cell with the marks at its lines' ends among its marks; a closing bracket of the text is none."""
    marks: list[Mark] = []

    def take(found: re.Match[str]) -> str:
        before = cell.text[: found.start()]
        if before.count("(") > before.count(")") or not any(map(str.isalnum, before)):
            return found[0]
        printed = found["mark"]
        box = next((word.box for word in reversed(cell.words) if word.text == printed), cell.box)
        marks.append(Mark(text=printed, box=box))
        return ""

    text = _TRAILING.sub(take, cell.text)
    return replace(cell, text=text, marks=(*cell.marks, *marks)) if marks else cell
