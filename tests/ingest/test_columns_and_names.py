"""Tables as strangers print them: what a column is for, whose size it is, and what names the terminal."""

from __future__ import annotations

from pathlib import Path

import pytest

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting


def settings_of(tmp_path: Path, *rows: str, name: str = "sheet.csv") -> list[Setting]:
    path = tmp_path / name
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return list(read_sheet(path).settings)


def names(found: list[Setting]) -> list[tuple[str, str, str]]:
    """Return device, terminal and torque of what is released, as printed."""
    return [(s.device.printed, s.terminal.printed, s.torque.printed) for s in found if s.state == "released"]


def test_a_gauge_of_no_kind_belongs_to_each_kind_in_square_millimetres_beside_it(tmp_path: Path) -> None:
    found = settings_of(
        tmp_path,
        "Type;Terminal;Solid mm²;Flexible mm²;AWG;Tightening torque N·m",
        "QF 10;L1;1-25;1-16;18-4;2.0",
    )
    sizes = {(s.conductor.printed, s.conductor.stranding, s.conductor.max_awg) for s in found}
    assert sizes == {("1-25 / 18-4", ("solid",), "4"), ("1-16 / 18-4", ("flexible",), "4")}


def test_the_size_that_a_terminal_is_called_by_is_none_that_it_takes(tmp_path: Path) -> None:
    found = settings_of(
        tmp_path,
        "Bezeichnung;Nennquerschnitt mm²;Klemmbereich eindrähtig mm²;Nennstrom A;Drehmoment Nm;Rabattgr.",
        "Durchgangsklemmen;;;;;",
        "ZK 4;4;0,5-6;32;0,6;A",
        "ZK 6;6;0,5-10;;0,8;A",
    )
    assert [(s.terminal.printed, s.conductor.printed, s.state) for s in found] == [
        ("ZK 4 / Durchgangsklemmen", "0,5-6", "released"),
        ("ZK 6 / Durchgangsklemmen", "0,5-10", "released"),
    ]


def test_a_word_behind_the_types_tells_their_terminals_apart(tmp_path: Path) -> None:
    rows = ["ZB-6 line;4-25;3.0", "ZB-6 tap;0.5-6;1.2", "ZB-12 line;6-50;6.0", "ZB-12 tap;1-10;2.0"]
    found = settings_of(tmp_path, "Cat. no.;Conductor mm²;Torque N·m", *rows)
    assert names(found) == [
        ("ZB-6", "line", "3.0"),
        ("ZB-6", "tap", "1.2"),
        ("ZB-12", "line", "6.0"),
        ("ZB-12", "tap", "2.0"),
    ]


@pytest.mark.parametrize(
    ("sentence", "name"),
    [
        ("Dual rated. Torque values apply to the wire binding screw, not to the mounting bolt.", "wire binding screw"),
        ("Box terminals for bare wire under a washer. Body of polyamide, 600 V.", "Box terminals"),
    ],
)
def test_a_sentence_over_a_table_names_its_terminals(tmp_path: Path, sentence: str, name: str) -> None:
    page = f"<h1>Lugs QL</h1><p>{sentence}</p><table><tr><th>Type<th>Wire AWG<th>Torque N·m</tr>"
    page += "<tr><td>QL-2<td>14-2<td>5.6</tr><tr><td>QL-250<td>6-2/0<td>31</tr></table>"
    found = settings_of(tmp_path, f"<html><body>{page}</body></html>", name="sheet.html")
    assert [(s.terminal.printed, s.state) for s in found] == [(name, "released")] * 2


GRID = "<style>.c{display:grid;grid-template-columns:180px repeat(2,1fr)}.c>.g{grid-column:1/-1}</style><div class=c>"


def test_boxes_that_a_style_sheet_sets_in_a_grid_are_a_table(tmp_path: Path) -> None:
    price = "<small style='display:block'>€ 39.90</small>"
    rows = ["", f"QP-60{price}", f"QP-120{price}", "Connection", "Screw", "Screw"]
    rows += ["Solid", "0.5–2.5 mm²", "0.5–4 mm²", "Tightening torque", "0.5 Nm", "0.6 Nm"]
    boxes = [f"<div>{text}</div>" for text in rows]
    boxes.insert(3, "<div class=g>Input terminals L, N, PE</div>")
    found = settings_of(tmp_path, f"<html><body>{GRID}{''.join(boxes)}</div></body></html>", name="sheet.html")
    assert names(found) == [
        ("QP-60", "Input terminals L, N, PE", "0.5 Nm"),
        ("QP-120", "Input terminals L, N, PE", "0.6 Nm"),
    ]


