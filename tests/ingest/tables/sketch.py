"""Small pages of words, rules and shades, and the rows of what is found on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from torquary_ingest.document import Page, Rule, Shade, Table, Word
from torquary_ingest.tables import find_tables
from torquary_schema.values import Box

SIZE = 9.0
LETTER = 4.5
PITCH = 20.0


@dataclass(slots=True)
class Sketch:
    """A page in the making: text is set in a face whose letters are all half as wide as the size."""

    words: list[Word] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    shades: list[Shade] = field(default_factory=list)

    def write(self, x: float, y: float, text: str, *, size: float = SIZE) -> None:
        """Words from `x`, their middle at `y`; each blank is half a letter wide."""
        for part in text.split():
            width = len(part) * size / 2
            box = Box(x0=x, top=y - size / 2, x1=x + width, bottom=y + size / 2)
            self.words.append(Word(text=part, box=box, size=size, baseline=y + size / 3))
            x += width + size / 4

    def across(self, y: float, x0: float, x1: float) -> None:
        self.rules.append(Rule(horizontal=True, at=y, start=x0, end=x1))

    def down(self, x: float, y0: float, y1: float) -> None:
        self.rules.append(Rule(horizontal=False, at=x, start=y0, end=y1))

    def grid(self, xs: Sequence[float], ys: Sequence[float]) -> None:
        """Every rule of a grid, drawn in one piece."""
        for y in ys:
            self.across(y, xs[0], xs[-1])
        for x in xs:
            self.down(x, ys[0], ys[-1])

    def fill(self, xs: Sequence[float], top: float, rows: Sequence[str]) -> None:
        """Rows of cells parted by bars, one `PITCH` apart, text 4 pt from its column's left."""
        for r, row in enumerate(rows):
            for x, text in zip(xs, row.split("|"), strict=False):
                self.write(x + 4, top + PITCH * (r + 0.5), text)

    def page(self) -> Page:
        return Page(
            number=1,
            width=595,
            height=842,
            words=tuple(self.words),
            rules=tuple(self.rules),
            shades=tuple(self.shades),
        )

    def tables(self) -> tuple[Table, ...]:
        return find_tables(self.page())


def rows_of(table: Table) -> list[str]:
    """The rows as text, bars between cells; a cell that spans stands once, line feeds as a slash."""
    return [
        "|".join(c.text.replace("\n", "/") for c in table.cells if c.row == row) for row in range(1, table.rows + 1)
    ]


XS = (50.0, 130.0, 210.0, 290.0)
ROWS = ("Terminal|Section|Torque", "L1|1.5-6|2.5", "N|4-10|3.0", "PE|16|3.5")


def ladder(top: float, count: int) -> list[float]:
    return [top + PITCH * k for k in range(count + 1)]
