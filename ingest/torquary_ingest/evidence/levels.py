"""The texts that speak for a figure, in levels: its row with the torque's heading, other headings, lines, the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from torquary_ingest.document import Reading
from torquary_ingest.headings.grid import text_of

LevelKind = Literal["row", "heading", "line", "sheet"]

_IN_ROW = ("terminal", "purpose", "clamp")
_HEADED = ("terminal", "thread")


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Printed texts that stand equally near to a figure."""

    kind: LevelKind
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetHead:
    """What the head of a sheet says of the whole: its title, and the lines above its first table."""

    title: str = ""
    lines: tuple[str, ...] = ()


def levels_of(reading: Reading, head: SheetHead) -> tuple[Level, ...]:
    """Return the levels of a reading, nearest first; blank texts are left out."""
    return tuple(level for level in _levels(reading, head) if level.texts)


def _levels(reading: Reading, head: SheetHead) -> Iterator[Level]:
    cells = [text_of(entry.cell) for entry in reading.entries if entry.field in _IN_ROW]
    torques = [entry.heading for entry in reading.entries if entry.field.startswith("torque")]
    parts = [entry.heading for entry in reading.entries if entry.field == "qualifier"]
    yield Level(kind="row", texts=_told([*cells, *torques, *parts]))
    yield Level(kind="heading", texts=_told([e.heading for e in reading.entries if e.field in _HEADED]))
    own, head_lines = _part_lines(reading, head)
    for line in reversed(own):
        yield Level(kind="line", texts=_told([line]))
    yield Level(kind="sheet", texts=_told([*head_lines, head.title, *head.lines]))


def _part_lines(reading: Reading, head: SheetHead) -> tuple[list[str], list[str]]:
    """Return the lines of a reading's own, outermost first, and those of the sheet's head, nearest first.

    The head's lines stand over every table and speak last, for the whole; the line right over the reading is its own.
    """
    lines = [line for line in reading.context if line != head.title]
    nearest = lines[-1:]
    return [line for line in lines if line not in head.lines or line in nearest], [*reversed(reading.context)]


def _told(texts: Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(text.strip() for text in texts if text.strip()))
