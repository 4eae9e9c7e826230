"""The names of tables and lists in a place."""

from __future__ import annotations

FIRST_LIST = 901
"""Lists set as lines ("Tightening torque: 2 N·m") are numbered from here, tables from 1."""


def name_table(number: int, table: str = "table") -> str:
    """Return "table 3", or "list 1" for a list; `table` is the word for a table."""
    return f"{table} {number}" if number < FIRST_LIST else f"list {number - FIRST_LIST + 1}"
