"""Headings that a gutter cuts, or that reach over more columns than they head."""

from __future__ import annotations

from dataclasses import replace

from set_sheets import table

from torquary_ingest.document import Document, Page, Table
from torquary_ingest.extractors.headed import HeadedTables
from torquary_ingest.normalise import settle
from torquary_ingest.skeleton import make_skeleton


def told(sheet: Table) -> list[tuple[str, str, str, str]]:
    """State, device, terminal and printed torque of each setting."""
    document = Document(file="x", kind="test", pages=(Page(number=1),), page_count=1)
    readings = list(HeadedTables().readings(document, (sheet,)))
    settings, _ = settle(document, (sheet,), readings, make_skeleton(document, (sheet,)))
    return [(s.state, s.device.printed, s.terminal.printed, s.torque.printed if s.torque else "") for s in settings]


def broken(sheet: Table, **texts: str) -> Table:
    """Set line breaks into cells of the first row: `c1="A/B"` is column 1 in two lines."""
    cells = tuple(
        replace(cell, text=texts[f"c{cell.column}"].replace("/", "\n"))
        if cell.row == 1 and f"c{cell.column}" in texts
        else cell
        for cell in sheet.cells
    )
    return replace(sheet, cells=cells)


def test_a_torque_phrase_cut_over_two_units_names_no_terminal() -> None:
    sheet = table("klemme | anbefalet N·m | tilspændingsmoment lbf·in", "L1 | 2 | 17.7")
    assert told(sheet) == [("released", "", "L1", "2")]


def test_another_word_over_one_of_two_units_still_names_a_part() -> None:
    sheet = table("terminal | front N·m | rear torque N·m", "L1 | 2 | 3")
    assert [label for _, _, label, _ in told(sheet)] == ["L1 / front", "L1 / rear"]


def test_a_device_with_its_type_under_the_first_heading_is_no_part_of_it() -> None:
    sheet = broken(table("x | mm² | terminal", "2 | 4 | L1"), c1="torque N·m/circuit breaker LQ 16")
    assert told(sheet) == [("released", "circuit breaker LQ 16", "L1", "2")]


def test_a_device_cut_over_the_columns_of_its_list_is_put_together() -> None:
    sheet = broken(
        table("a | b | c | d", "L1 | 2 | L1 | 3"),
        c1="MCB/terminal", c2="LQ 16/torque N·m", c3="MCB LQX-63/terminal", c4="torque N·m",
    )  # fmt: skip
    assert told(sheet) == [("released", "MCB LQ 16", "L1", "2"), ("released", "MCB LQX-63", "L1", "3")]


def test_names_that_a_torque_heading_reaches_over_are_no_torques() -> None:
    heads = ("Torque N·m | < | < | Conductor mm²", "min. | max. | Terminal | ^")
    named = table(*heads, "1 | 2 | PE | 4", "3 | 4 | 2 | 10")
    assert [(state, label, torque) for state, _, label, torque in told(named)] == [
        ("released", "PE", "1 – 2"),
        ("released", "2", "3 – 4"),
    ]
    kinds = table("Terminal | Torque N·m | <", "^ | max. | Conductor type", "L1 | 2 | solid", "L1 | 3 | flexible")
    assert [(state, torque) for state, _, _, torque in told(kinds)] == [("released", "2"), ("released", "3")]


def test_figures_that_a_torque_heading_may_reach_over_are_held() -> None:
    sheet = table("Torque N·m | < | < | Conductor mm²", "min. | max. | Terminal | ^", "1 | 2 | 5 | 4", "3 | 4 | 7 | 10")
    assert {state for state, _, _, torque in told(sheet) if torque in ("5", "7")} == {"held"}


def test_a_row_beside_names_under_a_torque_heading_is_not_named_by_the_title() -> None:
    heads = ("Torque N·m | < | < | Conductor mm²", "min. | max. | Gland | ^")
    sheet = replace(table(*heads, "1 | 2 | top | 4", "3 | 4 | side | 10"), caption=("Lantern Quay terminal",))
    assert {state for state, *_ in told(sheet)} == {"held"}


def test_limits_under_a_cut_phrase_are_one_figure() -> None:
    sheet = broken(table("terminal | x | y", "L1 | 2 | 3"), c2="specified/min.", c3="torque N·m/max.")
    assert told(sheet) == [("released", "", "L1", "2 – 3")]


def test_a_limit_beside_one_that_was_not_understood_is_held() -> None:
    sheet = broken(table("terminal | x | y", "L1 | 2 | 3"), c2="ragged/min.", c3="torque N·m/max.")
    assert [(state, torque) for state, _, _, torque in told(sheet)] == [("held", "3")]
    sheet = broken(table("terminal | x | y", "L1 | 2 | 3"), c2="ragged/size", c3="torque N·m/max.")
    assert [(state, torque) for state, _, _, torque in told(sheet)] == [("released", "3")]


