"""Which words of a sheet speak for a figure: the device an item begins with, the part a property is for, a line."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas
from text_sheets import settings_of

from torquary_ingest.clauses.reading import read_clauses
from torquary_ingest.clauses.telling import device_in_lead
from torquary_ingest.figures.conductor import read_conductor
from torquary_ingest.reader import read_sheet

Row = tuple[str, str, str]


def draw_lists(path: Path, *pages: list[Row]) -> Path:
    """Draw a data sheet of three columns: a property, what it is for, its value; one page for each list."""
    canvas = Canvas(str(path), pagesize=(560, 420))
    for number, rows in enumerate(pages):
        canvas.setFont("Helvetica", 12)
        canvas.drawString(40, 390, "Contactor TW3-25" if not number else "Tanwick Controls")
        canvas.setFont("Helvetica", 8)
        for row, texts in enumerate(rows):
            for x, text in zip((40, 230, 420), texts, strict=True):
                canvas.drawString(x, 350 - 16 * row, text)
        canvas.showPage()
    canvas.save()
    return path


SIZES: list[Row] = [
    ("Rated operational current", "AC-3, 400 V", "25 A"),
    ("Number of poles", "for main circuit", "3"),
    ("Conductor cross-section for main contacts", "solid or stranded", "1–10 mm²"),
    ("", "finely stranded, with core end processing", "1–6 mm²"),
    ("Conductor cross-section for auxiliary contacts", "solid or stranded", "0.5–4 mm²"),
    ("AWG number of the conductor", "for main contacts, solid or stranded", "16–8"),
]
TORQUES: list[Row] = [
    ("Tightening torque", "for main contacts with screw terminals", "2–2.5 N·m"),
    ("", "for auxiliary contacts with screw terminals", "0.8–1.2 N·m"),
    ("Tightening torque [lbf·in]", "for main contacts with screw terminals", "18–22 lbf·in"),
    ("", "for auxiliary contacts with screw terminals", "7–10.6 lbf·in"),
    ("Mounting position", "on a vertical plate", "any"),
]


@pytest.mark.parametrize("pages", [[[*SIZES, *TORQUES]], [SIZES, TORQUES]], ids=["one page", "two pages"])
def test_a_property_s_parts_bring_torques_and_sizes_together(tmp_path: Path, pages: list[list[Row]]) -> None:
    found = read_sheet(draw_lists(tmp_path / "list.pdf", *pages)).settings
    told = [(s.terminal.roles, s.conductor.printed, s.conductor.stranding, s.torque.printed, s.state) for s in found]
    assert told == [
        (("main",), "1–10 mm² / 16–8", ("solid", "stranded"), "2–2.5 N·m", "released"),
        (("main",), "1–6 mm²", ("flexible",), "2–2.5 N·m", "released"),
        (("aux",), "0.5–4 mm²", ("solid", "stranded"), "0.8–1.2 N·m", "released"),
    ]


def test_a_property_s_parts_in_two_units_must_agree(tmp_path: Path) -> None:
    wrong = [(name, part, value.replace("18–22", "28–32")) for name, part, value in TORQUES]
    found = read_sheet(draw_lists(tmp_path / "list.pdf", [*SIZES, *wrong])).settings
    assert {s.state for s in found if "main" in s.terminal.roles} == {"held"}


def test_lists_under_lines_of_their_own_keep_their_torques_apart(tmp_path: Path) -> None:
    rows = "Contactor TW3-25;;\n;;\nProperty;for;Value\nMain circuit;;\n"
    rows += "Conductor cross-section;solid or stranded;1–10 mm²\nTightening torque;for screw terminals;2–2.5 N·m\n"
    rows += "Auxiliary circuit;;\nConductor cross-section;solid or stranded;0.5–4 mm²\n"
    rows += "Tightening torque;for screw terminals;0.8–1.2 N·m\n"
    found = settings_of(tmp_path / "t.csv", rows)
    assert [(s.terminal.roles, s.conductor.printed, s.torque.printed, s.state) for s in found] == [
        (("main",), "1–10 mm²", "2–2.5 N·m", "released"),
        (("aux",), "0.5–4 mm²", "0.8–1.2 N·m", "released"),
    ]


def test_the_least_and_the_greatest_are_two_properties_of_one_torque(tmp_path: Path) -> None:
    rows = "Contactor TW3-25;;\n;;\nProperty;for;Value\n"
    rows += "Conductor cross-section for main contacts;solid or stranded;1–10 mm²\n"
    rows += "Minimum tightening torque;for main contacts;2 N·m\nMaximum tightening torque;for main contacts;2.5 N·m\n"
    found = settings_of(tmp_path / "t.csv", rows)
    assert [(s.terminal.roles, str(s.torque.min_nm), str(s.torque.max_nm)) for s in found] == [(("main",), "2", "2.5")]


RATED = """Switch QS

{0} 25 to 63 A
Terminal;Conductor mm²;Torque N·m
Line;1-25;2.5