def test_a_page_that_is_laid_out_as_a_grid_is_no_table(tmp_path: Path) -> None:
    page = "<h2>Filter</h2><p>Poles</p></div><div><h2>Switch QS 40</h2><p>Line terminals: 2 N·m.</p></div></div>"
    found = settings_of(tmp_path, f"<html><body>{GRID}<div>{page}</body></html>", name="sheet.html")
    assert [(s.place.table, s.torque.printed) for s in found] == [(None, "2 N·m")]


def test_a_torque_s_part_is_called_as_its_sizes_are(tmp_path: Path) -> None:
    found = settings_of(
        tmp_path,
        "Type;Description;Large holes mm²;Torque large Nm;Small holes mm²;Torque small Nm",
        "QB-7;Neutral bar, blue;1.5-25;3.0;1.5-16;2.0",
    )
    assert [(s.terminal.printed, s.conductor.printed, s.torque.printed, s.state) for s in found] == [
        ("QB-7 / Large holes", "1.5-25", "3.0", "released"),
        ("QB-7 / Small holes", "1.5-16", "2.0", "released"),
    ]


def test_a_kind_over_a_column_of_torques_is_the_conductor_s(tmp_path: Path) -> None:
    found = settings_of(tmp_path, "Terminal;Conductor mm²;Torque solid N·m;Torque flexible N·m", "L1;1-16;2;2.5")
    assert [(s.terminal.printed, s.conductor.stranding, s.torque.printed) for s in found] == [
        ("L1", ("solid",), "2"),
        ("L1", ("flexible",), "2.5"),
    ]


def test_a_size_and_a_torque_in_one_cell_are_two_columns(tmp_path: Path) -> None:
    found = settings_of(
        tmp_path,
        "Type;Input terminals mm² / N·m;Output terminals mm² / N·m",
        "QP 24-5;0.5–4 / 0.6;1–6 / 0.8",
        "QP 24-9;0.5–6 / 0.8;2.5–10 / 1.5",
    )
    assert [(s.terminal.printed, s.conductor.printed, s.torque.printed, s.state) for s in found] == [
        ("Input terminals", "0.5–4", "0.6", "released"),
        ("Output terminals", "1–6", "0.8", "released"),
        ("Input terminals", "0.5–6", "0.8", "released"),
        ("Output terminals", "2.5–10", "1.5", "released"),
    ]


def test_a_row_that_prints_a_dash_for_its_conductor_must_name_its_terminal_itself(tmp_path: Path) -> None:
    rows = ["QD 80;Line side;6-25;3.0", "QD 80;Guide foot;–;0.8", "QD 80;End stop;–;0.8"]
    found = settings_of(tmp_path, "Type;Connection;Conductor mm²;Torque N·m", *rows)
    assert [(s.state, s.purpose) for s in found] == [
        ("released", "electrical_terminal"),
        ("held", "electrical_terminal"),
        ("released", "mounting"),
    ]


def test_lists_side_by_side_may_have_other_columns(tmp_path: Path) -> None:
    found = settings_of(
        tmp_path,
        "Type;Line terminals mm²;Torque N·m;Type;Description;Conductor mm²;Torque N·m",
        "QT 25;1-10;1.2;QT-N 40;Neutral conductor;1-16;2",
        "QT 40;1-16;2;QT-PE 40;Earth terminal;1-16;2.5",
    )
    assert {(s.device.model, s.terminal.printed, s.conductor.printed, s.torque.printed) for s in found[2:]} == {
        ("QT-N 40", "Neutral conductor", "1-16", "2"),
        ("QT-PE 40", "Earth terminal", "1-16", "2.5"),
    }
    assert [(s.device.model, s.torque.printed) for s in found[:2]] == [("QT 25", "1.2"), ("QT 40", "2")]


