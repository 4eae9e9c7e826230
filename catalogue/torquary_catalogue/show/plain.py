"""A notice as plain lines, for pipes and files."""

from __future__ import annotations

from collections.abc import Iterator

from torquary_catalogue.show.notice import Notice
from torquary_catalogue.show.row_table import RowTable
from torquary_catalogue.show.visible import put_on_one_line

_WIDEST = 60
"""Signs of a table's cell at most: a line of the table should fit a wide terminal."""


def write_plain(notice: Notice) -> list[str]:
    """Return the notice line by line, the torque first."""
    lines = [notice.headline, *([f"taken as: {notice.asked}"] if notice.asked else [])]
    lines += ["", *notice.said_first] if notice.said_first else []
    for block in notice.blocks:
        lines.append("")
        if block.large:
            lines.append(block.large)
        lines += [_write_line(name, text) for name, text in block.lines]
    if notice.places:
        lines += ["", "The same for:", *(f"  {put_on_one_line(place)}" for place in notice.places)]
    if notice.table:
        lines += ["", *_write_table(notice.table)]
    for more in (notice.notes, notice.choices):
        lines += ["", *more] if more else []
    return [*lines, "", *(f"! {caution}" for caution in notice.cautions)]


def _write_line(name: str, text: str) -> str:
    return f"  {name + ':':<12} {put_on_one_line(text)}"


def _write_table(table: RowTable) -> Iterator[str]:
    rows = [table.headings, *(tuple(map(_shorten, line)) for line in table.lines)]
    widths = [max(len(row[at]) for row in rows) for at in range(len(table.headings))]
    for row in rows:
        yield "  " + "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
    if table.same:
        yield "for all of them:"
        yield from (_write_line(name, text) for name, text in table.same)


def _shorten(text: str) -> str:
    line = put_on_one_line(text)
    return line if len(line) <= _WIDEST else f"{line[: _WIDEST - 1]}…"
