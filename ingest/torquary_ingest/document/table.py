"""A table as found on a page: cells with spans, and the lines that speak for it."""

from __future__ import annotations

from dataclasses import dataclass

from torquary_ingest.document.word import Doubt, Mark, Word
from torquary_schema.values import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell. Rows and columns count from 1 at the table's top left; spans are at least 1.

    `text` is the live text, lines joined by a line feed, note marks left out (they are in `marks`).
    `doubts` come from how the text is printed: struck out, covered, an invisible layer, a NUL byte.
    `words` are the words the text was made of (empty for files without geometry).
    """

    row: int
    column: int
    text: str
    row_span: int = 1
    column_span: int = 1
    box: Box | None = None
    marks: tuple[Mark, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    words: tuple[Word, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A grid of cells. `number` counts from 1 on its page; `cells` are in reading order, none overlap.

    A cell that spans is listed once, at its top left. Blank cells are listed with empty text.
    `caption` holds the lines printed above (nearest last) that belong to the table, `below` those under it
    (notes). `means` says how the table was found: "ruled", "aligned", "given". `title` is the name of the device
    printed over a list in the type that others of its kind have over theirs: a card's.
    """

    page: int
    number: int
    rows: int
    columns: int
    cells: tuple[Cell, ...]
    box: Box | None = None
    caption: tuple[str, ...] = ()
    below: tuple[str, ...] = ()
    means: str = "given"
    title: Cell | None = None
    doubts: tuple[Doubt, ...] = ()