def test_dittos_are_figures_when_a_table_is_turned() -> None:
    sheet = table("Torque N·m | 2 | idem", "Conductor mm² | 4 | 6", "Terminal | L1 | L2")
    assert told(sheet) == [("released", "", "L1", "2"), ("released", "", "L2", "2")]
    headed = table("Torque N·m | idem | idem", "Conductor mm² | 4 | 6", "Terminal | L1 | L2")
    assert [(state, label) for state, _, label, _ in told(headed)] == [("held", "L1"), ("held", "L2")]


def test_sizes_over_a_line_of_torque_are_no_torques() -> None:
    rows = ("x | screw | torque", "10 - 50 | PE | 6.01", "2.5-16 | N | 2.49")
    sheet = broken(table(*rows), c1="conductor mm²/torque, N·m")
    found = told(sheet)
    assert not [torque for state, _, _, torque in found if state == "released" and torque in ("10 - 50", "2.5-16")]
    assert [(state, torque) for state, _, _, torque in found] == [("held", "6.01"), ("held", "2.49")]


def test_a_torque_beside_a_lone_limit_is_held() -> None:
    sheet = table("conductor mm² | torque Nm of | maximum | terminal", "10 - 50 | 4 | 5 | L1")
    assert [(state, torque) for state, _, _, torque in told(sheet)] == [("held", "4")]


def test_sizes_under_one_heading_twice_are_held() -> None:
    sheet = table("terminal | conductor mm² | torque Nm | conductor mm²", "L1 | 4 | 3 | 10")
    assert {(state, torque) for state, _, _, torque in told(sheet)} == {("held", "3")}
    parts = table("terminal | conductor solid mm² | torque Nm | conductor flexible mm²", "L1 | 4 | 3 | 10")
    assert {(state, torque) for state, _, _, torque in told(parts)} == {("released", "3")}


def test_labels_alone_between_blanks_open_no_headings() -> None:
    sheet = table(
        "Terminal | mm² | Torque Nm | Terminal | mm² | Torque Nm",
        "L1 | 4 | 2 | N | 10 | 3", "coil terminal | | | aux contact | | ", " | 6 | 1 |  | 16 | 5",
    )  # fmt: skip
    found = told(sheet)
    assert {(state, torque) for state, _, _, torque in found if torque} == {
        ("released", "2"), ("released", "3"), ("held", "1"), ("held", "5"),
    }  # fmt: skip


def test_a_row_without_its_torque_is_no_name_of_a_device() -> None:
    rows = ("terminal | mm² | torque Nm", "coil | 2.5 | 1", "alarm switch | 1.5-10 | ", "trip coil | 4 | 2")
    assert [(state, device, label) for state, device, label, _ in told(table(*rows))] == [
        ("released", "", "coil"), ("held", "", "alarm switch"), ("released", "", "trip coil"),
    ]  # fmt: skip


def test_a_long_part_of_a_device_with_its_type_belongs_to_its_name() -> None:
    rows = ("torque Nm | terminal | mm²", "disjoncteur | divisionnaire LQ 16 | ", "2 | L1 | 4")
    assert told(table(*rows)) == [("released", "disjoncteur divisionnaire LQ 16", "L1", "2")]


def test_both_limits_in_the_heading_of_one_column_are_held() -> None:
    sheet = table("mm² | tiltrekkingsmoment in-lb fra til | bolt", "4 | 27 | PE")
    assert [state for state, *_ in told(sheet)] == ["held"]


def test_half_a_torque_phrase_over_two_units_names_no_terminal() -> None:
    """The other half stands over the neighbouring column, or hangs out of the table."""
    sheet = table("рекомендуемый | < | момент сечение mm²", "N·m | lb·in | ^", "2 | 17.7 | 4")
    assert [label for _, _, label, _ in told(sheet)] == [""]
    named = table("Klemme | empfohlen | < | Leiter mm²", "^ | N·m | lb·in | ^", "L1 | 2 | 17.7 | 4")
    assert told(named) == [("released", "", "L1", "2")]


def test_a_label_that_a_figure_of_its_own_row_became_part_of_is_held() -> None:
    sheet = table("mm² | Terminal | Terminal | Torque N·m", "4 | L1 | 2.5 | 2", "6 | N | 3.5 | 2")
    assert [(state, label) for state, _, label, _ in told(sheet)] == [("held", "L1"), ("held", "N")]


def test_a_mini_circuit_breaker_under_a_torque_heading_makes_no_lowest_torque_of_it() -> None:
    sheet = broken(table("x | terminal", "18 | L1", "20 to 22 | N"), c1="torque lb·in/mini circuit breaker LQ 16")
    assert told(sheet) == [
        ("released", "mini circuit breaker LQ 16", "L1", "18"),
        ("released", "mini circuit breaker LQ 16", "N", "20 to 22"),
    ]


def test_a_torque_heading_printed_again_with_its_unit_names_no_terminal() -> None:
    sheet = broken(table("x | terminal", "250 | L1"), c1="torque (rec.)/torque (rec.) cN·m")
    assert told(sheet) == [("released", "", "L1", "250")]


def test_a_torque_phrase_cut_into_two_columns_of_units_names_no_terminal() -> None:
    sheet = table("terminal | momento N·m | de aperto lb·in", "L2 | 2.5 | 22.1")
    assert told(sheet) == [("released", "", "L2", "2.5")]
