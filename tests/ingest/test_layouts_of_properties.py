"""Layouts of properties whose values say several things, of records in blocks, columns and call-outs."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

sys.path.insert(0, str(Path(__file__).parent))
from laid_out_sheets import draw

Text = tuple[float, float, str, float]
"""Left and height in points, the text, its size: negative for bold."""


def settings(path: Path) -> tuple[Setting, ...]:
    return read_sheet(path).settings


def told(path: Path) -> list[tuple[str, str, str, str]]:
    """Device, terminal, conductor and torque of what is released, as printed."""
    found = [s for s in settings(path) if s.state == "released"]
    return [
        (s.device.printed, s.terminal.printed, s.conductor.printed, s.torque.printed if s.torque else "") for s in found
    ]


def write_page(path: Path, body: str) -> Path:
    path.write_text(f"<!DOCTYPE html><html><body>{body}</body></html>", encoding="utf-8")
    return path


def write_rows(rows: Iterable[tuple[str, ...]]) -> str:
    cells = ("".join(f"<td>{text}</td>" for text in row) for row in rows)
    return "<table>" + "".join(f"<tr>{row}</tr>" for row in cells) + "</table>"


def set_texts(path: Path, texts: Iterable[Text]) -> Path:
    canvas = Canvas(str(path))
    for left, height, text, size in texts:
        canvas.setFont("Helvetica-Bold" if size < 0 else "Helvetica", abs(size))
        canvas.drawString(left, height, text)
    canvas.save()
    return path


EXPORT = """Article number;Description;Attribute;Value;Unit
WS-24;Wrenlow motor starter WS 24;Contacts;1 NO + 1 NC;
WS-24;Wrenlow motor starter WS 24;Main terminals: cross-section solid min.;1;mm²
WS-24;Wrenlow motor starter WS 24;Main terminals: cross-section solid max.;6;mm²
WS-24;Wrenlow motor starter WS 24;Main terminals: tightening torque;1.7;N·m
WS-24;Wrenlow motor starter WS 24;Weight;0.28;kg
WS-63;Wrenlow motor starter WS 63;Series;WS 63;
WS-63;Wrenlow motor starter WS 63;Main terminals: cross-section solid min.;2.5;mm²
WS-63;Wrenlow motor starter WS 63;Main terminals: cross-section solid max.;16;mm²
WS-63;Wrenlow motor starter WS 63;Main terminals: tightening torque;3.5;N·m
WS-63;Wrenlow motor starter WS 63;Weight;0.96;kg
"""


def test_an_export_with_a_line_for_each_attribute_gives_a_record_for_each_article(tmp_path: Path) -> None:
    path = tmp_path / "export.csv"
    path.write_text(EXPORT, encoding="utf-8")
    assert [(name.split()[-1], *rest) for name, *rest in told(path)] == [
        ("WS-24", "Main terminals", "1 – 6", "1.7"),
        ("WS-63", "Main terminals", "2.5 – 16", "3.5"),
    ]


BY_PARTS = """Article;Name;Part;Feature;Amount;In;Date
9-140;Relay socket RB 4;General;Poles;4;;2024-03-01
9-140;Relay socket RB 4;Upper terminals;Cross-section max.;2.5;mm²;2024-03-01
9-140;Relay socket RB 4;Upper terminals;Tightening torque;0.8;N·m;2024-03-01
9-140;Relay socket RB 4;Lower terminals;Cross-section max.;1.5;mm²;2024-03-01
9-140;Relay socket RB 4;Lower terminals;Tightening torque;0.6;N·m;2024-03-01
9-211;Auxiliary contact RB-K;Terminals;Designation;11-12-14;;2024-03-01
9-211;Auxiliary contact RB-K;Terminals;Cross-section max.;1.5;mm²;2024-03-01
9-211;Auxiliary contact RB-K;Terminals;Tightening torque;0.5;N·m;2024-03-01
"""


def test_an_export_may_name_the_part_of_an_article_in_a_column_and_head_no_units(tmp_path: Path) -> None:
    path = tmp_path / "export.csv"
    path.write_text(BY_PARTS, encoding="utf-8")
    assert told(path) == [
        ("Relay socket RB 4 9-140", "Upper terminals", "2.5", "0.8"),
        ("Relay socket RB 4 9-140", "Lower terminals", "1.5", "0.6"),
        ("Auxiliary contact RB-K 9-211", "11-12-14", "1.5", "0.5"),
    ]


def test_lists_of_properties_parted_by_blank_lines_keep_their_own_types(tmp_path: Path) -> None:
    lists = []
    for name, torque in (("TX-6", "0.5"), ("TX-16", "1.2"), ("TX-35", "2.4")):
        rows = [("Type", name), ("Description", "Terminal block, grey"), ("Order no.", "20 105")]
        rows += [("Connection", "Screw"), ("Solid conductor", "0.5-10 mm²")]
        rows += [("Tightening torque, screw clamp (N·m)", torque)]
        lists.append("\n".join(";".join(row) for row in (*rows, ("Tightening torque, foot screw (N·m)", "1.8"))))
    path = tmp_path / "blocks.csv"
    path.write_text("Wrenlow Ltd;Product data\n\n" + "\n\n".join(lists), encoding="utf-8")
    found = [(s.device.model, s.torque.printed if s.torque else "") for s in settings(path) if s.state == "released"]
    assert [(str(model).split(" / ")[0], torque) for model, torque in found] == [
        ("TX-6", "0.5"),
        ("TX-16", "1.2"),
        ("TX-35", "2.4"),
    ]


def test_no_value_of_another_property_names_the_terminal(tmp_path: Path) -> None:
    rows = [("Contacts", "1A + 1B"), ("Cross-section", "0.5–2.5 mm²"), ("Tightening torque", "1.0 N·m")]
    rows += [("Weight", "0.04 kg")]
    path = write_page(tmp_path / "switch.html", "<h1>Auxiliary switch WH 11</h1>" + write_rows(rows))
    labels = {s.terminal.printed for s in settings(path)}
    assert labels
    assert not any("1A" in label or "0." in label for label in labels)


def test_the_clauses_of_a_value_are_for_what_its_property_names(tmp_path: Path) -> None:
    rows = [
        ("Rated current", "245 A (Cu), 220 A (Al)"),
        ("Inlet terminal, Cu", "16–95 mm², tightening torque 14 N·m"),
        ("Outlet terminals, Cu", "6–35 mm²; 690 V AC; tightening torque 5 N·m"),
        ("Mounting screws", "M5, 2.5 N·m"),
    ]
    path = write_page(tmp_path / "page.html", "<h1>Distribution block KV 95</h1>" + write_rows(rows))
    assert told(path) == [
        ("Distribution block KV 95", "Inlet terminal, Cu", "16–95 mm²", "14 N·m"),
        ("Distribution block KV 95", "Outlet terminals, Cu", "6–35 mm²", "5 N·m"),
        ("Distribution block KV 95", "Mounting screws", "", "2.5 N·m"),
    ]
    assert settings(path)[0].conductor.material == ("copper",)
    assert settings(path)[-1].purpose == "mounting"


def test_a_record_ends_at_a_blank_row_and_keeps_its_device(tmp_path: Path) -> None:
    rows: list[tuple[str, ...]] = []
    for size, torque in (("160", "6"), ("250", "10")):
        rows += [(f"MK {size}", f"Moulded case circuit breaker {size} A"), ("Code", f"MK{size}-3P")]
        rows += [("Line terminals 1-3-5", ""), ("Cross-section", "10–70 mm²"), ("Tightening torque", f"{torque} N·m")]
        rows += [("Weight", "1.2 kg"), ("Fixing screws", "M4, 1.5 N·m"), ("", "")]
    path = write_page(tmp_path / "blocks.html", "<h1>Breakers MK</h1>" + write_rows(rows))
    found = [(name[:6], *rest) for name, *rest in told(path)]
    assert sorted(found) == [
        ("MK 160", "Fixing screws", "", "1.5 N·m"),
        ("MK 160", "Line terminals 1-3-5", "10–70 mm²", "6 N·m"),
        ("MK 250", "Fixing screws", "", "1.5 N·m"),
        ("MK 250", "Line terminals 1-3-5", "10–70 mm²", "10 N·m"),
    ]


def test_a_type_of_the_series_over_a_list_names_its_device(tmp_path: Path) -> None:
    body = "<h1>QX24 power supplies</h1>"
    for name, torque in (("QX24-5", "0.5"), ("QX24-20", "0.8")):
        rows = [("Property", "Value", "Unit"), ("Input L, N, PE", "", ""), ("Conductor, solid", "0.5–4", "mm²")]
        rows += [("Conductor", "20–12", "AWG"), ("Tightening torque", torque, "N·m")]
        body += f"<h2>{name}</h2>" + write_rows(rows).replace(
            "<td>Input L, N, PE</td><td></td><td></td>", '<th colspan="3">Input L, N, PE</th>'
        )
    assert told(write_page(tmp_path / "supplies.html", body)) == [
        ("QX24-5", "Input L, N, PE", "0.5–4 / 20–12", "0.5"),
        ("QX24-20", "Input L, N, PE", "0.5–4 / 20–12", "0.8"),
    ]


def test_the_name_of_a_property_goes_before_another_value(tmp_path: Path) -> None:
    rows = [["Main switch HS-63", "Article 88 1063"], ["Rated current:", "63 A"], ["Connection:", "screw clamp"]]
    rows += [["Main terminals, cross-section:", "4–25 mm²"], ["Main terminals, tightening torque:", "3 N·m"]]
    rows += [["Earth terminal, cross-section:", "4–16 mm²"], ["Earth terminal, tightening torque:", "2 N·m"]]
    path = draw(tmp_path / "switch.pdf", "Main switches", (rows, []), ruled=False)
    assert told(path) == [
        ("Main switch HS-63", "Main terminals", "4–25 mm²", "3 N·m"),
        ("Main switch HS-63", "Earth", "4–16 mm²", "2 N·m"),
    ]


def test_names_over_values_in_columns_are_read_down_each_column(tmp_path: Path) -> None:
    texts: list[Text] = [(50, 780, "Control transformers STX", -18)]
    products = [("STX 400", "0.5–4", "0.8"), ("STX 1000", "0.5–6", "1.2"), ("STX 2500", "1.5–10", "1.8")]
    for column, (name, sizes, torque) in enumerate(products):
        left = 50 + 170 * column
        values = [("Article number", "52 408"), ("Rated power", "400 VA"), ("Primary voltage", "400 V")]
        texts.append((left, 740, name, -13))
        for row, (title, value) in enumerate(values):
            texts += [(left, 722 - 26 * row, title, 7), (left, 712 - 26 * row, value, 9)]
        texts += [(left, 640, "Primary terminal", 7), (left, 630, f"solid {sizes} mm²,", 9)]
        texts += [(left, 619, f"tightening torque {torque} N·m", 9)]
    assert told(set_texts(tmp_path / "columns.pdf", texts)) == [
        (name, "Primary terminal", f"{sizes} mm²", f"{torque} N·m") for name, sizes, torque in products
    ]


def side_by_side() -> list[Text]:
    texts: list[Text] = [(50, 780, "Surge arrester OX3-40", -16)]
    left = [("Article", "OX3-40"), ("Code", "7 040"), ("Rated voltage", "275 V AC"), ("Rated power", "20 kA")]
    left += [("Poles", "4"), ("Response", "25 ns"), ("Fuse", "125 A"), ("Weight", "0.4 kg")]
    for row, (name, value) in enumerate(left):
        texts += [(50, 740 - 16 * row, name, 8), (140, 740 - 16 * row, value, -8)]
    right = [
        ("Connection", ["cage clamps"]),
        ("Terminals L1, L2, L3", ["solid 4 to 35 mm²,", "flexible 2.5 to 25 mm²;", "tightening torque 3.5 N·m"]),
        ("Earth terminal PE", ["solid 6 to 50 mm²;", "tightening torque 4 N·m"]),
        ("Mounting", ["rail 35 mm"]),
        ("Width", ["72 mm"]),
    ]
    height = 740.0
    for name, lines in right:
        texts.append((310, height, name, 8))
        for line in lines:
            texts.append((410, height, line, -8))
            height -= 9
        height -= 7
    return texts


def test_lists_side_by_side_with_values_over_several_lines(tmp_path: Path) -> None:
    found = told(set_texts(tmp_path / "side.pdf", side_by_side()))
    assert [row[1:] for row in found] == [
        ("Terminals L1, L2, L3", "4 to 35 mm²", "3.5 N·m"),
        ("Terminals L1, L2, L3", "2.5 to 25 mm²", "3.5 N·m"),
        ("Earth terminal PE", "6 to 50 mm²", "4 N·m"),
    ]


def test_sizes_of_one_clause_keep_their_kinds(tmp_path: Path) -> None:
    kinds = [s.conductor.stranding for s in settings(set_texts(tmp_path / "side.pdf", side_by_side()))]
    assert kinds == [("solid",), ("flexible",), ("solid",)]


def test_call_outs_on_both_sides_of_a_drawing_keep_their_names(tmp_path: Path) -> None:
    texts: list[Text] = [(50, 780, "NX 240-24", -16), (50, 760, "Power supply, 24 V DC", 10)]
    for left, name, size, torque in (
        (80, "Output + / –", "1.5–6 mm²", "0.6–0.8"),
        (420, "Signal contact 13, 14", "0.2–1.5 mm²", "max. 0.4"),
    ):
        texts += [(left, 700, name, -8), (left, 688, size, 8), (left, 676, f"Tightening torque {torque} N·m", 8)]
    found = settings(set_texts(tmp_path / "drawing.pdf", texts))
    limits = [(s.terminal.printed, s.torque.limit_nm is not None if s.torque else None) for s in found]
    assert limits == [("Output + / –", False), ("Signal contact 13, 14", True)]


@pytest.mark.parametrize("text", ["copper or aluminium", "copper and aluminium", "copper, aluminium"])
def test_two_materials_joined_by_a_word_are_both_said(tmp_path: Path, text: str) -> None:
    rows = [("Cross-section", f"35–150 mm², {text}"), ("Line terminals: tightening torque", "10 N·m")]
    [setting] = settings(write_page(tmp_path / "both.html", "<h1>Breaker MK 250</h1>" + write_rows(rows)))
    assert (setting.state, setting.conductor.material) == ("released", ("copper", "aluminium"))


def test_values_that_are_clauses_have_the_name_on_their_left_without_rules(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "supply.pdf"), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 16)
    canvas.drawString(50, 790, "Vellmar power supply VPS 240")
    rows = (
        ("Rated output", "24 V, 10 A"), ("Ripple", "100 mV"), ("Conductors", "Copper only, all terminals"),
        ("Input terminals L, N, FG", "M4 screw, 0.5-4 mm², tightening torque 0.8-1.0 N·m"),
        ("Output terminals +V, -V", "M4 screw, 0.5-6 mm², tightening torque 1.1-1.2 N·m"),
        ("Signal terminals CN1", "M2.5 screw, 0.14-1.5 mm², tightening torque 0.4 N·m"),
    )  # fmt: skip
    canvas.setFont("Helvetica", 8)
    for number, (name, value) in enumerate(rows):
        canvas.drawString(50, 750 - 17 * number, name)
        canvas.drawString(220, 750 - 17 * number, value)
    canvas.save()
    settings = read_sheet(tmp_path / "supply.pdf").settings
    assert [(one.terminal.printed.split(" / ")[0], one.torque and one.torque.printed) for one in settings] == [
        ("Input terminals L, N, FG", "0.8-1.0 N·m"), ("Output terminals +V, -V", "1.1-1.2 N·m"),
        ("Signal terminals CN1", "0.4 N·m"),
    ]  # fmt: skip


def test_lists_side_by_side_whose_names_and_values_are_broken_over_lines(tmp_path: Path) -> None:
    names = ["Supply terminals L1,", "L2, L3, N", "", "", "Outputs that may be", "switched off 1 to 3", "Fault contact"]
    values = ["cage clamp; rigid 1.5 to 16 mm², flexible", "1.5 to 10 mm²; strip 12 mm; tightening"]
    values += ["torque 2 N·m;", "drive PZ2", "rigid 1 to 6 mm², flexible 0.75 to 4 mm²;", "tightening torque 0.8 N·m"]
    values += ["0.5 to 2.5 mm²; torque: see label"]
    left = [("Rated voltage", "3 × 230/400 V~, 50 Hz"), ("Threshold", "15 to 90 A, in steps of 5 A")]
    left += [("Power drawn", "4.5 VA"), ("Cycle", "5 min, not adjustable")]
    texts: list[Text] = [(40, 780, "Load shedder QL 3", -16), (40, 702, "RATINGS", -9), (300, 700, "CONNECTION", -9)]
    for row, (name, value) in enumerate(left):
        texts += [(40, 688 - 11 * row, name, 8), (110, 688 - 11 * row, value, 8)]
    for row, (name, value) in enumerate(zip(names, values, strict=True)):
        texts += [(300, 686 - 10.2 * row, name, 8), (381, 686 - 10.2 * row, value, 8)]
    found = [s for s in read_sheet(set_texts(tmp_path / "lists.pdf", texts)).settings if s.state == "released"]
    assert [(s.terminal.printed, s.conductor.printed, s.torque.printed) for s in found] == [
        ("Supply terminals L1, L2, L3, N", "1.5 to 16 mm²", "2 N·m"),
        ("Supply terminals L1, L2, L3, N", "1.5 to 10 mm²", "2 N·m"),
        ("Outputs that may be switched off 1 to 3", "1 to 6 mm²", "0.8 N·m"),
        ("Outputs that may be switched off 1 to 3", "0.75 to 4 mm²", "0.8 N·m"),
    ]
