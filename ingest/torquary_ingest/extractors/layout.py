"""A section of a table made ready for reading: its columns in groups, its units, what speaks for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from torquary_ingest.document import Cell, Doubt
from torquary_ingest.extractors.beside import part_blocks, repeated_blocks
from torquary_ingest.figures.kinds import cell_kind
from torquary_ingest.headings.column import Column
from torquary_ingest.headings.columns import name_columns, prose_of
from torquary_ingest.headings.grid import Grid, text_of
from torquary_ingest.headings.sections import Band, Section
from torquary_ingest.headings.sense import label_key, make_sense
from torquary_ingest.headings.units_stated import stated_unit
from torquary_ingest.scope.over import speak_over, texts_of
from torquary_schema.values import ScopeText
from torquary_schema.words import fold


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A section with its columns. `scope` are the texts over it that speak for it, nearest first."""

    grid: Grid
    section: Section
    columns: tuple[Column, ...]
    scope: tuple[ScopeText, ...] = ()
    torque_unit: str = ""
    size_unit: str = ""
    doubts: tuple[Doubt, ...] = ()

    @property
    def torque_columns(self) -> tuple[Column, ...]:
        """Return the columns that hold torques."""
        return tuple(column for column in self.columns if is_torque(column))

    def figures(self, *, worded: bool = False) -> int:
        """Count the body cells in torque columns that look like figures, or stand for the one before.

        A size with its unit in such a column speaks against it. `worded`: in those alone whose heading has the word
        for a torque.
        """
        columns = [one for one in self.torque_columns if not worded or _says_torque(one)]
        cells = (self.grid.rows[row][column.index] for column in columns for row in self.section.body)
        return sum(map(self._explains, cells))

    def _explains(self, cell: Cell | None) -> int:
        """Return 1 for a figure of a torque, -1 for a size's, 0 for no figure."""
        sense = self.grid.sense(cell)
        if not sense.figure:
            return int(is_ditto(text_of(cell)))
        return -1 if sense.unit("area", "gauge") and not sense.unit("torque", "force") else 1


@dataclass(slots=True)
class BandState:
    """What the band rows passed so far say: their texts, nearest first, and the units they state.

    A band below the heading is nearer to the figures than the heading and overrides its unit; one above it
    (`leading_…`) only helps where the heading is silent. `unsure` from the first band that says nothing
    of the unit after another has changed it, until one states a unit again. `inherited` while the device named is
    that of the table before; `goes_on` in a table that goes on from one overleaf.
    """

    scope: list[ScopeText] = field(default_factory=list)
    torque_unit: str = ""
    size_unit: str = ""
    leading_torque_unit: str = ""
    leading_size_unit: str = ""
    cell: Cell | None = None
    unsure: bool = False
    inherited: bool = False
    used: bool = False
    goes_on: bool = False

    def pass_by(self, band: Band, section: Section, page: int) -> None:
        """Take note of a band row; it replaces those before it, unless it stands directly under them."""
        text = text_of(band.cell)
        torque, size = stated_unit(text, "torque", "force"), stated_unit(text, "area", "gauge")
        said = speak_over(band.cell.text.split("\n"), "section_row", page)
        self.scope = [*said, *([] if self.used else self.scope)]
        if section.headings and band.row < section.headings[-1]:
            self.leading_torque_unit = torque or self.leading_torque_unit
            self.leading_size_unit = size or self.leading_size_unit
        else:
            changed = bool(self.torque_unit) and self.used
            self.unsure = not torque and (self.unsure or changed)
            self.torque_unit = torque or ("" if self.used else self.torque_unit)
            self.size_unit = size or ("" if self.used else self.size_unit)
        self.used = self.inherited = self.goes_on = False
        self.cell = band.cell


def is_ditto(text: str) -> bool:
    """Tell whether a cell says nothing but "as above"; an arrow may as well mean what follows."""
    kind = cell_kind(text)
    return kind is not None and kind.kind == "ditto" and not kind.arrow


def _says_torque(column: Column) -> bool:
    return make_sense(column.heading).has("torque", "torque_min", "torque_max")


def is_torque(column: Column) -> bool:
    """Tell whether a column holds torques."""
    return column.field in ("torque", "torque_min", "torque_max")


def make_layouts(grid: Grid, section: Section, over: Sequence[ScopeText]) -> tuple[Layout, ...]:
    """Return the section's layouts: one, or several where its columns repeat side by side."""
    columns = name_columns(grid, section)
    page = grid.table.page
    scope = (*speak_over(prose_of(grid, section), "caption", page), *over)
    blocks = repeated_blocks(columns)
    if len(blocks) == 1:
        return (Layout(grid=grid, section=section, columns=columns, scope=scope),)
    parts = part_blocks(blocks, texts_of(scope)[::-1])
    spoken = ((block, (*speak_over(title, "heading", page), *scope), doubts) for block, title, doubts in parts)
    return tuple(
        Layout(grid=grid, section=section, columns=block, scope=own, doubts=doubts) for block, own, doubts in spoken
    )


def torque_groups(columns: tuple[Column, ...]) -> tuple[tuple[Column, ...], ...]:
    """Group the torque columns that speak of the same screw: minimum with maximum, N·m with lb·in."""
    groups: dict[tuple[str, int], list[Column]] = {}
    for column in columns:
        if is_torque(column):
            key = (label_key(column.qualifier), id(column.size) if column.size else 0)
            groups.setdefault(key, []).append(column)
    found = [tuple(group) for group in groups.values()]
    if len(found) == 2 and (_two_units(found[0], found[1]) or _two_limits(found[0], found[1])):
        return (found[0] + found[1],)
    return tuple(found)


def _two_limits(one: tuple[Column, ...], other: tuple[Column, ...]) -> bool:
    """A lowest and a highest torque alone, the right one of which says no more, are the limits of one figure.

    A name over the left one may reach over both; a name of the right one's own is another thing's.
    """
    sides = {tuple(c.field for c in group) for group in (one, other)}
    silent = not fold(other[0].qualifier) and not make_sense(other[0].heading).has("torque", "torque_max")
    return sides == {("torque_min",), ("torque_max",)} and silent and one[0].size is other[0].size


def _two_units(one: tuple[Column, ...], other: tuple[Column, ...]) -> bool:
    """Two groups that differ in nothing but words beside two different units are one figure printed twice."""
    units = [{c.unit for c in group} for group in (one, other)]
    unsized = all(column.size is None for column in (*one, *other))
    named = fold(one[0].qualifier) and fold(other[0].qualifier)
    return unsized and not named and all(units) and not units[0] & units[1] and "" not in units[0] | units[1]
