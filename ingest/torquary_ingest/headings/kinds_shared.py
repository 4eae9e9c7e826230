"""Headings of two levels whose upper one stands over its first column alone: "Conductor" over "solid | flexible"."""

from __future__ import annotations

from dataclasses import replace

from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import cut_out
from torquary_schema.roles import spot_roles
from torquary_schema.words import Kind, spot

_KINDS: tuple[Kind, ...] = ("stranding", "ferrule", "material")


def share_upper_heading(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Give a column of figures headed by a kind or role alone the quantity of its left neighbour.

    The neighbour's heading must end in a line of the same sort under the quantity: kinds divide conductors, roles
    divide torques. Nothing else can stand under "stranded" between "Conductor mm² / solid" and the next quantity.
    """
    shared = list(columns)
    giver: Column | None = None
    for at, column in enumerate(columns):
        silent = column.field in ("unknown", "terminal") and _all_figures(grid, section, column)
        if giver is not None and silent and _divides(column.heading, giver):
            shared[at] = replace(column, field=giver.field, unit=giver.unit, qualifier=column.heading)
        else:
            giver = column if len(column.lines) > 1 and _divides(column.lines[-1], column) else None
    return shared


def _divides(line: str, giver: Column) -> bool:
    """Tell whether a line is nothing but a kind (of conductors) or a role (of torques)."""
    if giver.field.startswith("conductor"):
        spans = [(match.start, match.end) for kind in _KINDS for match in spot(kind, line)]
    elif giver.field.startswith("torque"):
        spans = [(match.start, match.end) for match in spot_roles(line)]
    else:
        return False
    return bool(spans) and not any(map(str.isalnum, cut_out(line, spans)))


def _all_figures(grid: Grid, section: Section, column: Column) -> bool:
    texts = [cell for row in section.body if text_of(cell := grid.rows[row][column.index])]
    return bool(texts) and all(grid.sense(cell).figure for cell in texts)
