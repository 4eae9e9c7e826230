"""Columns that are torques or sizes by a person's word alone: doubted where the print does not bear it out."""

from __future__ import annotations

from dataclasses import replace

from torquary_ingest.headings.column import Column
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.headings.sections import Section
from torquary_ingest.headings.sense import make_sense
from torquary_ingest.headings.taught import OF_TERMINALS, base, doubt_lone_word
from torquary_schema.roles import spot_roles
from torquary_schema.units import find_units


def doubt_lone_words(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Doubt a column that is a torque by a person's word alone where the print does not bear it out.

    That is where it names another torque for the rows, or where nothing speaks of terminals: in another table of
    the sheet the same abbreviation may mean another thing.
    """
    columns = _doubt_lone_sizes(grid, section, columns)
    torques = [column for column in columns if base(column.field) == "torque"]
    said = [column for column in torques if column.taught and not _prints_torque(grid, section, column)]
    if not said:
        return columns
    named = next((column.heading for column in torques if column not in said), "")
    if not named and any(_is_of_terminals(grid, section, column) for column in columns if column not in said):
        return columns
    if not named and any(make_sense(line).has("terminal") or spot_roles(line) for line in grid.table.caption):
        return columns
    return [
        replace(column, contradictions=(*column.contradictions, doubt_lone_word(column.taught, named)))
        if column in said and column.taught
        else column
        for column in columns
    ]


def _doubt_lone_sizes(grid: Grid, section: Section, columns: list[Column]) -> list[Column]:
    """Doubt a column that is a conductor size by a person's word alone beside one that the sheet calls so.

    The sheet does by a heading of its own, or by a unit beside a heading that a person explains. One in mm² beside
    one in AWG says the same size again.
    """
    printed = {
        column.index: _printed_systems(grid, section, column)
        for column in columns
        if base(column.field) == "conductor"
    }
    doubted = list(columns)
    for at, column in enumerate(columns):
        if not column.taught or printed.get(column.index) != set():
            continue
        said = _systems(column.taught.unit)
        others = (c for c in columns if c.index in printed and (printed[c.index] or not c.taught))
        named = next((c.heading for c in others if not printed[c.index] or printed[c.index] & said), "")
        if named:
            doubt = doubt_lone_word(column.taught, named)
            doubted[at] = replace(column, contradictions=(*column.contradictions, doubt))
    return doubted


def _printed_systems(grid: Grid, section: Section, column: Column) -> set[str]:
    """Return the systems of size ("area", "gauge") that a column's heading or cells print."""
    return _systems(" ".join((column.unit, *grid.texts(section.body, column.index)))) & {"area", "gauge"}


def _systems(unit: str) -> set[str]:
    return {match.kind for match in find_units(unit)}


def _is_of_terminals(grid: Grid, section: Section, column: Column) -> bool:
    """Tell whether a column's heading or cells speak of terminals or of what goes into them."""
    if column.taught or column.field in ("conductor", "conductor_min", "conductor_max", "thread", "stranding"):
        return column.field in OF_TERMINALS
    heads = [grid.sense(grid.rows[row][column.index]) for row in section.headings]
    texts = [text_of(grid.rows[row][column.index]) for row in section.body]
    return any(sense.has(*OF_TERMINALS) for sense in heads) or any(map(spot_roles, texts))


def _prints_torque(grid: Grid, section: Section, column: Column) -> bool:
    texts = (text_of(grid.rows[row][column.index]) for row in section.body)
    return bool(column.unit) or any(make_sense(text).unit("torque") for text in texts)
