"""Rows whose figures differ, as a table by what tells them apart; rows that say the same stand in one line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from torquary_catalogue.find import Row
from torquary_catalogue.find.question import Question
from torquary_catalogue.show.row_words import (
    write_bit,
    write_conductor,
    write_device,
    write_short_place,
    write_torques,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowTable:
    """Headings, lines of as many cells, and what is the same for all lines: (name, text)."""

    headings: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]
    same: tuple[tuple[str, str], ...]


def lay_out_rows(rows: Sequence[Row], question: Question, unit: str) -> RowTable:
    """Return the rows with the torque first; a column that says the same throughout is said once."""
    writers: tuple[tuple[str, Callable[[Row], str]], ...] = (
        ("torque", lambda row: write_torques(row, unit)),
        ("device", write_device),
        ("terminal", lambda row: row.terminal_printed),
        ("conductor", lambda row: write_conductor(row, question)),
        ("driver bit", write_bit),
        ("sheet", write_short_place),
    )
    cells = {name: [write(row) for row in rows] for name, write in writers}
    kept = [name for name, texts in cells.items() if name == "torque" or len(set(texts)) > 1]
    lines = dict.fromkeys(tuple(cells[name][at] for name in kept) for at in range(len(rows)))
    same = tuple((name, texts[0]) for name, texts in cells.items() if name not in kept and texts[0])
    return RowTable(headings=tuple(kept), lines=tuple(lines), same=same)