def test_a_name_printed_once_stands_before_each_of_its_properties(tmp_path: Path) -> None:
    found = settings_of(
        tmp_path,
        ";;QB-80;QB-125",
        "Line side;Number of connections;1;1",
        ";Cross-section mm²;2.5-16;10-35",
        ";Tightening torque Nm;2.0;3.5",
        "Load side;Number of connections;6;6",
        ";Cross-section mm²;1.5-6;2.5-16",
        ";Tightening torque Nm;1.2;2.0",
    )
    assert names(found) == [
        ("QB-80", "Line side", "2.0"),
        ("QB-80", "Load side", "1.2"),
        ("QB-125", "Line side", "3.5"),
        ("QB-125", "Load side", "2.0"),
    ]


def test_a_turned_table_is_headed_by_what_its_columns_begin_with(tmp_path: Path) -> None:
    found = settings_of(
        tmp_path,
        "Function;QX-C1 controller;QX-DO8 relay outputs",
        "Supply;24 V DC;from bus",
        "Supply terminals;;",
        "Conductor;0.5-2.5 mm²;0.5-2.5 mm²",
        "Tightening torque;0.5 Nm;0.6 Nm",
        "Signal terminals;;",
        "Conductor;0.14-1.5 mm²;0.5-2.5 mm²",
        "Tightening torque;0.22 Nm;0.4 Nm",
        "Flange screws of plug;0.3 Nm;–",
    )
    assert {(s.terminal.printed, s.torque.printed, s.purpose) for s in found if s.state == "released"} == {
        ("Supply terminals", "0.5 Nm", "electrical_terminal"),
        ("Supply terminals", "0.6 Nm", "electrical_terminal"),
        ("Signal terminals", "0.22 Nm", "electrical_terminal"),
        ("Signal terminals", "0.4 Nm", "electrical_terminal"),
        ("Flange screws of plug", "0.3 Nm", "mounting"),
    }


def test_a_range_under_a_word_for_nominal_sizes_is_what_the_terminal_takes(tmp_path: Path) -> None:
    found = settings_of(tmp_path, "Posição;Seção nominal mm²;AWG;Torque N·m", "L1;2.5-6;14-10;1.2", "PE;4-10;12-8;2.0")
    assert [s.conductor.printed for s in found if s.state == "released"] == ["2.5-6 / 14-10", "4-10 / 12-8"]


def test_a_broken_heading_over_a_torque_tells_no_two_figures_of_one_bar_apart(tmp_path: Path) -> None:
    """What stands under the other heading may be the torque as well."""
    found = settings_of(
        tmp_path,
        "Reihenklemmen ZR;;",
        "Typ;eindrähtig mm²;eindrähtig feindrähtig mit Nm;Anzugs- Nm",
        "ZR 4;0,5-6;0,5-0,9;0,5-0,8",
    )
    assert {s.state for s in found} == {"held"}


def test_a_property_s_name_goes_before_a_general_word_in_its_value(tmp_path: Path) -> None:
    values = "borne de parafuso, 0,5–2,5 mm², binário de aperto 0,6 Nm"
    rows = [("Referência", "QM-16"), ("Ligação da alimentação (X1)", values)]
    rows += [("Ligação das entradas (X2)", values.replace("0,6", "0,4"))]
    cells = "".join(f"<tr><td>{name}<td>{value}</tr>" for name, value in rows)
    found = settings_of(tmp_path, f"<html><body><h1>QM-16</h1><table>{cells}</table></body></html>", name="sheet.html")
    assert [(s.terminal.printed, s.torque.printed, s.state) for s in found] == [
        ("Ligação da alimentação (X1)", "0,6 Nm", "released"),
        ("Ligação das entradas (X2)", "0,4 Nm", "released"),
    ]


def test_a_list_that_begins_like_the_one_above_has_headings_of_its_own(tmp_path: Path) -> None:
    rows = ["Type;Terminal;Conductor mm²;Torque Nm", "QB 5;PE;1.5-16;1.5", "QB 9;PE;1.5-16;1.5"]
    found = settings_of(tmp_path, *rows, "Type;Description;;Pack", "QC 7;Clear cover for QB;;10")
    assert [(s.torque.printed, s.state) for s in found] == [("1.5", "released"), ("1.5", "released")]