{0} {1}
Terminal;Conductor mm²;Torque N·m
Line;6-50;3.5
"""


@pytest.mark.parametrize(
    ("rating", "told"),
    [
        ("80 and 100 A", [("25 to 63 A", "released"), ("80 and 100 A", "released")]),
        ("63 A", [("25 to 63 A", "held"), ("63 A", "held")]),
        ("40 to 100 A", [("25 to 63 A", "held"), ("40 to 100 A", "held")]),
    ],
)
def test_the_ratings_over_a_list_are_those_of_its_devices(tmp_path: Path, rating: str, told: list[object]) -> None:
    found = settings_of(tmp_path / "t.csv", RATED.format("Ratings", rating))
    assert [(s.device.rated_current, s.state) for s in found] == told


def test_a_line_between_rows_names_terminals_where_the_others_do(tmp_path: Path) -> None:
    rows = "Type;Conductor mm²;Torque N·m\nPrimary: terminals 0-230;;\nTM 63;0.5-2.5;0.6\nTM 250;0.5-4;0.8\n"
    rows += "Secondary: terminals 24 V;;\nTM 63;0.5-2.5;0.5\nTM 250;0.5-6;1.2\n"
    rows += "Thermal contact (option);;\nall;0.25-1.5;0.4\n"
    found = settings_of(tmp_path / "t.csv", rows)
    assert [(s.device.model, s.terminal.printed, s.state) for s in found][-2:] == [
        ("TM 250", "Secondary: terminals 24 V", "released"),
        (None, "Thermal contact (option)", "released"),
    ]


@pytest.mark.parametrize(
    ("item", "device"),
    [
        ("• Relay card RC-1: terminals 0.2 to 1.5 mm²; 0.3 N·m.", ["Relay card RC-1"]),
        ("Battery cabinet BC-10: earth stud M6, 4 N·m.", ["Battery cabinet BC-10"]),
        ("Terminals X1: 0.5 N·m.", []),
        ("Dry contacts CN5: up to 1 mm², 0.2 N·m.", []),
        ("Tighten to 2 N·m.", []),
    ],
)
def test_an_item_begins_with_its_device(item: str, device: list[str]) -> None:
    assert list(device_in_lead(item)) == device


def test_a_size_before_a_stop_is_not_that_of_what_follows() -> None:
    text = "Fuse switch with clamps for 16 to 35 mm², tighten to 3.0 to 3.5 N·m; earth stud M6, 4 N·m."
    assert [[size.text for size in clause.sizes] for clause in read_clauses(text)] == [["16 to 35 mm²"], []]


def test_the_end_of_a_sentence_speaks_for_that_sentence_alone(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "s.pdf"), pagesize=(500, 300))
    canvas.setFont("Helvetica", 9)
    for row, text in enumerate(
        (
            "Charger KW 6",
            "Line terminals: 6 to 10 mm², tightening torque 2.3 N·m.",
            "Load terminals: 10 to 16 mm², tightening torque 2.0 N·m; flexible conductors with",
            "ferrules only.",
        )
    ):
        canvas.drawString(40, 250 - 12 * row, text)
    canvas.save()
    found = read_sheet(tmp_path / "s.pdf").settings
    assert [(s.terminal.printed, s.conductor.ferrule) for s in found if "Line" in s.terminal.printed] == [
        ("Line terminals", None)
    ]


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("up to 95 mm² (3/0 AWG)", (None, 95, None, "3/0")),
        ("≥ 2.5 mm² / 14 AWG", (2.5, None, "14", None)),
        ("95 mm² (3/0 AWG)", (95, 95, "3/0", "3/0")),
    ],
)
def test_a_bound_printed_in_two_systems_is_a_bound_in_both(text: str, sides: tuple[object, ...]) -> None:
    (size,) = read_conductor(text).conductors
    assert (size.min_mm2, size.max_mm2, size.min_awg, size.max_awg) == sides


def test_a_list_of_faults_holds_no_torques(tmp_path: Path) -> None:
    rows = "F1;Torque limit;Belt torn\nF2;Fan blocked;Dust\nF3;Earth fault;Moisture\n"
    assert settings_of(tmp_path / "faults.csv", rows) == []


def test_the_property_of_clamps_names_the_terminals_of_kinds_of_conductors(tmp_path: Path) -> None:
    page = "<h1>Isolator QM 63</h1><table><tr><td>Terminals<td>cage clamp, top and bottom</tr>"
    page += "<tr><td>Rigid cable<td>1 to 25 mm²; tightening torque 2.5 N·m</tr>"
    page += "<tr><td>Flexible cable with ferrule<td>1 to 16 mm²; tightening torque 2.5 N·m</tr></table>"
    found = settings_of(tmp_path / "list.html", f"<html><body>{page}</body></html>")
    assert [(s.terminal.printed, s.conductor.printed, s.conductor.ferrule, s.state) for s in found] == [
        ("Terminals", "1 to 25 mm²", None, "released"),
        ("Terminals", "1 to 16 mm²", True, "released"),
    ]


@pytest.mark.parametrize("heading", ["C US", "Coil characteristics"])
def test_a_mark_of_approval_or_a_heading_of_data_names_no_terminal(tmp_path: Path, heading: str) -> None:
    canvas = Canvas(str(tmp_path / "h.pdf"), pagesize=(500, 300))
    for y, size, text in ((260, 14, "Relay RV 55"), (220, 12, heading), (200, 9, "- Ambient temperature: 55 °C")):
        canvas.setFont("Helvetica-Bold" if size > 9 else "Helvetica", size)
        canvas.drawString(40, y, text)
    canvas.drawString(40, 188, "- Tightening torque: 0.5 N·m")
    canvas.save()
    assert {s.state for s in read_sheet(tmp_path / "h.pdf").settings} <= {"held"}
