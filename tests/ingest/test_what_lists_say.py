"""What lists say around their figures: statements, notes, captions, general words, kinds in turn, ranges, blanks."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas
from text_sheets import settings_of

from torquary_ingest.clauses.reading import read_clauses
from torquary_ingest.evidence.no_names import is_no_name
from torquary_ingest.headings.designations import print_types
from torquary_ingest.reader import read_sheet
from torquary_ingest.scope.statement import read_statement


@pytest.mark.parametrize("text", ["Udskrift 14-02 · kun kobberledere", "Только медные провода, 75 °С."])
def test_a_statement_behind_a_dot_or_with_degrees_in_cyrillic_letters(text: str) -> None:
    found = read_statement(text)
    assert found is not None
    assert found.material == ("copper",)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Use ferrules for fine-stranded conductors.", None),
        ("For flexible conductors use ferrules.", None),
        ("Values for flexible conductors with ferrules", True),
    ],
)
def test_what_one_kind_of_conductor_ends_in_is_no_statement_for_all(text: str, kind: object) -> None:
    found = read_statement(text)
    assert (found.ferrule if found else None) is kind


def test_notes_numbered_on_one_line_are_each_their_own_mark_s(tmp_path: Path) -> None:
    rows = "Breakers QN\n\nType;Terminals;Rigid 1) mm²;Flexible 2) mm²;Tightening torque N·m\n"
    rows += "QN 6;1, 3 / 2, 4;1–25;0.75–16;2.0\nQN 10;1, 3 / 2, 4;1–35;1–25;2.5\n\n"
    rows += "1) Solid or stranded. 2) Fine-stranded. Ferrules with collar: reduce the size by one step.\n"
    found = settings_of(tmp_path / "notes.csv", rows)
    assert [(s.state, s.conductor.stranding, s.conductor.ferrule) for s in found] == [
        ("released", ("solid",), None), ("released", ("flexible",), None),
    ] * 2  # fmt: skip


def test_the_terminals_behind_a_kind_of_device_in_a_caption(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "series.pdf"))
    canvas.setFont("Helvetica-Bold", 15)
    canvas.drawString(50, 800, "Series WR contactors and overload relays")
    rows = [("Contactors – line and load terminals",), ("Type", "Wire range (AWG)", "Torque (lb-in)"),
            ("WR 09", "14 – 8", "16"), ("WR 18", "16 – 10", "20"), (),
            ("Overload relays – main terminals",), ("Type", "Setting range (A)", "Wire range (AWG)", "Torque (lb-in)"),
            ("WT 21-1", "0.63–1", "18 – 10", "16"), ("WT 65-40", "30–40", "14 – 1", "40")]  # fmt: skip
    for at, row in enumerate(rows):
        canvas.setFont("Helvetica-Bold" if len(row) == 1 else "Helvetica", 11 if len(row) == 1 else 9)
        for column, text in enumerate(row):
            canvas.drawString(50 + 130 * column, 760 - 15 * at, text)
    canvas.save()
    settings = read_sheet(tmp_path / "series.pdf").settings
    assert [(s.terminal.printed, s.device.rated_current, s.state) for s in settings] == [
        ("line and load terminals", None, "released"), ("line and load terminals", None, "released"),
        ("main terminals", "0.63–1", "released"), ("main terminals", "30–40", "released"),
    ]  # fmt: skip


def test_a_general_word_in_the_heading_of_sizes_names_the_terminals_of_a_list_that_names_none(tmp_path: Path) -> None:
    rows = "Bases portafusibles PQ\n\nTipo;Sección del borne (mm²);Par de apriete (N·m)\nPQ 10;1,5 a 16;2,5\n"
    [setting] = settings_of(tmp_path / "bases.csv", rows)
    assert (setting.state, setting.terminal.printed) == ("released", "borne")


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("Los bornes de mando llevan el par de 0,5 N·m para 0,5 a 2,5 mm².", ["0,5 a 2,5 mm²"]),
        ("Os bornes do comando apertam-se com 0,5 N·m para 0,5 a 2,5 mm².", ["0,5 a 2,5 mm²"]),
        ("Svorky pro vodiče 1,5 a 2,5 mm² se utahují momentem 0,5 N·m.", ["1,5", "2,5 mm²"]),
    ],
)
def test_a_between_two_sizes_is_a_range_or_joins_them_as_the_language_has_it(text: str, sizes: list[str]) -> None:
    assert [one.text for clause in read_clauses(text) for one in clause.sizes] == sizes


def test_a_lug_is_doubted_where_the_terminal_was_named_before_it() -> None:
    [clause] = read_clauses("The earth terminal is an M6 stud. Fit a ring lug and tighten the nut to 5 N·m.")
    assert [doubt.code for doubt in clause.doubts] == ["terminal_missing"]


@pytest.mark.parametrize(("text", "none"), [("three", True), ("acht", True), ("Three-phase terminals", False)])
def test_numbers_written_out_name_no_terminal(text: str, *, none: bool) -> None:
    assert is_no_name(text) is none


@pytest.mark.parametrize(
    ("text", "types"), [("RS 2,5 PE", ("RS 2,5",)), ("RS 485, RS-232", ()), ("QX 16, 25", ("QX 16",))]
)
def test_types_with_a_decimal_figure_and_numbers_of_interfaces(text: str, types: tuple[str, ...]) -> None:
    assert print_types(text) == types


def test_kinds_in_turn_are_of_the_sizes_in_turn(tmp_path: Path) -> None:
    rows = "Contactors QT 12\n\nMain terminals\nConductor – solid / flexible with ferrule;0.75–2.5 mm² / 0.5–1.5 mm²\n"
    rows += "Tightening torque;0.8 N·m\n"
    found = settings_of(tmp_path / "turn.csv", rows)
    assert [(s.conductor.printed, s.conductor.stranding, s.conductor.ferrule) for s in found] == [
        ("0.75–2.5 mm²", ("solid",), None), ("0.5–1.5 mm²", ("flexible",), True),
    ]  # fmt: skip


def test_an_article_of_an_export_without_a_kind_of_conductor_has_none(tmp_path: Path) -> None:
    rows = "Article;Kurztext;Anschluss;mm² min;mm² max;Leiterart;Anzugsdrehmoment Nm\n"
    rows += "4711001;Treppenlichtautomat QL 1;Schraubklemmen;0,5;4;eindrähtig;0,8\n"
    rows += "4711008;Relais QS 2;Kontaktklemmen;0,5;6;;1,2\n4711008;Relais QS 2;Spulenklemmen;0,5;4;;0,8\n"
    found = settings_of(tmp_path / "export.csv", rows)
    assert [(s.state, s.conductor.stranding) for s in found] == [
        ("released", ("solid",)), ("released", ()), ("released", ()),
    ]  # fmt: skip


def test_an_end_stop_s_screw_is_no_terminal_s(tmp_path: Path) -> None:
    rows = "Terminal block QL 4\n\nMounting\nEnd stop ES-35, rail clamping screw;0.8 N·m\n"
    assert {s.purpose for s in settings_of(tmp_path / "stop.csv", rows)} <= {"mounting"}


def test_a_statement_under_a_list_speaks_for_its_part_on_the_page_before(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "pages.pdf"))
    for page in (0, 1):
        canvas.setFont("Helvetica", 9)
        if not page:
            canvas.drawString(50, 810, "Soft starters QW")
        rows = [("Type", "Terminals", "Conductor mm²", "Torque N·m")]
        rows += [(f"QW {number + 20 * page}", "Line L1, L2, L3", "1–6", "1.5") for number in (10, 11, 12, 13)]
        for at, row in enumerate(rows):
            for column, text in enumerate(row):
                canvas.drawString(50 + 120 * column, 780 - 16 * at, text)
            canvas.line(45, 775 - 16 * at, 500, 775 - 16 * at)
        if page:
            canvas.drawString(50, 695, "Use copper conductors only.")
        canvas.showPage()
    canvas.save()
    assert {s.conductor.material for s in read_sheet(tmp_path / "pages.pdf").settings} == {("copper",)}


@pytest.mark.parametrize("text", [
    "Every 36 months: retighten the terminals of aluminium conductors.",
    "co 36 miesięcy: ponowne dokręcenie zacisków przewodów aluminiowych.",
])  # fmt: skip
def test_what_is_tightened_again_later_says_nothing_of_all_conductors(text: str) -> None:
    assert read_statement(text) is None


@pytest.mark.parametrize("text", ["Use copper conductors rated 75 °C or higher.", "Nur Kupferleiter 75 °C oder höher"])
def test_a_lowest_temperature_beside_a_metal(text: str) -> None:
    found = read_statement(text)
    assert found is not None
    assert (found.material, found.conditions[0]) == (("copper",), "conductor_75_c")
