"""What belongs together in a table and its surroundings: heads over groups, second lines, parts, captions."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from torquary_ingest.document import Rule, Word
from torquary_ingest.tables.bands import make_bands
from torquary_ingest.tables.captions import add_captions
from torquary_ingest.tables.columns import Columns
from torquary_ingest.tables.heads import plan_heads
from torquary_ingest.tables.joined import join_parted
from torquary_ingest.tables.lines import make_lines
from torquary_ingest.tables.rows import Band, join_rows

sys.path.insert(0, str(Path(__file__).parent))
from sketch import Sketch


def words_of(x: float, y: float, text: str) -> list[Word]:
    sketch = Sketch()
    sketch.write(x, y, text)
    return sketch.words


def test_a_rule_under_columns_of_two_groups_joins_none_of_them() -> None:
    sketch = Sketch()
    for x, name in ((4, "QB1"), (304, "QB6")):
        sketch.write(x, 100, name)
    for at in range(6):
        sketch.write(100 * at + 4, 114, ("Terminal", "AWG", "Torque")[at % 3])
    columns = Columns(edges=tuple(100.0 * at for at in range(7)))
    bands = make_bands(make_lines(sketch.words), columns)
    spots, _ = plan_heads(bands, columns, (Rule(horizontal=True, at=107, start=100, end=590),))
    assert {words[0].text: (spot.column, spot.column_span) for spot, words in spots if words and spot.row == 0} == {
        "QB1": (0, 3),
        "QB6": (3, 3),
    }


@pytest.mark.parametrize(("second", "count"), [("(80 lbf·in)", 1), ("80", 2)])
def test_a_bracket_under_a_figure_beside_the_end_of_a_range_is_a_line_of_its_row(second: str, count: int) -> None:
    lines = ("main", "AWG 8 to", "9 N·m"), ("", "2/0", second)
    bands = [
        Band(
            top=y - 4,
            bottom=y + 4,
            pieces={(at, at): words_of(100 * at, y, text) for at, text in enumerate(line) if text},
        )
        for y, line in zip((100, 110), lines, strict=True)
    ]
    assert len(join_rows(bands, ())) == count


def test_heads_of_two_lines_join_the_rows_under_a_section_s_line() -> None:
    rows = ("Type|Torque|Driver", "|N·m|", "Plug-in relays", "QR 4|0.8|PZ1", "QR 9|1.2|PZ2", "QR 16|2|PZ2")
    sketch = Sketch()
    for number, row in enumerate(rows):
        for x, text in zip((60, 200, 300), row.split("|"), strict=False):
            sketch.write(x, 100 + 11 * number, text)
    heads, body = Sketch(), Sketch()
    heads.words, body.words = sketch.words[:4], sketch.words[6:]
    for part, ys in ((heads, (94, 105, 117)), (body, (128, 139, 150, 161))):
        part.grid((58, 198, 298, 380), ys)
    parts = [replace(table, means="aligned") for part in (heads, body) for table in part.tables()]
    assert len(parts) == 2
    assert len(join_parted(parts, sketch.words)) == 1


@pytest.mark.parametrize(("heading", "count"), [("R3 Torques", 1), ("Torques", 2)])
def test_a_numbered_heading_in_bold_ends_the_text_before_it(heading: str, count: int) -> None:
    sketch = Sketch()
    sketch.grid((60, 200, 300), (140, 160, 180, 200))
    sketch.fill((60, 200), 140, ("Terminal|Torque N·m", "Line|2.5", "Load|2"))
    (table,) = sketch.tables()
    text = words_of(60, 112, "Keep the cover plate closed.")
    bold = [replace(word, bold=True) for word in words_of(60, 128, heading)]
    (found,) = add_captions([replace(table, caption=())], [*sketch.words, *text, *bold])
    assert found.caption[-1] == heading
    assert len(found.caption) == count
