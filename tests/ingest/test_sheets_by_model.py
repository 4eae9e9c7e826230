"""Data sheets with a column for each model, cards side by side, and heads that only rules or shades explain."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

Row = tuple[float, dict[float, str]]


def open_page(path: Path, title: str, *, landscape: bool = False) -> Canvas:
    canvas = Canvas(str(path), pagesize=(842, 595) if landscape else (595, 842))
    canvas.setFont("Helvetica-Bold", 16)
    canvas.drawString(50, (595 if landscape else 842) - 60, title)
    canvas.setFont("Helvetica", 9)
    return canvas


def told(settings: tuple[Setting, ...]) -> list[tuple[str, str, str, str]]:
    """Return device, terminal, size and torque of what is released for terminals."""
    return [
        (s.device.printed.split(" ")[0] if s.device.model else s.device.printed, s.terminal.printed,
         s.conductor.printed or "", s.torque.printed)
        for s in settings
        if s.state == "released" and s.torque and s.purpose == "electrical_terminal"
    ]  # fmt: skip


def test_rows_shaded_from_side_to_side_name_terminals_without_a_rule_beneath(tmp_path: Path) -> None:
    canvas = open_page(tmp_path / "drive.pdf", "Wrenlow DV frequency inverters")
    rows = [
        ("Frame size", "A", "B"), ("Line terminals L1, L2, L3", "", ""), ("Conductor (mm²)", "0.5–4", "1–6"),
        ("Torque (N·m)", "0.5", "0.8"), ("Motor terminals U, V, W", "", ""), ("Conductor (mm²)", "0.5–2.5", "1–4"),
        ("Torque (N·m)", "0.6", "1.0"),
    ]  # fmt: skip
    for at, row in enumerate(rows):
        top = 720 - 18 * at
        if not row[1]:
            canvas.setFillGray(0.85)
            canvas.rect(50, top, 400, 18, stroke=0, fill=1)
            canvas.setFillGray(0)
        else:
            canvas.line(50, top, 450, top)
        for x, text in zip((54, 260, 360), row, strict=True):
            canvas.drawString(x, top + 5, text)
    for x in (50, 250, 350, 450):
        canvas.line(x, 720 - 18 * 6, x, 738)
    canvas.line(50, 738, 450, 738)
    canvas.save()
    found = told(read_sheet(tmp_path / "drive.pdf").settings)
    assert [(terminal, size, torque) for _, terminal, size, torque in found] == [
        ("Line terminals L1, L2, L3", "0.5–4", "0.5"), ("Line terminals L1, L2, L3", "1–6", "0.8"),
        ("Motor terminals U, V, W", "0.5–2.5", "0.6"), ("Motor terminals U, V, W", "1–4", "1.0"),
    ]  # fmt: skip


def test_a_value_of_clauses_under_each_model_is_that_model_s(tmp_path: Path) -> None:
    canvas = open_page(tmp_path / "models.pdf", "SW 30 and SW 90 soft starters")
    for x, text in ((220, "SW 30"), (390, "SW 90")):
        canvas.drawString(x, 760, text)
    canvas.line(50, 772, 550, 772)
    canvas.line(50, 755, 550, 755)
    rows = [
        (740, "Rated current", "30 A", "90 A"), (722, "Power loss", "9 W", "24 W"),
        (704, "Power terminals L1 to T3", "2.5–16 mm²; 2.5 N·m", "10–50 mm²; 6 N·m"),
        (686, "Earth", "M5 stud, 3 N·m", "M6 stud, 4.5 N·m"),
        (668, "Starts per hour", "10", "6"),
    ]  # fmt: skip
    for y, *texts in rows:
        for x, text in zip((50, 220, 390), texts, strict=True):
            canvas.drawString(x, y, text)
    canvas.drawString(50, 650, "Control terminals 1 to 12")
    canvas.drawString(220, 650, "0.2 … 2.5 mm², AWG 24 … 14; 0.4 … 0.5 N·m (3.5 … 4.4 lbf·in)")
    canvas.line(50, 645, 550, 645)
    canvas.save()
    found = told(read_sheet(tmp_path / "models.pdf").settings)
    assert ("SW", "Power terminals L1 to T3", "2.5–16 mm²", "2.5 N·m") in found
    assert ("SW", "Power terminals L1 to T3", "10–50 mm²", "6 N·m") in found
    assert [torque for _, name, _, torque in found if name == "Earth"] == ["3 N·m", "4.5 N·m"]
    assert [torque for _, name, _, torque in found if name.startswith("Control")] == ["0.4 … 0.5 N·m"] * 2


def test_cells_between_strokes_are_of_all_the_models_there(tmp_path: Path) -> None:
    canvas = open_page(tmp_path / "merged.pdf", "Soft starters series SV", landscape=True)
    canvas.drawString(50, 515, "Cross-sections in mm²")
    columns, edges = (270, 370, 470, 570), (230, 320, 420, 520, 620)
    rows = [
        ("", "SV-12", "SV-25", "SV-45", "SV-90"), ("Main terminals", "", "", "", ""),
        ("solid", "0.75–6", "1–10", "2.5–16", "4–25"), ("flexible with ferrule", "0.75–4", "1–6", "2.5–16", "4–16"),
        ("Tightening torque in N·m", "0.8", "1.5", "2.5", "4.5"), ("Coil terminals", "", "", "", ""),
    ]  # fmt: skip
    for at, row in enumerate(rows):
        canvas.drawString(52, 495 - 16 * at, row[0])
        for x, text in zip(columns, row[1:], strict=True):
            canvas.drawCentredString(x, 495 - 16 * at, text)
    for at, text in enumerate(("0.5–2.5", "0.5")):
        y = 399 - 16 * at
        canvas.drawString(52, y, ("solid", "Tightening torque in N·m")[at])
        canvas.drawCentredString(425, y, text)
        canvas.line(edges[0], y - 5, edges[0], y + 11)
        canvas.line(edges[-1], y - 5, edges[-1], y + 11)
    for at in range(9):
        canvas.line(50, 506 - 16 * at, 620, 506 - 16 * at)
    canvas.save()
    found = told(read_sheet(tmp_path / "merged.pdf").settings)
    assert len([one for one in found if one[1] == "Main terminals"]) == 8
    assert [one[1:] for one in found if one[1] == "Coil terminals"] == [("Coil terminals", "0.5–2.5", "0.5")] * 4


def test_cards_beside_each_other_in_one_table_are_each_their_own_device_s(tmp_path: Path) -> None:
    canvas = open_page(tmp_path / "cards.pdf", "Wrenlow power supplies")
    for x, model, kind in ((50, "NW-120", "Power supply 24 V, 5 A"), (320, "NW-480", "Power supply 24 V, 20 A")):
        canvas.setFont("Helvetica-Bold", 12)
        canvas.drawString(x, 740, model)
        canvas.setFont("Helvetica", 9)
        canvas.drawString(x, 722, kind)
    rows = [
        ("Input voltage", "230 V AC", "Input voltage", "400 V AC"),
        ("Input terminals", "0.2–4 mm²; 0.6 N·m", "Input terminals", "0.5–6 mm²; 0.8 N·m"),
        ("Output terminals", "0.2–6 mm²; 0.7 N·m", "Output terminals", "0.5–16 mm²; 1.5 N·m"),
        ("Efficiency", "91 %", "Efficiency", "94 %"), ("Stripping length", "8 mm", "Stripping length", "12 mm"),
    ]  # fmt: skip
    for at, row in enumerate(rows):
        for x, text in zip((52, 150, 322, 420), row, strict=True):
            canvas.drawString(x, 700 - 16 * at, text)
    canvas.save()
    found = {(name, size): (s.device.printed.split()[0], s.torque.printed)
             for s in read_sheet(tmp_path / "cards.pdf").settings if s.state == "released" and s.torque
             for name, size in [(s.terminal.printed, s.conductor.printed)]}  # fmt: skip
    assert found == {
        ("Input terminals", "0.2–4 mm²"): ("NW-120", "0.6 N·m"),
        ("Output terminals", "0.2–6 mm²"): ("NW-120", "0.7 N·m"),
        ("Input terminals", "0.5–6 mm²"): ("NW-480", "0.8 N·m"),
        ("Output terminals", "0.5–16 mm²"): ("NW-480", "1.5 N·m"),
    }


def test_a_heading_over_one_rule_heads_all_columns_under_it(tmp_path: Path) -> None:
    canvas = open_page(tmp_path / "cut.pdf", "VK contactors")
    canvas.drawString(165, 752, "Main terminals")
    canvas.drawString(282, 752, "Coil and auxiliary terminals")
    canvas.line(120, 748, 270, 748)
    canvas.line(280, 748, 430, 748)
    heads = ("Type", "Size mm²", "AWG", "Torque Nm", "Size mm²", "AWG", "Torque Nm")
    rows = [heads, ("VK 9", "1.5–4", "14–12", "1.2", "0.75–2.5", "18–14", "1.0"),
            ("VK 18", "2.5–6", "14–10", "1.7", "0.75–2.5", "18–14", "1.0"),
            ("VK 40", "4–25", "12–4", "3.5", "0.75–2.5", "18–14", "1.0")]  # fmt: skip
    for at, row in enumerate(rows):
        for x, text in zip((60, 130, 185, 225, 290, 345, 390), row, strict=True):
            canvas.drawString(x, 734 - 14 * at, text)
    for y in (764, 729, 685):
        canvas.line(55, y, 435, y)
    canvas.save()
    names = {(terminal, torque) for _, terminal, _, torque in told(read_sheet(tmp_path / "cut.pdf").settings)}
    assert names == {
        ("Main terminals", "1.2"), ("Main terminals", "1.7"), ("Main terminals", "3.5"),
        ("Coil and auxiliary terminals", "1.0"),
    }  # fmt: skip


def test_names_centred_over_two_and_three_columns_without_a_rule_head_them(tmp_path: Path) -> None:
    canvas = open_page(tmp_path / "centred.pdf", "Surge protective devices QP", landscape=True)
    middles = (70, 130, 200, 260, 320, 390, 460)
    heads = (("Line and neutral terminals", 1, 3), ("Earth terminal", 4, 5))
    for text, first, last in heads:
        canvas.drawCentredString((middles[first] + middles[last]) / 2, 480, text)
    rows = [("Type", "solid", "stranded", "torque", "solid", "torque", "Uc"),
            ("", "mm²", "mm²", "Nm", "mm²", "Nm", "V AC"),
            ("QP 255", "6 – 35", "6 – 25", "4.5", "10 – 35", "8", "255"),
            ("QP 335", "10 – 50", "10 – 35", "7", "16 – 50", "8", "335"),
            ("QP 275", "2.5 – 35", "2.5 – 25", "3.5", "2.5 – 35", "6", "275")]  # fmt: skip
    for at, row in enumerate(rows):
        for x, text in zip(middles, row, strict=True):
            canvas.drawCentredString(x, 462 - 14 * at, text)
    canvas.save()
    found = {(terminal, torque) for _, terminal, _, torque in told(read_sheet(tmp_path / "centred.pdf").settings)}
    assert found == {
        ("Line and neutral terminals", "4.5"), ("Line and neutral terminals", "7"),
        ("Line and neutral terminals", "3.5"), ("Earth terminal", "8"), ("Earth terminal", "6"),
    }  # fmt: skip


@pytest.mark.parametrize("marking", ["95-96, 97-98", "A1, A2"])
def test_markings_over_units_in_a_row_that_a_cell_joins_to_the_heading_name_terminals(
    tmp_path: Path, marking: str
) -> None:
    page = f"""<h1>Overload relays RT</h1><table border="1">
    <tr><th rowspan="2">Type</th><th colspan="2">2/T1, 4/T2, 6/T3</th><th>{marking}</th></tr>
    <tr><th>solid mm²</th><th>Nm</th><th>Nm</th></tr>
    <tr><td>RT-16</td><td>0.75–4</td><td>1.4</td><td>0.8</td></tr>
    <tr><td>RT-32</td><td>1–10</td><td>2.3</td><td>0.8</td></tr></table><p>Tightening torques of terminals</p>"""
    (tmp_path / "relay.html").write_text(page, encoding="utf-8")
    found = [(s.terminal.printed, s.torque.printed) for s in read_sheet(tmp_path / "relay.html").settings if s.torque]
    assert found == [("2/T1, 4/T2, 6/T3", "1.4"), (marking, "0.8"), ("2/T1, 4/T2, 6/T3", "2.3"), (marking, "0.8")]


def test_range_with_a_unit_of_area_heads_sizes(tmp_path: Path) -> None:
    rows = "Terminal strips QK\n\nArticle;Type;Rated size;Range mm²;Tightening torque\n"
    rows += "70117;QK 4;2.5 mm²;0.5–2.5;0.4 N·m\n70124;QK 6;4 mm²;1–4;0.5 N·m\n"
    (tmp_path / "range.csv").write_text(rows, encoding="utf-8")
    found = read_sheet(tmp_path / "range.csv").settings
    assert [(s.state, s.conductor.printed) for s in found] == [("released", "0.5–2.5"), ("released", "1–4")]


def test_the_title_of_a_further_sheet_in_a_file_names_its_device(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "two.pdf"))
    sheets = (("Feed-through terminal block QK 4", "0.6"), ("Protective conductor terminal QK 4-PE", "0.8"))
    for title, torque in sheets:
        canvas.setFont("Helvetica-Bold", 14)
        canvas.drawString(50, 800, title)
        canvas.setFont("Helvetica", 9)
        torques = ("Tightening torque", f"{torque} N·m")
        for at, (name, value) in enumerate((("Terminal screw", "M3"), ("Conductor solid", "0.5–6 mm²"), torques)):
            canvas.drawString(50, 770 - 16 * at, name)
            canvas.drawString(250, 770 - 16 * at, value)
            canvas.line(50, 766 - 16 * at, 400, 766 - 16 * at)
        canvas.showPage()
    canvas.save()
    found = [(s.device.printed, s.torque.printed) for s in read_sheet(tmp_path / "two.pdf").settings if s.torque]
    assert found == [
        ("Feed-through terminal block QK 4", "0.6 N·m"), ("Protective conductor terminal QK 4-PE", "0.8 N·m"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("title", "family"),
    [
        ("Frequency inverters FW 7", "adjustable_drive"), ("Wechselrichter SW 5", "inverter"),
        ("Alimentatori NW 24", "psu"),
        ("Stacja ładowania LW 11", "evse"), ("Zasilacz impulsowy NW 24", "psu"), ("Laadpaal LW 22", "evse"),
        ("Трансформатор ТВ 63", "transformer"), ("Växelriktare SW 5", "inverter"), ("Bombas de calor BW 9", "heater"),
        ("Analyseur de réseau AW 3", "pmd"), ("Schaltaktor BW 8", "hbes"), ("Hlídací relé HW 1", "meas_relay"),
    ],
)  # fmt: skip
def test_kinds_of_devices_that_people_own_are_families(tmp_path: Path, title: str, family: str) -> None:
    rows = f"{title}\n\nTerminal;mm²;Torque N·m\nL1, L2, L3;1-6;1.2\n"
    (tmp_path / "t.csv").write_text(rows, encoding="utf-8")
    [setting] = read_sheet(tmp_path / "t.csv").settings
    assert (setting.state, setting.device.family) == ("released", family)
