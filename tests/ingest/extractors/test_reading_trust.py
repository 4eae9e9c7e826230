"""What must never be taken for a torque, a unit or a row: each test stands for a way to a wrong figure."""


from dataclasses import replace

import pytest
from set_sheets import parts, read, table

from torquary_ingest.document import Doubt, Mark, Reading, Table
from torquary_schema.values import Box


def units(readings: list[Reading]) -> list[str]:
    return [entry.unit_printed for reading in readings for entry in reading.entries if entry.field == "torque"]


def change(table: Table, row: int, column: int, **changes: object) -> Table:
    cells = tuple(
        replace(cell, **changes) if (cell.row, cell.column) == (row, column) else cell  # type: ignore[arg-type]
        for cell in table.cells
    )
    return replace(table, cells=cells)


def test_a_band_above_the_heading_does_not_override_its_unit() -> None:
    sheet = table("All torques in N·m | <", "Terminal | Torque lb·in", "1 | 20")
    assert units(read(sheet)) == ["lb·in"]


def test_a_band_above_a_silent_heading_gives_the_unit() -> None:
    sheet = table("All torques in N·m | <", "Terminal | Torque", "1 | 2")
    assert units(read(sheet)) == ["N·m"]


def test_the_unit_stays_in_doubt_until_a_band_states_one() -> None:
    sheet = table(
        "Terminal | Torque N·m", "1 | 2", "Bolts, torque in cN·m | <", "2 | 250", "Covers | <", "3 | 40",
        "Lids | <", "4 | 50", "Rails, torque in N·m | <", "5 | 3",
    )  # fmt: skip
    doubted = [bool(reading.doubts) for reading in read(sheet)]
    assert doubted == [False, False, True, True, False]


def test_a_table_of_another_kind_in_between_ends_what_was_to_go_on() -> None:
    readings = read(
        table("Terminal | Conductor mm² | Torque N·m", "X1 | 4 | 0.6"),
        table("Part | Width mm | Weight g", "A | 40 | 12", number=2),
        table("B | 60 | 14", page=2),
    )
    assert len(readings) == 1


def test_a_table_overleaf_with_headings_of_its_own_does_not_go_on() -> None:
    readings = read(
        table("Terminal | Conductor mm² | Torque N·m", "X1 | 4 | 0.6"),
        table("Part | Width mm | Weight g", "A | 40 | 12", page=2),
    )
    assert len(readings) == 1


def test_a_table_without_headings_on_the_same_page_does_not_go_on() -> None:
    readings = read(
        table("Terminal | Conductor mm² | Torque N·m", "X1 | 4 | 0.6"),
        table("B | 60 | 14", number=2),
    )
    assert len(readings) == 1


def test_columns_that_stand_elsewhere_do_not_go_on() -> None:
    first = table("Terminal | Torque N·m", "X1 | 0.6")
    then = table("X2 | 12", page=2)
    for column, (left, right) in ((1, (50.0, 90.0)), (2, (100.0, 150.0))):
        for row in (1, 2):
            first = change(first, row, column, box=Box(x0=left, top=row * 10, x1=right, bottom=row * 10 + 8))
        then = change(then, 1, column, box=Box(x0=left + 300, top=10, x1=right + 300, bottom=18))
    assert len(read(first, then)) == 1


def test_sizes_under_a_caption_that_names_torques_are_no_torques() -> None:
    sheet = table("Terminal | Conductor mm² | Strip mm", "X1 | 4 | 10", caption=("Tightening torques in N·m",))
    assert read(sheet) == []


def test_terminal_numbers_under_a_caption_that_names_torques_are_no_torques() -> None:
    sheet = table("Device | Terminal", "K1 | 1–3", caption=("Tightening torques in N·m",))
    assert read(sheet) == []


def test_a_matrix_of_torques_keeps_the_size_that_heads_each_column() -> None:
    sheet = table("Terminal | 1.5–6 mm² | 10–16 mm²", "L1 | 1.2 | 2.0", caption=("Tightening torques in N·m",))
    readings = read(sheet)
    sizes = [parts(r, "conductor")[0][0] for r in readings]
    assert list(zip(sizes, [parts(r, "torque")[0] for r in readings], strict=True)) == [
        ("1.5–6 mm²", ("1.2", "N·m")),
        ("10–16 mm²", ("2.0", "N·m")),
    ]


