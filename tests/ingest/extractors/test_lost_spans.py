"""Kinds that random sheets found: spans without rules, limits, bands and lists side by side, matrices, sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest
from set_sheets import page, table

from torquary_ingest.document import Document, Page, Table, Word
from torquary_ingest.extractors.headed import HeadedTables
from torquary_ingest.extractors.sentences import Sentences
from torquary_ingest.normalise import settle
from torquary_ingest.normalise.notes import collect_notes
from torquary_ingest.openers.pdf.page_text import count_figures
from torquary_ingest.skeleton import make_skeleton
from torquary_schema.values import Box, Finding, Setting


def settled(*tables: Table) -> tuple[tuple[Setting, ...], tuple[Finding, ...]]:
    document = Document(file="x", kind="test", pages=(Page(number=1), Page(number=2)), page_count=2)
    readings = list(HeadedTables().readings(document, tables))
    return settle(document, tables, readings, make_skeleton(document, tables))


def told(*tables: Table) -> list[tuple[str, str, str]]:
    """State, terminal and limits in N·m of each setting."""
    found = []
    for setting in settled(*tables)[0]:
        torque = setting.torque
        limits = "" if torque is None else f"{torque.min_nm}..{torque.max_nm}"
        found.append((setting.state, setting.terminal.printed, limits))
    return found


@pytest.mark.parametrize("blank", ["Device", "Terminal", "mm²", "Stranding"])
def test_a_blank_that_may_mean_the_row_above_is_held(blank: str) -> None:
    heads = ["Device", "Terminal", "Conductor mm²", "Stranding", "Torque N·m"]
    row = ["" if blank in head else text for head, text in zip(heads, ["LQ1", "L2", "4", "solid", "2"], strict=True)]
    sheet = table(" | ".join(heads), "LQ1 | L1 | 2.5 | solid | 1.2", " | ".join(row))
    assert [setting.state for setting in settled(sheet)[0]] == ["released", "held"]


def test_a_ruled_span_is_no_blank() -> None:
    sheet = table("Terminal | Conductor mm² | Torque N·m", "L1 | 2.5 | 1.2", "^ | 4 | 2")
    assert told(sheet) == [("released", "L1", "1.2..1.2"), ("released", "L1", "2..2")]


@pytest.mark.parametrize(("first", "state"), [("2.5-16", "held"), ("7", "held"), ("1", "released")])
def test_a_figure_under_no_heading_may_limit_the_torque(first: str, state: str) -> None:
    """The rows are numbered 1, 2 …, or what the figures are is not told."""
    sheet = table(f"{first} | Neutral terminal | 2 N·m", "2 | Earth terminal | 2.5 N·m")
    assert {setting.state for setting in settled(sheet)[0]} == {state}


def test_a_marking_between_rows_is_no_line_over_rows_with_markings() -> None:
    """T1, 2 and L1 stand in the middle of their rows: nothing says that T1 speaks for those that follow."""
    rows = (" | 2.5 | 1.2", "T1 | | ", " | 4 | 1.2", " | 2.5 | 2", "2 | 4 | 2", " | 6 | 2", "L1 | 4 | 2.5")
    sheet = table("Terminal | Conductor mm² | Torque N·m", *rows)
    assert [name for state, name, _ in told(sheet) if state == "released"] == ["2", "L1"]


def test_labels_between_their_rows_name_neither() -> None:
    sheet = table("Terminal | Conductor mm² | Torque N·m", " | 2.5 | 1.2", "L1 | | ", " | 4 | 2")
    assert {setting.state for setting in settled(sheet)[0]} == {"held"}


def test_the_second_limit_belongs_to_the_group_of_the_first() -> None:
    flattened = table("Terminal | Torque N·m | ", " | min. | max.", "L1 | 2 | 3")
    joined = table("Terminal | Torque min. N·m | max.", "L1 | 2 | 3")
    assert told(flattened) == told(joined) == [("released", "L1", "2..3")]


def test_a_lowest_torque_above_the_highest_is_held() -> None:
    [setting] = settled(table("Terminal | Torque min. N·m | Torque max. N·m", "L1 | 3 | 2"))[0]
    assert (setting.state, [f.code for f in setting.findings]) == ("held", ["range_reversed"])


def test_a_range_under_one_limit_is_held() -> None:
    [setting] = settled(table("Terminal | max. torque N·m", "L1 | 2–3"))[0]
    assert (setting.state, [f.code for f in setting.findings]) == ("held", ["number_ambiguous"])


def test_a_preposition_is_no_limit() -> None:
    [(state, _, limits)] = told(table("Klem | Aandraaimoment van klemmen N·m", "L1 | 2"))
    assert (state, limits) == ("released", "2..2")


def test_two_figures_in_one_unit_are_one_torque_only_if_equal() -> None:
    sheet = table("Terminal | lower | upper", "L1 | 2 | 2.5", caption=("Tightening torque N·m",))
    assert told(sheet) == [("released", "L1", "2..2.5")]
    twice = table("Terminal | Torque N·m | Torque Nm", "L1 | 2 | 2.5")
    assert [setting.state for setting in settled(twice)[0]] == ["held"]


def test_a_unit_across_the_table_is_a_band_and_heads_no_column() -> None:
    sheet = table(
        "Screw | Torque | Conductor mm²", "[lb·in] | < | <", "1 | 20 | 2.5", "[N·m] | < | <", "2 | 2.5 | 4"
    )
    assert [terminal for _, terminal, _ in told(sheet)] == ["1", "2"]
    assert [setting.torque.unit_printed for setting in settled(sheet)[0] if setting.torque] == ["lb·in", "N·m"]


def test_a_device_close_under_the_first_heading_is_a_band() -> None:
    sheet = table("Conductor mm² | Terminal | Torque N·m", "2.5 | L1 | 1.2")
    first = replace(sheet.cells[0], text="Conductor mm²\nMCB LQ 16")
    [setting] = settled(replace(sheet, cells=(first, *sheet.cells[1:])))[0]
    assert (setting.state, setting.terminal.printed, setting.device.printed) == ("released", "L1", "MCB LQ 16")


def test_a_device_cut_by_the_columns_is_one_name() -> None:
    sheet = table("Terminal | Conductor mm² | Torque N·m", "MCB | LQ 16 | ", "L1 | 2.5 | 1.2")
    assert [setting.device.printed for setting in settled(sheet)[0]] == ["MCB LQ 16"]


def test_lists_side_by_side_keep_their_devices() -> None:
    sheet = table(
        "MCB LQ 16 | < | RCCB LX 40 | <", "Torque N·m | Terminal | Torque N·m | Terminal", "1.2 | L1 | 2 | N"
    )
    found = {s.terminal.printed: (s.state, s.device.printed) for s in settled(sheet)[0]}
    assert found == {"L1": ("released", "MCB LQ 16"), "N": ("released", "RCCB LX 40")}


def test_two_devices_over_lists_side_by_side_are_not_told_apart() -> None:
    sheet = table(
        "Terminal | Torque N·m | Terminal | Torque N·m", "L1 | 1.2 | N | 2", caption=("MCB LQ 16", "RCCB LX 40")
    )
    assert {setting.state for setting in settled(sheet)[0]} == {"held"}


@pytest.mark.parametrize(
    "rows",
    [
        ("Terminal | 1.5–6 mm² | 10–16 mm²", "L1 | 1.2 | 2", "N | 2 | 3"),
        ("Terminal | L1 | N", "1.5–6 mm² | 1.2 | 2", "10–16 mm² | 2 | 3"),
    ],
)
def test_a_matrix_gives_each_torque_its_terminal_and_size(rows: tuple[str, ...]) -> None:
    found = settled(table(*rows, caption=("Tightening torque N·m",)))[0]
    assert {(s.terminal.printed, str(s.conductor.max_mm2), str(s.torque and s.torque.max_nm)) for s in found} == {
        ("L1", "6", "1.2"),
        ("L1", "16", "2"),
        ("N", "6", "2"),
        ("N", "16", "3"),
    }


def test_a_purpose_inside_the_name_of_a_terminal_or_torque_is_none() -> None:
    sheets = (
        table("Borne | Par de fijación N·m", "L1 | 2"),
        table("端子 | 締付トルク N·m", "フレームグランド | 2"),
    )
    assert {s.purpose for sheet in sheets for s in settled(sheet)[0]} == {"electrical_terminal"}


def test_a_row_of_another_purpose_under_a_heading_of_terminal_screws_keeps_it() -> None:
    sheet = table("Terminal screws | Torque N·m", "L1 | 2", "fixing bolt | 4")
    assert [s.purpose for s in settled(sheet)[0]] == ["electrical_terminal", "mounting"]


def test_french_cable_is_not_stranded() -> None:
    sheet = table("Borne | Section de câble mm² | Couple N·m | Type de câble", "L1 | 2.5 | 2 | souple")
    assert [setting.conductor.stranding for setting in settled(sheet)[0]] == [("flexible",)]


def test_a_table_without_headings_under_a_caption_of_torques_is_named() -> None:
    rows = ("1.2 | 1.5 | N | 0.75–4", "0.5 | 0.6 | L1 | 0.75–4")
    found = settled(table(*rows, caption=("Tightening torque N·m",)))
    assert ([*found[0]], [finding.code for finding in found[1]]) == ([], ["table_no_headings"])
    assert [finding.code for finding in settled(table(*rows, caption=("Dimensions in mm",)))[1]] == []


def test_a_table_overleaf_that_is_not_understood_is_named() -> None:
    first = table("Terminal | Conductor mm² | Torque N·m", "X1 | 4 | 0.6")
    then = table("B接点 | 2.5 | 0.5 | x", page=2)
    assert "table_no_headings" in {finding.code for finding in settled(first, then)[1]}


def test_the_number_of_a_terminal_is_not_the_lower_end_of_a_range() -> None:
    document = page("Tighten terminal 13 to 22 lbf·in.")
    readings = list(Sentences().readings(document, ()))
    [setting] = settle(document, (), readings, make_skeleton(document, ()))[0]
    assert (setting.state, [f.code for f in setting.findings]) == ("held", ["number_ambiguous"])


def test_a_torque_in_lines_that_were_not_seen_as_a_table_is_named() -> None:
    document = page("Moment N·m", "1.2", "L1")
    assert "figure_not_placed" in {finding.code for finding in settle(document, (), [], make_skeleton(document, ()))[1]}


def test_a_word_opens_no_note() -> None:
    assert collect_notes(page("Ambient temperature 40 °C.", "a Only for copper."), ()) == {(1, "a"): "Only for copper."}


def test_a_page_of_rows_run_together_bears_figures() -> None:
    assert count_figures("1.2 12.2 coil 10…50 2 20.4 load 2.5…16") == 6


def test_power_under_a_heading_that_reaches_too_far_is_no_torque() -> None:
    sheet = table("Terminal | Torque N·m | <", " | N·m | P [W]", "L1 | 2 | 1.5")
    assert {limits for _, _, limits in told(sheet)} == {"2..2"}


def test_a_unit_that_slipped_into_the_heading_of_terminals_makes_no_torques() -> None:
    sheet = table("Screw | Conductor mm² | Torque", "13 | 2.5 | 20")
    first = replace(sheet.cells[0], text="Screw\n[lb·in]")
    found = settled(replace(sheet, cells=(first, *sheet.cells[1:])))[0]
    assert [(s.state, s.terminal.printed) for s in found] == [("held", "13")]


def test_a_label_across_is_given_as_printed() -> None:
    sheet = table("mm² | barra de neutro", "1.5–6 mm² | 2", caption=("Par de apriete N·m",))
    assert [terminal for _, terminal, _ in told(sheet)] == ["barra de neutro"]


def test_a_figure_in_a_heading_is_a_row_that_was_taken_for_one() -> None:
    sheet = table("Terminal | Torque N·m", " | 1,48", "L1 | 2")
    first = replace(sheet.cells[1], text="Torque N·m\n1,48")
    found = settled(replace(sheet, cells=(sheet.cells[0], first, *sheet.cells[2:])))[0]
    assert "released" not in {s.state for s in found if s.terminal.printed.startswith("L1 / 1")}


def test_a_mark_without_a_figure_is_no_torque() -> None:
    sheet = table("Terminal | Torque N·m", "L1 | 1")
    box = Box(x0=0, top=0, x1=9, bottom=9)
    sizes = {"L1": 8.0, "1": 4.8}
    cells = [
        replace(c, words=(Word(text=c.text, box=box, size=sizes.get(c.text, 8.0), baseline=9),)) for c in sheet.cells
    ]
    assert [s.state for s in settled(replace(sheet, cells=tuple(cells)))[0]] == ["held"]


def test_a_device_in_a_band_holds_over_headings_printed_again() -> None:
    sheet = table(
        "Terminal | Torque N·m", "L1 | 2", "MCB LX 40 | <", "x | y", "Terminal | Torque N·m", "N | 3",
        caption=("MCB LQ 16",),
    )  # fmt: skip
    devices = {s.terminal.printed: s.device.printed for s in settled(sheet)[0] if s.state == "released"}
    assert devices == {"L1": "MCB LQ 16", "N": "MCB LX 40"}


def test_a_third_column_under_two_limits_is_held() -> None:
    sheet = table("Terminal | Torque N·m | < | <", " | min. | max. | m", "L1 | 2 | 3 | 7")
    assert [(state, limits) for state, _, limits in told(sheet)] == [("released", "2..3"), ("held", "7..7")]


def test_a_device_over_a_column_is_the_device_and_no_part_of_the_label() -> None:
    sheet = table("MCB LQ 16 | < | Conductor mm²", "Terminal | Torque N·m | ^", "L1 | 2 | 4")
    [setting] = settled(sheet)[0]
    assert (setting.terminal.printed, setting.device.printed) == ("L1", "MCB LQ 16")


def test_a_terminal_left_without_figures_is_held_and_names_no_other_row() -> None:
    rows = ("Terminal | Conductor mm² | Torque N·m", "L1 | 2.5 | 2", "L2 | | ", "PE | 4 | 1.2", "N | | ")
    assert told(table(*rows)) == [
        ("released", "L1", "2..2"),
        ("held", "L2", "None..None"),
        ("released", "PE", "1.2..1.2"),
        ("held", "N", "None..None"),
    ]
    beside = table("Device | Terminal | mm² | Torque N·m", "LQ 16 | L1 | 2.5 | 2", " | L2 | | ")
    assert told(beside) == [("released", "L1", "2..2"), ("held", "L2", "None..None")]


def test_a_marking_over_rows_of_sizes_names_them() -> None:
    rows = ("Conductor mm² | Torque N·m", "N | ", "2.5 | 2", "4 | 3")
    assert told(table(*rows)) == [("released", "N", "2..2"), ("released", "N", "3..3")]


def test_rows_under_headings_that_were_not_understood_are_named() -> None:
    sheet = table(
        "mm² | Terminal | Torque N·m", "4 | L1 | 2", "Length mm | Terminal | Lid", "8 | N | 3", "9 | PE | 4"
    )  # fmt: skip
    settings, findings = settled(sheet)
    assert [(s.terminal.printed, s.state) for s in settings] == [("L1", "released")]
    assert [f.printed for f in findings if f.code == "figure_not_placed"] == ["8 | N | 3\n9 | PE | 4"]


def test_a_row_over_a_name_alone_that_begins_small_is_held() -> None:
    """The second line of its name, in a table whose lines stand as far apart as its rows."""
    sheet = replace(table("terminal | torque N·m", "contatto | 2", "di apertura |", "L1 | 3"), means="aligned")
    assert told(sheet)[0][:2] == ("held", "contatto")
    capital = replace(table("terminal | torque N·m", "contatto | 2", "L2 |", "L1 | 3"), means="aligned")
    assert told(capital)[0][:2] == ("released", "contatto")


def test_rows_under_a_device_that_was_taken_into_a_text_above_are_held() -> None:
    """A line between close rows that begins small, as a second line of the name above would."""
    rows = table("terminal | torque N·m", "L1 | 2", "main connection/circuit breaker LQ 63 | 3", "N | 2")
    sheet = replace(rows, cells=tuple(replace(cell, text=cell.text.replace("/", "\n")) for cell in rows.cells))
    assert [state for state, _, _ in told(sheet)] == ["released", "held", "held"]


@pytest.mark.parametrize(
    ("names", "states"),
    [
        (("Main", "terminals", "Coil"), ["held", "held", "released"]),
        (("Main", "Terminals", "Coil"), ["released"] * 3),
        (("main", "terminals", "coil"), ["released"] * 3),
    ],
)
def test_a_name_that_begins_small_under_one_that_does_not_may_be_its_second_line(
    names: tuple[str, ...], states: list[str]
) -> None:
    rows = table("terminal | mm² | torque N·m", *(f"{name} | {n}.5 | {n}" for n, name in enumerate(names, 1)))
    assert [state for state, _, _ in told(replace(rows, means="aligned"))] == states
    assert [state for state, _, _ in told(rows)] == ["released"] * 3  # drawn rules part the names


def test_names_in_small_letters_are_held_where_blanks_show_that_they_reach_over_rows() -> None:
    rows = table("terminal | mm² | torque N·m", "main | 1.5 | 1", "terminals | 4 | 2", " | 6 | 3", "A1 | 2.5 | 1")
    found = told(replace(rows, means="aligned"))
    assert [state for state, _, _ in found] == ["held", "held", "held", "released"]
