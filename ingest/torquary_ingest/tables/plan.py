"""A table's frame before words are put in: edges of columns and rows, and the cells that they bound."""

from __future__ import annotations

from dataclasses import dataclass, field

from torquary_schema.values import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A cell by number: row and column count from 0, spans are at least 1."""

    row: int
    column: int
    row_span: int = 1
    column_span: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Column edges `xs` and row edges `ys` in points, ascending, and the cells between them.

    `spots` cover every place of the grid once. `means` is how the plan was made: "ruled" or "aligned".
    """

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    spots: tuple[Spot, ...] = field(default=())
    means: str = "ruled"

    @property
    def rows(self) -> int:
        """Number of rows."""
        return len(self.ys) - 1

    @property
    def columns(self) -> int:
        """Number of columns."""
        return len(self.xs) - 1

    @property
    def box(self) -> Box:
        """The outer frame."""
        return Box(x0=self.xs[0], top=self.ys[0], x1=self.xs[-1], bottom=self.ys[-1])

    def spot_box(self, spot: Spot) -> Box:
        """The box of one cell."""
        return Box(
            x0=self.xs[spot.column],
            top=self.ys[spot.row],
            x1=self.xs[spot.column + spot.column_span],
            bottom=self.ys[spot.row + spot.row_span],
        )
