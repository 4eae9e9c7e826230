"""How far a text may stand off its column, and how many columns and lines show a table: the last that do, the first
that do not. Columns are 100 points wide and begin at 50; type is of 10 points."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from torquary_ingest.document import Cell, Page, Rule, Table, Word
from torquary_ingest.tables.columns import Columns
from torquary_ingest.tables.overleaf import add_rows_overleaf
from torquary_ingest.tables.part_spans import row_rules, take_reaching
from torquary_ingest.tables.region import Region
from torquary_ingest.tables.rows import Band
from torquary_ingest.tables.spread import spread_centred
from torquary_schema.values import Box


def write(x: float, top: float, text: str) -> Word:
    return Word(text=text, box=Box(x0=x, top=top, x1=x + 5.0 * len(text), bottom=top + 10), size=10.0, baseline=top + 8)


def cell(row: int, column: int, text: str, x: float | None = None) -> Cell:
    box = Box(x0=100.0 * column - 50, top=20.0 * row, x1=100.0 * column + 50, bottom=20.0 * row + 20)
    words = (write(box.x0 if x is None else x, box.top, text),) if text else ()
    return Cell(row=row, column=column, text=text, words=words, box=box)


def table(*rows: Sequence[str | tuple[str, float]]) -> Table:
    """Rows of texts, each at the left of its column, or at a place of its own."""
    cells = tuple(
        cell(r, c, *((text, None) if isinstance(text, str) else text))
        for r, row in enumerate(rows, 1)
        for c, text in enumerate(row, 1)
    )
    wide, high = len(rows[0]), len(rows)
    box = Box(x0=50, top=20, x1=50 + 100 * wide, bottom=20 + 20 * high)
    return Table(page=1, number=1, rows=high, columns=wide, cells=cells, box=box, means="aligned")


ROWS = (("Name", "Size", "Torque"), ("Line", "1.5-16", "2.5"), ("Load", "1.5-10", "2"))


def overleaf(*words: Word, columns: int = 3) -> int:
    """The rows that a page goes on with, behind a page of a table with so many columns."""
    above = table(*(row[3 - columns :] for row in ROWS))
    pages = [Page(number=n, width=595.0, height=842.0, words=own) for n, own in ((1, ()), (2, words))]
    found = add_rows_overleaf(pages[1], (), pages[0], (above,))
    return sum(one.rows for one in found)


def row(top: float, *, off: float = 0.0) -> tuple[Word, ...]:
    return write(50 - off, top, "Earth"), write(150, top, "4-16"), write(250, top, "1.2")


@pytest.mark.parametrize(("off", "rows"), [(2.9, 1), (3.1, 0)])
def test_a_row_overleaf_stands_under_its_columns(off: float, rows: int) -> None:
    assert overleaf(*row(60, off=off)) == rows


def test_a_table_of_two_columns_shows_no_row_overleaf() -> None:
    assert overleaf(*row(60)) == 1
    assert overleaf(write(50, 60, "4-16"), write(150, 60, "1.2"), columns=2) == 0


@pytest.mark.parametrize(("lines", "rows"), [(5, 1), (6, 0)])
def test_rows_overleaf_begin_among_the_first_lines(lines: int, rows: int) -> None:
    text = [write(50, 60 + 20 * at, f"Line{'abcdefg'[at]}") for at in range(lines)]
    assert overleaf(*text, *row(60 + 20 * lines)) == rows


FULL = ("Line", "1.0", "2.0", "3.0", "4.0")
"""Figures 15 points wide at the left of columns: their middles are at 157.5, 257.5, 357.5 and 457.5."""


def spans(*middles: float, columns: int = 4) -> list[int]:
    """How many columns each value of a second row is over, given the middles of values, "—" in the others."""
    blank = [""] * columns
    places = [next(c for c in range(columns) if m < 250 + 100 * c) for m in middles]
    values = ["5.0", "6.0", "7.0", "8.0"]
    for number, (place, middle) in enumerate(zip(places, middles, strict=True)):
        blank[place] = (values[number], middle - 7.5)  # type: ignore[call-overload]
    found = spread_centred(table(FULL[: columns + 1], FULL[: columns + 1], ("Load", *blank)))
    return [one.column_span for one in found.cells if one.row == 3 and one.column > 1 and one.text]


@pytest.mark.parametrize(("off", "found"), [(14.0, [2, 2]), (16.0, [1, 1])])
def test_a_value_over_two_columns_stands_in_their_middle(off: float, found: list[int]) -> None:
    """15 % of the distance of columns is 15 points."""
    assert spans(207.5 + off, 407.5) == found


@pytest.mark.parametrize(("off", "found"), [(29.0, [1, 2, 1]), (31.0, [1, 1, 1])])
def test_a_value_over_its_own_column_may_stand_a_little_off(off: float, found: list[int]) -> None:
    assert spans(157.5 + off, 307.5, 457.5) == found


def test_two_columns_of_figures_have_no_values_over_several() -> None:
    assert (spans(207.5, 357.5, columns=3), spans(207.5, columns=2)) == ([2, 1], [1])


def reach(drawn: float, through: float = 0.0, *, off: float = 0.0) -> bool:
    """Tell whether a name of 50 points reaches over two rows, between rules that draw so much of its width."""
    columns = Columns(edges=(50.0, 150.0, 250.0))
    bands = [Band(top=at, bottom=at + 10, pieces={(1, 1): [write(160, at, "2.5")]}) for at in (105.0, 125.0)]
    name = write(50, 115.0 + off, "Terminals1")
    bands.insert(1, Band(top=115.0 + off, bottom=125.0 + off, pieces={(0, 0): [name]}))
    ends = [Rule(horizontal=True, at=at, start=50.0, end=50 + 50 * drawn) for at in (100.0, 140.0)]
    inner = Rule(horizontal=True, at=120.0, start=100.0 - 50 * through, end=250.0)
    lines = (*ends, inner, *(Rule(horizontal=True, at=at, start=150.0, end=240.0) for at in (100.0, 140.0)))
    region = Region(lines=(), box=Box(x0=50, top=100, x1=250, bottom=140), part_rules=lines)
    return bool(take_reaching(bands, columns, region)[1])


def test_rules_close_a_cell_that_draw_most_of_its_width_and_leave_it_open_where_they_hardly_do() -> None:
    assert [reach(drawn) for drawn in (0.61, 0.59)] == [True, False]
    assert [reach(1.0, through) for through in (0.19, 0.21)] == [True, False]


@pytest.mark.parametrize(("off", "found"), [(5.9, True), (6.1, False)])
def test_a_text_over_two_rows_stands_in_their_middle(off: float, *, found: bool) -> None:
    """0.3 of half the 40 points between its rules."""
    assert reach(1.0, off=off) is found


def test_a_rule_under_most_of_a_column_parts_rows() -> None:
    columns = Columns(edges=(50.0, 150.0, 250.0))
    bands = [Band(top=105.0, bottom=115.0, pieces={(0, 0): [write(50, 105, "Terminals1")]})]
    for drawn, heights in ((0.61, [120.0]), (0.59, [])):
        rule = Rule(horizontal=True, at=120.0, start=50.0, end=50 + 50 * drawn)
        region = Region(lines=(), box=Box(x0=50, top=100, x1=250, bottom=140), part_rules=(rule,))
        assert row_rules(bands, columns, region) == heights
