"""Which cells belong together, told from headings alone. Figures and makers are invented."""

from set_sheets import parts, read, table


def test_a_plain_table_gives_one_reading_a_row() -> None:
    readings = read(table("Terminal | Conductor mm² | Torque N·m", "L1 | 1.5–6 | 1.2", "PE | 10 | 2.5"))
    assert [parts(r, "terminal") for r in readings] == [[("L1", "")], [("PE", "")]]
    assert [parts(r, "conductor") for r in readings] == [[("1.5–6", "mm²")], [("10", "mm²")]]
    assert [parts(r, "torque") for r in readings] == [[("1.2", "N·m")], [("2.5", "N·m")]]


def test_terminals_across_are_read_as_terminals_down() -> None:
    readings = read(table("| L1 | PE", "Conductor mm² | 1.5–6 | 10", "Torque N·m | 1.2 | 2.5"))
    assert [(parts(r, "terminal")[0][0], parts(r, "torque")[0]) for r in readings] == [
        ("L1", ("1.2", "N·m")),
        ("PE", ("2.5", "N·m")),
    ]


def test_a_spanning_torque_belongs_to_each_of_its_rows() -> None:
    readings = read(table("Terminal | Torque N·m", "L1 | 2.5", "L2 | ^", "L3 | ^", "N | 2.0"))
    assert [parts(r, "torque")[0][0] for r in readings] == ["2.5", "2.5", "2.5", "2.0"]


def test_a_two_level_heading_gives_a_reading_for_each_part() -> None:
    readings = read(
        table(
            "Terminal | Main circuit | < | Control circuit | <",
            "^ | min N·m | max N·m | min N·m | max N·m",
            "K1 | 1.8 | 2.2 | 0.7 | 0.9",
        )
    )
    assert [[e.heading for e in r.entries if e.field == "qualifier"] for r in readings] == [
        ["Main circuit"],
        ["Control circuit"],
    ]
    assert parts(readings[1], "torque_min", "torque_max") == [("0.7", "N·m"), ("0.9", "N·m")]


def test_a_band_row_changes_the_unit_for_what_follows() -> None:
    readings = read(
        table("Terminal | Torque N·m", "1 | 2.5", "Bolts, torque in cN·m | <", "2 | 250", caption=("Breaker",))
    )
    assert [parts(r, "torque")[0][1] for r in readings] == ["N·m", "cN·m"]
    assert readings[1].scope[0].text == "Bolts, torque in cN·m"


def test_a_band_row_that_is_silent_after_a_change_of_unit_leaves_the_unit_in_doubt() -> None:
    readings = read(
        table("Terminal | Torque N·m", "1 | 2.5", "Bolts, torque in cN·m | <", "2 | 250", "Covers | <", "3 | 40")
    )
    assert [doubt.code for doubt in readings[2].doubts] == ["unit_doubtful"]


def test_the_unit_of_a_caption_holds_where_the_heading_is_silent() -> None:
    readings = read(table("Terminal | Torque", "1 | 50", caption=("All torques in cN·m",)))
    assert parts(readings[0], "torque") == [("50", "cN·m")]


def test_a_caption_that_gives_a_figure_states_no_unit() -> None:
    readings = read(table("Terminal | Torque", "1 | 50", caption=("Cover screws: torque 50 cN·m",)))
    assert parts(readings[0], "torque") == [("50", "")]


def test_a_second_heading_in_the_table_brings_its_own_unit() -> None:
    readings = read(table("Terminal | Torque N·m", "1 | 2.5", "Terminal | Torque cN·m", "A1 | 80"))
    assert [parts(r, "torque")[0] for r in readings] == [("2.5", "N·m"), ("80", "cN·m")]


def test_a_table_that_goes_on_without_heading_keeps_the_columns() -> None:
    readings = read(
        table("Terminal | Conductor mm² | Torque cN·m", "X1 | 4 | 65"), table("X31 | 4 | 95", page=2, number=1)
    )
    assert parts(readings[1], "torque") == [("95", "cN·m")]


def test_a_ditto_mark_stands_for_the_cell_above() -> None:
    readings = read(table("Terminal | Conductor mm² | Torque N·m", "1 | 4 | 1.2", '2 | " | do.'))
    assert parts(readings[1], "conductor", "torque") == [("4", "mm²"), ("1.2", "N·m")]


def test_a_unit_column_serves_its_row() -> None:
    readings = read(table("Terminal | Torque | Unit", "1 | 1.2 | N·m", "2 | 120 | cNm"))
    assert [parts(r, "torque")[0] for r in readings] == [("1.2", "N·m"), ("120", "cNm")]


def test_a_strip_length_is_no_torque() -> None:
    readings = read(table("Terminal | Torque N·m | Strip length mm", "1 | 1.2 | 12"))
    assert parts(readings[0], "torque") == [("1.2", "N·m")]
    assert parts(readings[0], "strip_length") == [("12", "")]


def test_a_length_under_the_heading_of_a_torque_is_none() -> None:
    heads = ("Terminal | Tightening lbf·ft | <", "^ | | temperature mm")
    readings = read(table(*heads, "L1 | 1.48 | 1", "PE | 2.95 | 0.85"))
    assert [parts(r, "torque")[0][0] for r in readings] == ["1.48", "2.95"]


def test_motor_torque_is_left_alone() -> None:
    assert read(table("Motor | Motor torque N·m", "M1 | 12")) == []


def test_sizes_across_go_with_their_own_torque() -> None:
    readings = read(table("Terminal | Torque N·m | <", "^ | 1.5–6 mm² | 10–16 mm²", "L1 | 1.2 | 2.0"))
    assert [(parts(r, "conductor")[0][0], parts(r, "torque")[0][0]) for r in readings] == [
        ("1.5–6 mm²", "1.2"),
        ("10–16 mm²", "2.0"),
    ]


def test_lists_printed_side_by_side_are_read_apart() -> None:
    readings = read(table("Terminal | Torque N·m | Terminal | Torque N·m", "1 | 1.2 | 2 | 1.5", "3 | 1.8 | 4 | 2.0"))
    assert sorted((parts(r, "terminal")[0][0], parts(r, "torque")[0][0]) for r in readings) == [
        ("1", "1.2"), ("2", "1.5"), ("3", "1.8"), ("4", "2.0"),
    ]  # fmt: skip


def test_a_property_list_is_read_with_the_terminal_its_heading_names() -> None:
    readings = read(table("Rated current | 63 A", "Conductor | 1.5–25 mm²", "Tightening torque | 2.5 N·m"))
    assert len(readings) == 1
    assert parts(readings[0], "conductor", "torque") == [("1.5–25 mm²", ""), ("2.5 N·m", "")]
