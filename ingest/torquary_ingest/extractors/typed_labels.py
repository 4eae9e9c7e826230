"""Cells that print a device's type and, behind it, which of its terminals the row is for: "SB-6 line", "SB-6 tap"."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from torquary_ingest.document import Cell, Entry
from torquary_ingest.extractors.layout import Layout
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.designations import print_types
from torquary_ingest.headings.grid import text_of
from torquary_ingest.headings.sense import make_sense
from torquary_schema.roles import spot_roles

_TYPED = ("device", "model", "series")
_EDGE = " ,;:/–-"
_SLACK = 1.0
"""Points by which a word may begin left of the edge of its column (own choice)."""


def part_typed_cell(layout: Layout, column: Column, cell: Cell) -> tuple[Entry, ...]:
    """Return the type and the terminal of a cell that prints both, () for any other cell; under "Type Description" the
    type and what it is.

    Several rows print the type, each with another word behind it, and one of these at least is known as a terminal's.
    """
    if column.field not in _TYPED or any(other.field == "terminal" for other in layout.columns):
        return ()
    if {"model", "device"} <= set(make_sense(column.heading).fields):
        return tuple(_part_description(layout, column, cell))
    model, label = _part(text_of(cell))
    labels = [part[1] for part in map(_part, layout.grid.texts(layout.section.body, column.index)) if part[0] == model]
    if not model or len(set(labels)) < 2 or len(set(labels)) < len(labels) or not all(labels):
        return ()
    if not any(_names_role(one) for one in labels):
        return ()
    return (
        Entry(field=column.field, cell=replace(cell, text=model), heading=column.heading, taught=column.taught),
        Entry(field="terminal", cell=replace(cell, text=label)),
    )


def _part_description(layout: Layout, column: Column, cell: Cell) -> Iterator[Entry]:
    """Yield the type and the description of a cell under "Type Description", parted where most descriptions begin."""
    cells = [one for row in layout.section.body if (one := layout.grid.rows[row][column.index]) is not None]
    begins = Counter(round(word.box.x0) for one in cells for word in one.words[1:])
    edge, count = max(begins.items(), key=lambda one: one[1], default=(0, 0))
    if 2 * count < len(cells) or not cell.words:
        return
    parts: dict[str, list[str]] = {"model": [], "device": []}
    for word in cell.words:
        parts["model" if word.box.x0 < edge - _SLACK else "device"].append(word.text)
    for field, texts in parts.items():
        if texts:
            yield Entry(field=field, cell=replace(cell, text=" ".join(texts)), heading=column.heading)


def _part(text: str) -> tuple[str, str]:
    """Return the type that a text begins with and the rest; "" and the text where it begins with none."""
    model = next((one for one in print_types(text) if text.startswith(one)), "")
    return model, text[len(model) :].strip(_EDGE)


def _names_role(label: str) -> bool:
    """Tell whether words name the role of a terminal; the letters of a type's variants are none."""
    return any(len(role.printed) > 1 for role in spot_roles(label))