def test_a_row_with_a_name_beside_figures_heads_no_matrix() -> None:
    """Its figures would head those below it: the row would be lost, and sizes would be taken for torques."""
    caption = ("Torque N·m",)
    rows = ("1.5–6 | L1 | 7 | 11", "10–16 | | 18 | 22")
    for sheet in (table("mm² | Terminal | from | to", *rows, caption=caption), table(*rows, caption=caption)):
        assert read(sheet) == []


def test_a_unit_on_a_line_of_its_own_may_be_that_of_the_rows_beneath() -> None:
    rows = [change(table("Torque cN·m | Terminal", "120 | 1", "600 | 2", "61 | 3"), 3, 1, text="600\nkgf·cm")]
    doubts = [[d.code for d in r.doubts] for r in read(replace(rows[0], means="aligned"))]
    assert doubts == [[], ["unit_doubtful"], ["unit_doubtful"]]
    assert [r.doubts for r in read(rows[0])] == [(), (), ()]  # a frame bounds the cell
    same = change(rows[0], 3, 1, text="600\ncN·m")
    assert [r.doubts for r in read(replace(same, means="aligned"))] == [(), (), ()]


@pytest.mark.parametrize(
    ("upper", "lower"),
    [("coppia di serraggio", "nominale [N·m]"), ("couple de serrage", "nominal N·m"), ("Moment", "znamionowy N·m")],
)
def test_the_second_line_of_a_torque_heading_names_no_terminal(upper: str, lower: str) -> None:
    sheet = table(f"mm² | {upper} | L1", f"^ | {lower} | ^", "1.5–6 | 1.2 | x")
    (reading,) = read(sheet)
    assert [entry.heading for entry in reading.entries if entry.field == "qualifier" and entry.heading] == []


def test_a_mark_on_the_heading_hangs_on_each_figure() -> None:
    sheet = change(table("Terminal | Torque N·m", "1 | 2", "2 | 3"), 1, 2, marks=(Mark(text="1"),))
    marks = [e.cell.marks for r in read(sheet) for e in r.entries if e.field == "torque"]
    assert [[mark.text for mark in each] for each in marks] == [["1"], ["1"]]


def test_a_doubt_on_the_heading_is_a_doubt_on_each_figure() -> None:
    doubt = Doubt(code="text_covered", message="covered")
    sheet = change(table("Terminal | Torque N·m", "1 | 2"), 1, 2, doubts=(doubt,))
    assert [e.cell.doubts for r in read(sheet) for e in r.entries if e.field == "torque"] == [(doubt,)]


def test_a_doubt_of_the_table_finder_reaches_the_readings() -> None:
    doubt = Doubt(code="readings_differ", message="two readings")
    sheet = replace(table("Terminal | Torque N·m", "1 | 2"), doubts=(doubt,))
    assert [reading.doubts for reading in read(sheet)] == [(doubt,)]


def test_a_ditto_mark_does_not_reach_over_a_band() -> None:
    sheet = table("Terminal | Torque N·m", "1 | 2", "Bolts, torque in cN·m | <", '2 | "')
    assert parts(read(sheet)[1], "torque") == [('"', "cN·m")]


def test_the_same_as_left_is_not_the_same_as_above() -> None:
    sheet = table("Terminal | Torque N·m", "1 | 2", "2 | 同左")
    assert parts(read(sheet)[1], "torque") == [("同左", "N·m")]


def test_a_unit_column_of_another_quantity_leaves_the_torque_its_own() -> None:
    sheet = table("Terminal | Conductor | Unit | Torque N·m", "1 | 4 | mm² | 2")
    assert units(read(sheet)) == ["N·m"]


@pytest.mark.parametrize(
    ("line", "doubted"),
    [
        ("Relay base 3 pole", True),
        ("Relay base for 24 V coils", True),
        ("Technical data relay base", True),
        ("Circuit breaker QX 16 (continued)", False),
        ("QX 16, further terminals", False),
    ],
)
def test_a_line_overleaf_goes_on_only_if_it_says_so_or_names_the_type(line: str, doubted: bool) -> None:
    first = table("Terminal | Torque N·m", "Line | 2", caption=("Circuit breaker QX 16, 3 pole, 24 V",))
    then = table("Load | 3", page=2, caption=(line,))
    *_, last = read(first, then)
    assert [doubt.code for doubt in last.doubts] == (["table_shifted"] if doubted else [])
