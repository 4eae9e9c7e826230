"""The names of pages, tables and lists in a place."""

from __future__ import annotations

from collections.abc import Sequence

FIRST_LIST = 901
"""Lists set as lines ("Tightening torque: 2 N·m") are numbered from here, tables from 1."""


def name_table(number: int, table: str = "table") -> str:
    """Return "table 3", or "list 1" for a list; `table` is the word for a table."""
    return f"{table} {number}" if number < FIRST_LIST else f"list {number - FIRST_LIST + 1}"


def write_pages(numbers: Sequence[int]) -> str:
    """Return page numbers as "page 3" or "pages 1, 4–300"; they ascend, at least one is needed."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    told = ", ".join(f"{first}" if first == last else f"{first}–{last}" for first, last in runs)
    return f"page{'s' if len(numbers) > 1 else ''} {told}"
