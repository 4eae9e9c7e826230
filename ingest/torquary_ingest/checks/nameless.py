"""Torques of a table or list that nothing names are one question, not one for each row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from torquary_schema.values import Finding, Place, Setting


def find_nameless(settings: Sequence[Setting]) -> Iterator[Finding]:
    """Yield one finding for each table or list with figures that no print names, with all of these figures."""
    blocks: dict[Place, list[Setting]] = {}
    for setting in settings:
        if not setting.terminal.printed and setting.torque is not None:
            place = replace(setting.place, row=None, column=None, box=None, text="")
            blocks.setdefault(place, []).append(setting)
    for place, rows in blocks.items():
        figures = list(dict.fromkeys(row.torque.printed for row in rows if row.torque))
        where = f"table {place.table} on page {place.page}" if place.table else f"page {place.page}"
        yield Finding(
            code="terminal_missing",
            scope="table",
            message=f"{where}: nothing names the terminals of {len(rows)} figure(s); say which terminals they are for",
            place=place,
            printed=" | ".join(figures),
        )
