"""Held readings as lines of text, grouped by what print does not prove: one answer may settle a whole group."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from torquary_catalogue.show.sheets import write_row_place
from torquary_catalogue.show.visible import put_on_one_line

Rows = Sequence[Mapping[str, Any]]

_HEADINGS = {
    "device": "Which device it is for is missing",
    "terminal": "Which terminal it is for is missing",
    "screw": "That the screw is an electrical terminal's is missing",
    "quantity": "That it is a tightening torque is missing",
}
"""Part of a setting that may be missing → heading, in the order in which a person would ask."""
_OTHER = "Other reasons"


def write_held(rows: Rows) -> list[str]:
    """Return the held readings (rows of held_setting), a few lines each, under one heading for what is missing.

    A reading that lacks several parts stands under the first of them, and its reasons name the others.
    """
    lines = []
    for heading, group in _group(rows):
        lines += ["", f"{heading}: {len(group)} reading(s)"]
        for row in group:
            lines += _write_reading(row)
    return lines


def _group(rows: Rows) -> Iterator[tuple[str, Rows]]:
    groups: dict[str, list[Mapping[str, Any]]] = {heading: [] for heading in (*_HEADINGS.values(), _OTHER)}
    for row in rows:
        missing = {one["field"] for one in row["missing"]}
        first = next((heading for field, heading in _HEADINGS.items() if field in missing), _OTHER)
        groups[first].append(row)
    return ((heading, group) for heading, group in groups.items() if group)


def _write_reading(row: Mapping[str, Any]) -> list[str]:
    what = (row["device_printed"], row["terminal_printed"], row["conductor_printed"])
    printed = "no torque printed" if row["torque_printed"] is None else f"printed “{row['torque_printed']}”"
    lines = [
        f"{row['id']}  {row['file']} {write_row_place(row)}",
        "    " + " | ".join(put_on_one_line(part) for part in (*what, printed) if part),
        *(f"    why: {reason['message']} [{reason['code']}]" for reason in row["reasons"]),
        *(f"    looked at: {put_on_one_line(text)}" for text in dict.fromkeys(one["looked"] for one in row["missing"])),
    ]
    if "picture" in row:
        lines.append(f"    picture: {row['picture'] or 'none was kept; look at the sheet'}")
    return lines


def name_missing(row: Mapping[str, Any]) -> Iterable[str]:
    """Yield each part that print does not prove, with the texts in which its proof was looked for."""
    return (f"{one['field']} (looked at: {one['looked']})" for one in row["missing"])
