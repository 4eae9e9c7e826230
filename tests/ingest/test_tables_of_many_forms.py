"""Tables and files of many forms: cards, exports, price lists, sections between rules, names printed once."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.figures.conductor_words import read_conductor_words
from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import draw
from text_sheets import settings_of

Said = dict[tuple[str, str, str], str]


def said(path: Path) -> Said:
    """Return the state of each setting by device, terminal and torque as printed."""
    return {(s.device.printed, s.terminal.printed, s.torque.printed): s.state for s in read_sheet(path).settings}


CARD = "Type;{}\nConnection;Screw terminal\nRated current;{}\nConductor;0.5-{} mm²\nTightening torque (N·m);{}\n"


def test_a_card_begins_with_the_name_that_comes_again_after_a_blank_line(tmp_path: Path) -> None:
    cards = [CARD.format("QN-4", "24 A", 4, "0.5"), CARD.format("QN-6", "", 6, "0.8")]
    found = settings_of(tmp_path / "sheet.csv", "Orvane Terminals;export\n\n" + "\n".join(cards))
    assert [(s.device.printed, s.torque.printed, s.state) for s in found] == [
        ("QN-4", "0.5", "released"),
        ("QN-6", "0.8", "released"),
    ]


def test_a_property_that_names_another_screw_takes_no_terminal_and_no_size(tmp_path: Path) -> None:
    cards = [CARD.format("QN-4", "24 A", 4, "0.5") + "Tightening torque, rail foot screw (N·m);1.8\n"]
    cards.append(CARD.format("QN-6", "41 A", 6, "0.8"))
    [terminal, foot] = settings_of(tmp_path / "sheet.csv", "\n".join(cards))[:2]
    assert (terminal.purpose, terminal.conductor.max_mm2) == ("electrical_terminal", 4)
    assert (foot.purpose, foot.terminal.printed, foot.conductor.printed) == ("mounting", "rail foot screw", "")


def test_a_field_s_name_in_small_letters_gives_its_unit_and_its_part(tmp_path: Path) -> None:
    heads = "sku,description,main_wire_max_mm2,main_torque_nm,control_terminals,control_wire_max_mm2,control_torque_nm"
    rows = ["QT-40,Transfer switch 40 A,16,2.5,1-6,2.5,0.5", "QT-80,Transfer switch 80 A,35,4.0,1-6,2.5,0.5"]
    found = settings_of(tmp_path / "sheet.csv", "\n".join([heads, *rows]) + "\n")
    assert {(s.terminal.printed, str(s.torque.max_nm), s.state) for s in found} == {
        ("main", "2.5", "released"),
        ("main", "4.0", "released"),
        ("control_terminals 1-6", "0.5", "released"),
    }


def test_a_price_per_hundred_is_the_heading_of_a_column(tmp_path: Path) -> None:
    path = tmp_path / "prices.pdf"
    rows = [("Type", "Conductor mm²", "Torque N·m", "€ / 100"), ("QN 4", "0.5-4", "0.5", "46.90")]
    draw(path, [*rows, ("QN 6", "0.5-6", "0.8", "58.00")], title="Terminal blocks QN").save()
    assert {key[1:]: state for key, state in said(path).items()} == {
        ("QN 4", "0.5"): "released",
        ("QN 6", "0.8"): "released",
    }


def test_a_long_name_between_rules_heads_the_rows_that_follow(tmp_path: Path) -> None:
    path = tmp_path / "sections.pdf"
    bands = ("Circuit breakers three-pole QB3 – terminals 1 to 6", "Auxiliary contacts QA – terminals 13, 14")
    rows = [("Type", "Conductor mm²", "Torque N·m", "Bit")]
    rows += [(bands[0], "", "", ""), ("QB3-6", "1-25", "2.0", "PZ2"), ("QB3-10", "1-25", "2.0", "PZ2")]
    rows += [(bands[1], "", "", ""), ("QA-2", "0.5-2.5", "0.5", "PZ1"), ("QA-4", "0.5-2.5", "0.5", "PZ1")]
    draw(path, rows, title="Modular devices").save()
    read = {(device.split()[0], name): state for (device, name, _), state in said(path).items()}
    assert read == {
        ("QB3-6", bands[0]): "released",
        ("QB3-10", bands[0]): "released",
        ("QA-2", bands[1]): "released",
        ("QA-4", bands[1]): "released",
    }


def test_a_title_between_the_rules_of_two_tables_begins_the_second(tmp_path: Path) -> None:
    path = tmp_path / "two.pdf"
    canvas = draw(path, [("Type", "Frame A"), ("QB-50", "50"), ("QB-99", "99"), ("QB-125", "125")], title="QB breakers")
    canvas.setFont("Helvetica-Bold", 10)
    canvas.drawString(52, 655, "Connection")
    heads = ("Type", "Conductor mm²")
    for number, row in enumerate([(*heads, "Torque N·m"), ("QB-50", "1.5-16", "2.5"), ("QB-99", "2.5-35", "4.0")]):
        for column, text in enumerate(row):
            canvas.setFont("Helvetica", 9)
            canvas.drawString(54 + 70 * column, 618 - 18 * number, text)
    for y in (630, 612, 594, 576):
        canvas.line(50, y, 270, y)
    canvas.save()
    texts = [cell.text for table in _tables(path) for cell in table.cells if cell.row == 1]
    assert texts == ["Type", "Frame A", *heads[:1], heads[1], "Torque N·m"]


def _tables(path: Path) -> list:  # type: ignore[type-arg]
    from torquary_ingest.opening import open_sheet
    from torquary_ingest.plugins import OpenWish

    return list(open_sheet(path, OpenWish()).tables)


GROUPS = [
    ("Type", "Terminal", "Conductor mm²", "Torque N·m"),
    ("QD 80", "Input", "6-25", "2.5"),
    ("", "Output", "1.5-10", "1.5"),
    ("QD 125", "Input", "10-35", "4"),
    ("", "Output", "2.5-16", "2"),
]


def _write_without_rules(path: Path, rows: list[tuple[str, ...]]) -> None:
    draw(path, rows, ruled=False, title="Distribution blocks QD").save()


def test_a_name_printed_once_is_that_of_the_rows_that_cannot_be_another_s(tmp_path: Path) -> None:
    path = tmp_path / "groups.pdf"
    _write_without_rules(path, GROUPS)
    read = {(device.split(" Dist")[0], name): state for (device, name, _), state in said(path).items()}
    names = [(device, name) for device in ("QD 80", "QD 125") for name in ("Input", "Output")]
    assert read == dict.fromkeys(names, "released")


@pytest.mark.parametrize(
    "rows",
    [
        [*GROUPS[:1], ("", *GROUPS[2][1:]), ("QD 80", *GROUPS[1][1:]), ("", *GROUPS[4][1:]), ("QD 9", *GROUPS[3][1:])],
        [*GROUPS[:2], ("QD 125", "Input", "10-35", "4"), ("", "PE", "6", "2")],
    ],
    ids=["in the last row", "of one group that may be for all"],
)
def test_a_name_that_may_be_another_row_s_holds(tmp_path: Path, rows: list[tuple[str, ...]]) -> None:
    path = tmp_path / "groups.pdf"
    _write_without_rules(path, rows)
    blank = {row[1] for row in rows[1:] if not row[0]}
    states = {state for (_, name, _), state in said(path).items() if name in blank}
    assert states == {"held"}


@pytest.mark.parametrize("pitch", [19.2, 24.0])
@pytest.mark.parametrize("heights", [(0.5, 3, 6, 9), (0.5, 2.5, 4.5, 7)], ids=["one between lines", "most so"])
def test_names_set_in_the_middle_of_their_rows_are_of_no_other_rows(
    tmp_path: Path, heights: tuple[float, ...], pitch: float
) -> None:
    path = tmp_path / "middle.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 8)
    canvas.drawString(54, 800, "Switch disconnector QV 160")
    for x, text in ((54, "Terminal"), (180, "Conductor mm²"), (360, "Torque N·m")):
        canvas.drawString(x, 740, text)
    names = dict(zip(heights, ("supply terminals", "auxiliary contact", "N", "13"), strict=False))
    true: dict[tuple[str, str], str] = {}
    row = 0
    for height, name in names.items():
        canvas.drawString(54, 720.5 - pitch * height, name)
        for _ in range(round(2 * (height - row)) + 1):
            size, torque = f"{10 * row + 1}-{10 * row + 9}", f"{0.5 + row}"
            canvas.drawString(180, 720.5 - pitch * row, size)
            canvas.drawString(360, 720.5 - pitch * row, torque)
            true[name, size] = torque
            row += 1
    canvas.save()
    told = {(s.terminal.printed, s.conductor.printed): s.torque.printed for s in read_sheet(path).settings
            if s.state == "released"}  # fmt: skip
    assert told.items() <= true.items()


def test_a_row_without_name_and_torque_is_another_conductor_of_the_terminal_above(tmp_path: Path) -> None:
    path = tmp_path / "conductors.pdf"
    rows = [("Terminal", "Conductor", "Cross-section mm²", "Torque N·m")]
    rows += [("Frame clamp L1", "solid", "10-70", "6"), ("", "flexible with ferrule", "10-50", "")]
    rows += [("Contact 11-12", "solid", "0.5-2.5", "0.6"), ("", "flexible with ferrule", "0.5-1.5", "")]
    rows += [("Cover screw", "–", "–", "0.8")]
    _write_without_rules(path, rows)
    found = [s for s in read_sheet(path).settings if s.terminal.printed == "Contact 11-12"]
    assert [(s.conductor.stranding, s.torque.printed, s.state) for s in found] == [
        (("solid",), "0.6", "released"),
        (("flexible",), "0.6", "released"),
    ]


def test_a_lost_decimal_mark_holds(tmp_path: Path) -> None:
    heads = "Type;Terminals;Conductor mm²;Torque N·m\n"
    rows = ["QB 8;1 to 6;2.5-50;3.5", "QB 9;1 to 6;2.5-50;3.5", "QB 10;1 to 6;2.5-50;35", "QB 11;7;2.5-25;2.0-24"]
    found = settings_of(tmp_path / "sheet.csv", heads + "\n".join(rows) + "\n")
    assert [s.state for s in found] == ["released", "released", "held", "held"]
    assert {f.code for s in found[2:] for f in s.findings} == {"torque_implausible"}


def test_one_of_two_types_of_a_product_is_the_device_of_the_list_under_it(tmp_path: Path) -> None:
    path = tmp_path / "two_types.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica-Bold", 16)
    canvas.drawString(50, 800, "Safety relay QSR 3 and extension module QSX 4")
    for top, name, torque in ((740, "QSR 3, connection", "0.6"), (600, "QSX 4, connection", "0.8")):
        canvas.setFont("Helvetica-Bold", 10)
        canvas.drawString(50, top + 24, name)
        canvas.setFont("Helvetica", 9)
        for number, row in enumerate([("Terminals", "Torque N·m"), ("13-14", torque), ("PE", "1.2")]):
            canvas.drawString(54, top - 18 * number, row[0])
            canvas.drawString(164, top - 18 * number, row[1])
        for number in range(4):
            canvas.line(50, top + 12 - 18 * number, 270, top + 12 - 18 * number)
    canvas.save()
    devices = {(device, name): state for (device, name, _), state in said(path).items()}
    assert devices[("QSR 3", "13-14")] == devices[("QSX 4", "13-14")] == "released"


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("ein-/mehrdrähtig", ("solid", "stranded")),
        ("ein-, mehr- und feindrähtig", ("solid", "stranded", "flexible")),
        ("en- eller flertrådig", ("solid", "stranded")),
        ("Haupt- und mehrdrähtig", ("stranded",)),
    ],
)
def test_a_word_cut_at_a_hyphen_is_known_with_the_next(text: str, kinds: tuple[str, ...]) -> None:
    assert read_conductor_words(text).stranding == kinds


def test_what_is_said_of_one_clamp_takes_it_out_of_a_statement(tmp_path: Path) -> None:
    path = tmp_path / "bolts.pdf"
    rows = [("Type", "Conductor mm²", "Torque N·m"), ("QN 4", "0.5-4", "0.5"), ("QN 6", "0.5-6", "0.8")]
    rows += [("High current blocks with stud terminals", "", ""), ("QN M8", "16-95", "9"), ("QN M10", "16-150", "16")]
    canvas = draw(path, rows, title="Terminal blocks QN")
    canvas.setFont("Helvetica", 9)
    said_over = "Sizes for copper conductors, solid and flexible. For stud terminals sizes of lugs are given."
    canvas.drawString(50, 762, said_over)
    canvas.save()
    kinds = {s.terminal.printed.split(" / ")[0]: s.conductor.stranding for s in read_sheet(path).settings}
    assert kinds["QN 4"] == ("solid", "flexible")
    assert kinds["QN M8"] == ()


def test_a_terminal_s_name_is_no_half_word_before_a_word_for_torque() -> None:
    from torquary_ingest.headings.sense import make_sense

    assert make_sense("入力端子 締付トルク N·m").rest == "入力端子"


EXPORT = """Article;Type;Terminal;Solid mm2;Flexible with ferrule mm2;AWG;Tightening torque (N·m)
501;RX-8;A1, A2;0.5-4;0.5-2.5;;0.6
502;RX-12;L1, L2, N;0.2-2.5;0.2-2.5;24-12;0.5
503;RX-16;L1, L2, N;1.5-16;1.5-10;;2
"""


def test_a_gauge_beside_equal_sizes_of_several_kinds_is_the_size_of_each(tmp_path: Path) -> None:
    found = [one for one in settings_of(tmp_path / "sheet.csv", EXPORT) if "RX-12" in one.device.printed]
    assert [(one.conductor.stranding, one.conductor.max_mm2, one.conductor.min_awg) for one in found] == [
        (("solid",), Decimal("2.5"), "24"),
        (("flexible",), Decimal("2.5"), "24"),
    ]


def test_a_blank_size_of_an_export_beside_one_that_is_given_repeats_none_of_another_device(tmp_path: Path) -> None:
    found = settings_of(tmp_path / "sheet.csv", EXPORT)
    assert {one.state for one in found} == {"released"}
    assert [one.conductor.min_awg for one in found if "RX-16" in one.device.printed] == [None, None]


def test_a_blank_size_of_the_same_device_may_repeat_the_one_above(tmp_path: Path) -> None:
    rows = "502;RX-12;L1, L2, N;0.2-2.5;0.2-2.5;24-12;0.5\n502;RX-12;PE;1-4;1-4;;0.5\n"
    found = settings_of(tmp_path / "sheet.csv", EXPORT.split("\n", maxsplit=1)[0] + "\n" + rows)
    assert {one.terminal.printed: one.state for one in found} == {"L1, L2, N": "released", "PE": "held"}


def test_types_of_one_series_head_the_records_of_a_turned_table(tmp_path: Path) -> None:
    path = tmp_path / "turned.pdf"
    rows = [
        ("", "KM1-45", "KM3-65", "KM3-CT"),
        ("Main terminals", "", "", ""),
        ("Cross-section", "1.5–10 mm²", "2.5–16 mm²", "0.5–4 mm²"),
        ("Tightening torque", "1.2 Nm", "2.0 Nm", "0.6 Nm"),
    ]
    canvas = draw(path, rows)
    canvas.setFont("Helvetica", 8)
    canvas.drawString(54, 640, "Protected to IP51. KM3-CT: main terminals from version 2 on 0.5 Nm.")
    canvas.save()
    table = [one for one in read_sheet(path).settings if one.place.table is not None]
    assert {(one.device.model, one.terminal.printed): one.state for one in table} == {
        ("KM1-45", "Main terminals"): "released",
        ("KM3-65", "Main terminals"): "released",
        ("KM3-CT", "Main terminals"): "held",
    }


def test_a_legend_explains_the_kinds_of_conductors(tmp_path: Path) -> None:
    path = tmp_path / "legend.pdf"
    rows = [
        ("Type", "Terminal", "Conductor", "Cross-section mm²", "Tightening torque Nm"),
        ("QA 16", "S", "so/st", "1.5–16", "3"),
        ("QA 35", "S", "st", "16–35", "6"),
    ]
    canvas = draw(path, rows)
    canvas.setFont("Helvetica", 8)
    canvas.drawString(54, 660, "so = solid, st = stranded.")
    canvas.save()
    found = read_sheet(path).settings
    assert [(one.state, one.terminal.printed, one.conductor.stranding) for one in found] == [
        ("released", "S", ("solid", "stranded")),
        ("released", "S", ("stranded",)),
    ]


def test_a_bold_line_that_runs_over_columns_heads_the_rows_under_it(tmp_path: Path) -> None:
    path = tmp_path / "heads.pdf"
    canvas = Canvas(str(path))
    lines = [("B", ("Type", "Solid mm²", "With ferrule mm²", "Tightening torque"))]
    lines += [("B", ("Main terminals (L1-L2-L3 / T1-T2-T3)",)), ("", ("RK9", "1 – 4", "0.75 – 2.5", "1.2 Nm"))]
    lines += [("", ("RK18", "1.5 – 6", "1 – 4", "1.7 Nm"))]
    lines += [("B", ("Auxiliary terminals (95-96, 97-98)",)), ("", ("RK9", "0.75 – 2.5", "0.75 – 1.5", "0.8 Nm"))]
    lines += [("", ("RK18", "0.75 – 2.5", "0.75 – 1.5", "0.8 Nm"))]
    for at, (weight, texts) in enumerate(lines):
        canvas.setFont("Helvetica-Bold" if weight else "Helvetica", 8)
        for column, text in enumerate(texts):
            canvas.drawString((50, 130, 220, 330)[column], 740 - 18 * at, text)
        if len(texts) > 1:
            for column in range(4):
                canvas.line((45, 125, 215, 325)[column], 735 - 18 * at, (125, 215, 325, 430)[column], 735 - 18 * at)
    canvas.save()
    found = {(one.terminal.printed, one.device.model, one.torque.printed) for one in read_sheet(path).settings}
    assert found == {
        ("Main terminals (L1-L2-L3 / T1-T2-T3)", "RK9", "1.2 Nm"),
        ("Main terminals (L1-L2-L3 / T1-T2-T3)", "RK18", "1.7 Nm"),
        ("Auxiliary terminals (95-96, 97-98)", "RK9", "0.8 Nm"),
        ("Auxiliary terminals (95-96, 97-98)", "RK18", "0.8 Nm"),
    }


def test_a_note_with_a_figure_alone_may_change_the_figure_it_hangs_on(tmp_path: Path) -> None:
    path = tmp_path / "old.pdf"
    canvas = draw(path, [("Type", "Terminal", "mm²", "Torque (N·m)"), ("QT-1", "L, N", "0.5–4", "0.8 *")])
    canvas.setFont("Helvetica", 8)
    canvas.drawString(54, 680, "* older version (up to lot 4): 0.5; see the label.")
    canvas.save()
    assert [one.state for one in read_sheet(path).settings] == ["held"]


def test_an_accessory_that_is_a_circuit_of_its_own_names_its_terminals(tmp_path: Path) -> None:
    rows = ["Article;Description;Conductor (mm²);Tightening torque (N·m)"]
    rows += ["QH-1;Auxiliary contact 11-12-14;0.5-2.5;0.5", "QL-2;Shunt trip;0.5-2.5;0.6"]
    rows += ["QC-3;Enclosure;;1.5", "QR-4;Control relay;0.5-2.5;0.7"]
    found = settings_of(tmp_path / "sheet.csv", "\n".join(rows) + "\n")
    assert [(one.terminal.printed, one.state) for one in found][:2] == [
        ("Auxiliary contact 11-12-14", "released"),
        ("Shunt trip", "released"),
    ]
    assert {one.state for one in found[2:]} == {"held"}


def test_threads_with_their_count_stand_behind_the_name_of_their_screws(tmp_path: Path) -> None:
    rows = ["Property;QT-100;QT-400", "Mounting screws;4 × M5;4 × M6", "Tightening torque of the screws N·m;3;5"]
    names = [one.terminal.printed for one in settings_of(tmp_path / "sheet.csv", "\n".join(rows) + "\n")]
    assert [name.split(" / ")[0] for name in names] == ["Mounting screws 4 × M5", "Mounting screws 4 × M6"]


def test_a_limit_of_a_torque_that_is_blank_in_one_row_alone_holds_the_row(tmp_path: Path) -> None:
    rows = ["Terminal;Conductor (mm²);Tightening torque min. (N·m);Tightening torque max. (N·m)"]
    rows += ["L1;1-16;2;2.5", "L2;1-16;2;2.5", "PE;16-70;10;"]
    found = settings_of(tmp_path / "sheet.csv", "\n".join(rows) + "\n")
    assert [one.state for one in found] == ["released", "released", "held"]
