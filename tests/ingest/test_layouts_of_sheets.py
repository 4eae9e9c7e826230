"""Layouts of technical data sheets: spans, two levels of headings, units beneath, tolerances, titles, groups."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import HEADS, codes, draw, draw_table, released, settle

Row = Sequence[str]
SIZES = (("1–6", "1.2"), ("6–16", "2"), ("16–25", "3"), ("25–35", "4"))


def told(path: Path) -> list[tuple[str, str, str, str]]:
    """Terminal, size, lowest and highest torque of each released setting."""
    return [
        (s.terminal.printed, s.conductor.printed, str(s.torque.min_nm), str(s.torque.max_nm))
        for s in read_sheet(path).settings
        if s.state == "released" and s.torque is not None
    ]


def text(path: Path, *lines: tuple[float, float, str], title: str = "Wrenlow WG 10") -> None:
    """Draw texts at places: x and y in points, y downwards from the title."""
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 11)
    canvas.drawString(50, 780, title)
    canvas.setFont("Helvetica", 9)
    for x, y, line in lines:
        canvas.drawString(x, 780 - y, line)
    canvas.save()


def test_a_torque_between_the_lines_of_two_rows_is_for_both(tmp_path: Path) -> None:
    path = tmp_path / "between.pdf"
    heads = [(x, 40, head) for x, head in zip((54, 164, 274), HEADS, strict=True)]
    rows = [(54, 54, "L1"), (164, 54, "1–6"), (54, 68, "L2"), (164, 68, "1–10"), (274, 61, "1.2")]
    text(path, *heads, *rows)
    assert told(path) == [("L1", "1–6", "1.2", "1.2"), ("L2", "1–10", "1.2", "1.2")]


def test_a_torque_beside_the_middle_one_of_three_rows_may_be_its_own(tmp_path: Path) -> None:
    path = tmp_path / "middle.pdf"
    rows = [HEADS, ("Spring", "1–4", ""), ("Bolt", "1–6", "1.2"), ("Push-in", "1–4", "")]
    draw(path, rows, ruled=False).save()
    assert released(path) == {"Bolt": "1.2"}
    assert "torque_missing" in codes(path)["Spring"]


def test_a_name_and_a_torque_in_the_middle_of_ruled_groups_are_for_the_group(tmp_path: Path) -> None:
    path = tmp_path / "groups.pdf"
    canvas = draw(path, [("Terminal", "Kind", "mm²", "Torque N·m")], ruled=False)
    for group, (name, torque) in enumerate((("Main", "4.0"), ("Auxiliary", "0.8"))):
        sizes = [("", "solid", "1–6", ""), (name, "stranded", "1–10", torque), ("", "flexible", "1–4", "")]
        draw_table(canvas, sizes, top=722 - 54 * group, ruled=False)
        canvas.line(50, 734 - 54 * group, 490, 734 - 54 * group)
    canvas.line(50, 752, 490, 752)
    canvas.line(50, 734 - 108, 490, 734 - 108)
    canvas.save()
    found = [(terminal, size, high) for terminal, size, _, high in told(path)]
    assert found == [(n, z, q) for n, q in (("Main", "4.0"), ("Auxiliary", "0.8")) for z in ("1–6", "1–10", "1–4")]


def test_an_upper_heading_printed_once_holds_for_the_columns_it_divides(tmp_path: Path) -> None:
    path = tmp_path / "levels.pdf"
    upper = ("Rated current", "Conductor mm²", "", "Torque N·m", "")
    heads = [upper, ("", "solid", "flexible", "Line side", "Load side")]
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 11)
    canvas.drawString(50, 780, "Wrenlow WG 10")
    draw_table(canvas, [*heads, ("25 A", "1–16", "1–10", "2.0", "1.5")], ruled=False)
    canvas.save()
    assert {(terminal, size, high) for terminal, size, _, high in told(path)} == {
        ("Line side", "1–16", "2.0"),
        ("Line side", "1–10", "2.0"),
        ("Load side", "1–16", "1.5"),
        ("Load side", "1–10", "1.5"),
    }


@pytest.mark.parametrize(
    ("line", "state"),
    [
        ("All torques in N·m.", "released"),
        ("1) Torque values in Nm", "released"),
        ("Alle Anzugsdrehmomente in Nm", "released"),
        ("Torque of mounting screws in N·m", "held"),
        ("Torques in N·m up to 6 mm²", "held"),
    ],
)
def test_a_unit_stated_under_the_table(tmp_path: Path, line: str, state: str) -> None:
    path = tmp_path / "foot.pdf"
    canvas = draw(path, [("Terminal", "Conductor mm²", "Torque"), ("X1", "6", "1.2"), ("X2", "10", "2")])
    canvas.setFont("Helvetica", 8)
    canvas.drawString(54, 684, line)
    canvas.save()
    assert {one.state for label, one in settle(path).items() if label.startswith("X")} == {state}


@pytest.mark.parametrize(
    ("heading", "low", "high"), [("Torque N·m ±10 %", "1.80", "2.20"), ("Torque (N·m) ± 0.2", "1.8", "2.2")]
)
def test_a_tolerance_in_the_heading_gives_the_limits(tmp_path: Path, heading: str, low: str, high: str) -> None:
    path = tmp_path / "tolerance.pdf"
    draw(path, [("Terminal", "Conductor mm²", heading), ("X1", "6", "2.0"), ("X2", "10", "2–3")]).save()
    [(terminal, _, least, most)] = told(path)
    assert (terminal, float(least), float(most)) == ("X1", float(low), float(high))


@pytest.mark.parametrize(
    ("note", "state"), [("Retighten after a week.", "released"), ("Up to 6 mm²: 1.0 N·m.", "held")]
)
def test_a_note_mark_in_full_size_behind_a_heading(tmp_path: Path, note: str, state: str) -> None:
    path = tmp_path / "mark.pdf"
    canvas = draw(path, [("Terminal", "Conductor mm²", "Torque N·m 1)"), ("X1", "1–25", "2.5"), ("X2", "1–16", "2")])
    canvas.setFont("Helvetica", 8)
    canvas.drawString(54, 684, f"1) {note}")
    canvas.save()
    found = {one.terminal.printed: one.state for one in read_sheet(path).settings}
    assert {label: found.get(label) for label in ("X1", "X2")} == {"X1": state, "X2": state}


@pytest.mark.parametrize("title", ["Installation contactor range", "Wrenlow Switchgear"])
def test_a_line_of_a_title_names_no_terminal_of_its_own(tmp_path: Path, title: str) -> None:
    path = tmp_path / "title.pdf"
    canvas = draw(path, [("Conductor mm²", "Torque N·m"), *SIZES], title=title)
    canvas.setFont("Helvetica", 11)
    canvas.drawString(50, 764, "WG 20 and WG 40 for modular boards")
    canvas.save()
    found = {(s.terminal.printed, s.device.printed) for s in read_sheet(path).settings}
    assert found == {("", f"{title} WG 20 and WG 40 for modular boards")}


def test_groups_of_a_list_are_named_by_the_first_of_their_rows(tmp_path: Path) -> None:
    path = tmp_path / "groups.pdf"
    names, parts = ("Main circuit", "Control circuit"), ("Cross-section, solid", "Cross-section, flexible", "Torque")
    values = (("1–16 mm²", "1–10 mm²", "2.5 N·m"), ("1–4 mm²", "1–2.5 mm²", "0.8 N·m"))
    rows = [(n if at == 0 else "", p, v[at]) for n, v in zip(names, values, strict=True) for at, p in enumerate(parts)]
    draw(path, rows).save()
    assert released(path) == {"Main circuit": "2.5", "Control circuit": "0.8"}


def test_terminals_beside_a_property_printed_once(tmp_path: Path) -> None:
    path = tmp_path / "once.pdf"
    rows = [("Torque", "Main terminals", "4.0 N·m"), ("", "Auxiliary terminals", "0.8 N·m")]
    rows += [("Cross-section", "Main terminals", "10–35 mm²"), ("", "Auxiliary terminals", "1–2.5 mm²")]
    draw(path, rows).save()
    assert {row[:2] + row[3:] for row in told(path)} == {
        ("Main terminals", "10–35 mm²", "4.0"),
        ("Auxiliary terminals", "1–2.5 mm²", "0.8"),
    }


def test_types_above_the_first_group_head_every_group(tmp_path: Path) -> None:
    path = tmp_path / "types.pdf"
    rows: list[Row] = [("Type", "WG 9", "WG 18")]
    for group, torques in (("Main terminals", ("1.2", "1.7")), ("Coil terminals", ("0.8", "0.9"))):
        rows += [(group, "", ""), ("Conductor mm²", "1–4", "1–6"), ("Torque N·m", *torques)]
    draw(path, rows, ruled=False, title="Wrenlow contactors").save()
    found = [(s.terminal.printed, s.device.model, str(s.torque and s.torque.max_nm)) for s in read_sheet(path).settings]
    assert found == [
        ("Main terminals", "WG 9", "1.2"),
        ("Main terminals", "WG 18", "1.7"),
        ("Coil terminals", "WG 9", "0.8"),
        ("Coil terminals", "WG 18", "0.9"),
    ]


def test_units_behind_the_values_of_a_list(tmp_path: Path) -> None:
    path = tmp_path / "units.pdf"
    rows = [("Property", "Value", "Unit"), ("Rated voltage", "400", "V"), ("Cross-section", "1–16", "mm²")]
    draw(path, [*rows, ("Terminal torque", "2.5", "N·m")]).save()
    [setting] = read_sheet(path).settings
    assert (setting.state, setting.terminal.printed) == ("released", "Terminal")


def test_a_screw_that_is_not_known_is_none_of_the_terminals_of_the_list(tmp_path: Path) -> None:
    path = tmp_path / "latch.pdf"
    rows = [("Terminals", "L1, L2"), ("Cross-section", "1–16 mm²"), ("Torque", "2.5 N·m")]
    draw(path, [*rows, ("Torque, latch pin", "0.6 N·m")]).save()
    states = {str(s.torque and s.torque.max_nm): s.state for s in read_sheet(path).settings}
    assert states["0.6"] == "held"


def test_a_column_of_drives_names_no_terminal(tmp_path: Path) -> None:
    path = tmp_path / "drives.pdf"
    heads = ("Rated current", "mm²", "Screw", "Torque N·m")
    draw(path, [heads, ("32 A", "1–16", "PZ2", "2"), ("63 A", "1–25", "PZ2", "3")]).save()
    assert {(s.state, s.terminal.printed, str(s.torque and s.torque.max_nm)) for s in read_sheet(path).settings} == {
        ("held", "32 A", "2"), ("held", "63 A", "3"),
    }  # fmt: skip


def test_sizes_offered_with_or_are_two_sizes(tmp_path: Path) -> None:
    path = tmp_path / "or.pdf"
    draw(path, [HEADS, ("X1", "1 × 4 or 2 × 2.5", "0.8"), ("X2", "6", "1.2")]).save()
    assert [(row[0], row[1]) for row in told(path)] == [("X1", "1 × 4"), ("X1", "2 × 2.5"), ("X2", "6")]


def test_a_property_named_in_four_languages(tmp_path: Path) -> None:
    path = tmp_path / "languages.pdf"
    names = "Anzugsdrehmoment / Tightening torque / Couple de serrage / Coppia di serraggio"
    text(path, (50, 40, f"{names}: 2,5 Nm"), (50, 54, "Leiterquerschnitt / Cross-section / Section: 1,5–16 mm²"),
         (50, 26, "Klemmen / Terminals / Bornes / Morsetti"))  # fmt: skip
    assert [row[1:] for row in told(path)] == [("1,5–16 mm²", "2.5", "2.5")]


def test_contacts_counted_in_a_list_name_no_terminal(tmp_path: Path) -> None:
    path = tmp_path / "contacts.pdf"
    lines = (
        "- Contacts: 1 NO + 1 NC",
        "- Terminal capacity: 0.5–2.5 mm²",
        "- Tightening torque, screw terminals: 0.8 Nm",
    )
    text(path, *((50.0, 40.0 + 14 * at, line) for at, line in enumerate(lines)))
    assert released(path) == {"screw terminals": "0.8"}


def test_a_line_in_capitals_behind_a_torque_is_no_part_of_it(tmp_path: Path) -> None:
    path = tmp_path / "lines.pdf"
    line = "Line terminals: 14–10 AWG 20 lb·in; 8 AWG 25 lb·in"
    text(path, (50, 40, line), (50, 52, "Use copper wire rated 75 °C only."))
    assert [row[:2] for row in told(path)] == [("Line terminals", "14–10 AWG"), ("Line terminals", "8 AWG")]


@pytest.mark.parametrize("name", ["Motor torque", "Breaking torque", "Operating torque"])
def test_a_torque_of_another_kind_in_a_list_is_not_read(tmp_path: Path, name: str) -> None:
    path = tmp_path / "friends.pdf"
    draw(path, [(name, "12 Nm"), ("Terminal cross-section", "1–10 mm²"), ("Terminal torque", "1.8 Nm")]).save()
    assert released(path) == {"Terminal": "1.8"}


def test_a_note_on_a_label_that_gives_another_torque_holds_the_row(tmp_path: Path) -> None:
    path = tmp_path / "star.pdf"
    canvas = draw(path, [HEADS, ("X1 *", "1–25", "2.5"), ("X2", "1–16", "2")])
    canvas.setFont("Helvetica", 8)
    canvas.drawString(54, 684, "* With aluminium conductors 3.5 N·m.")
    canvas.save()
    assert {"X1": "2.5", "X2": "2"}.items() > released(path).items()
    assert "note_changes_value" in codes(path)["X1"]


def test_a_group_over_columns_of_types_without_a_heading(tmp_path: Path) -> None:
    path = tmp_path / "types.pdf"
    rows: list[Row] = [("", "WG 25", "WG 40")]
    for group, torques in (("Main circuit", ("2.5 Nm", "3.5 Nm")), ("Control circuit", ("0.8 Nm", "0.9 Nm"))):
        rows += [(group, "", ""), ("Cross-section", "1–4 mm²", "1–6 mm²"), ("Tightening torque", *torques)]
    draw(path, rows).save()
    found = [s for s in read_sheet(path).settings if s.state == "released"]
    assert [(s.device.model, s.terminal.printed, s.torque.printed) for s in found] == [
        ("WG 25", "Main circuit", "2.5 Nm"),
        ("WG 40", "Main circuit", "3.5 Nm"),
        ("WG 25", "Control circuit", "0.8 Nm"),
        ("WG 40", "Control circuit", "0.9 Nm"),
    ]


def test_a_bare_figure_beside_a_drawing_is_for_no_terminal(tmp_path: Path) -> None:
    path = tmp_path / "drawing.pdf"
    text(path, (60, 60, "2.0 N·m"), (350, 160, "1.5 N·m"))
    assert released(path) == {}
    assert len(read_sheet(path).settings) == 2


def test_a_numbered_instruction_names_no_device(tmp_path: Path) -> None:
    path = tmp_path / "steps.pdf"
    lines = ("1. Switch off the supply.", "2. Tighten the terminal screws to 2.5 N·m.")
    text(path, *((50.0, 40.0 + 14 * at, line) for at, line in enumerate(lines)))
    assert {one.device.printed for one in read_sheet(path).settings} == {"Wrenlow WG 10"}
