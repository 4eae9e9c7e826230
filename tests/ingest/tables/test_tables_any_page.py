"""Whatever stands on a page, each table is a whole grid and holds each of its words once."""

from __future__ import annotations

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from torquary_ingest.document import Page, Rule, Shade, Word
from torquary_ingest.tables import find_tables
from torquary_schema.values import Box

COLUMNS = st.sampled_from([50.0, 52.0, 120.0, 121.0, 190.0, 260.0, 330.0, 410.0])
ROWS = st.sampled_from([100.0 + 11 * k for k in range(14)] + [106.0, 163.0])
TEXTS = st.sampled_from(["Terminal", "L1", "1.5-6", "2.5", "3", "with", "N", "-", "....", "------", "mm2", "קדה"])


@st.composite
def words(draw: st.DrawFn) -> Word:
    text, x, y = draw(TEXTS), draw(COLUMNS), draw(ROWS)
    turn = draw(st.sampled_from([0, 0, 0, 0, 90, 180, 270]))
    long, high = 4.5 * len(text), 9.0
    wide, tall = (long, high) if turn in (0, 180) else (high, long)
    return Word(text=text, box=Box(x0=x, top=y, x1=x + wide, bottom=y + tall), size=9.0, turn=turn)


@st.composite
def rules(draw: st.DrawFn) -> Rule:
    horizontal = draw(st.booleans())
    at = draw(ROWS if horizontal else COLUMNS) - 3
    start, end = sorted((draw(COLUMNS if horizontal else ROWS), draw(COLUMNS if horizontal else ROWS)))
    return Rule(horizontal=horizontal, at=at, start=start - 3, end=end - 3)


@st.composite
def shades(draw: st.DrawFn) -> Shade:
    top = draw(ROWS)
    return Shade(box=Box(x0=48, top=top, x1=draw(COLUMNS) + 60, bottom=top + 11), colour=0.9)


@settings(max_examples=150, deadline=None)
@given(st.lists(words(), max_size=50), st.lists(rules(), max_size=25), st.lists(shades(), max_size=4))
def test_tables_are_whole_grids_and_no_word_is_in_two_cells(
    written: list[Word], drawn: list[Rule], filled: list[Shade]
) -> None:
    page = Page(number=1, width=500, height=400, words=tuple(written), rules=tuple(drawn), shades=tuple(filled))
    tables = find_tables(page)
    seen: Counter[tuple[str, Box]] = Counter()
    for table in tables:
        places = [
            (r, c)
            for cell in table.cells
            for r in range(cell.row, cell.row + cell.row_span)
            for c in range(cell.column, cell.column + cell.column_span)
        ]
        assert sorted(places) == [(r, c) for r in range(1, table.rows + 1) for c in range(1, table.columns + 1)]
        for cell in table.cells:
            mine = Counter((word.text, word.box) for word in cell.words)  # a doubt may have been added to a word
            seen += mine
    assert seen <= Counter((word.text, word.box) for word in page.words)
    assert [t.number for t in tables] == list(range(1, len(tables) + 1))
