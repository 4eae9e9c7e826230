"""Lists side by side under the same headings: a figure between two rows of one stands beside a row of the other."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

HEADS = ("Torque [Nm]", "Conductor mm²", "Terminal")


def draw_twins(path: Path) -> Path:
    """Two models; in the first list one torque stands half-way between its two rows, at its left."""
    canvas = Canvas(str(path), pagesize=(560, 300))
    canvas.setFont("Helvetica", 8)

    def put(x: float, y: float, text: str) -> None:
        canvas.drawString(x, y, text)

    put(60, 260, "Marrowfen circuit breakers")
    for left, model in ((50, "MF 16"), (310, "MFX 63")):
        put(left, 220, f"Circuit breaker {model}")
        for x, head in zip((left + 4, left + 97, left + 161), HEADS, strict=True):
            put(x, 202, head)
    for left, y, name, size in (
        (50, 186, "Line", "10–50"),
        (50, 166, "Load of motor circuit", "1.5–10"),
        (310, 186, "N", "10–50"),
        (310, 166, "L2", "2.5–16"),
    ):
        put(left + 97, y, size)
        put(left + 161, y, name)
    put(54, 176, "7.5–9.3")
    put(314, 186, "2.5")
    put(314, 166, "2.0")
    canvas.save()
    return path


def test_lists_side_by_side_under_the_same_headings_are_two(tmp_path: Path) -> None:
    found = read_sheet(draw_twins(tmp_path / "twins.pdf")).settings
    assert [(s.device.printed[-2:], s.terminal.printed, s.torque.printed, s.state) for s in found] == [
        ("16", "Line", "7.5–9.3", "released"),
        ("16", "Load of motor circuit", "7.5–9.3", "released"),
        ("63", "N", "2.5", "released"),
        ("63", "L2", "2.0", "released"),
    ]


def draw_beside(path: Path) -> Path:
    """A drawing whose parts bear numbers, in the border of the page, and a list with its headings in a frame."""
    canvas = Canvas(str(path), pagesize=(560, 400))
    canvas.rect(10, 10, 540, 380)
    canvas.setFont("Helvetica", 8)
    canvas.drawString(40, 370, "Switch-disconnector QD 250")
    for x, y, text in ((60, 352, "COVER"), (120, 282, "5"), (180, 246, "1")):
        canvas.drawString(x, y, text)
    canvas.rect(250, 326, 280, 22)
    rows = [("Item", "Part", "Conductor mm²", "Torque N·m")]
    rows += [(str(at), name, size, torque) for at, (name, size, torque) in enumerate(PARTS, 1)]
    for row, texts in enumerate(rows):
        for x, text in zip((254, 290, 390, 470), texts, strict=True):
            canvas.drawString(x, 334 - 18 * row - (18 if row else 0), text)
    canvas.drawString(254, 316, "QD 250, 250 A")
    canvas.save()
    return path


PARTS = (
    ("Line terminal", "35–120", "10"),
    ("Load terminal", "35–95", "9"),
    ("Neutral terminal", "25–95", "8"),
    ("Earth terminal", "10–50", "5"),
    ("Auxiliary terminal", "0.75–2.5", "0.8"),
    ("Control terminal", "0.75–1.5", "0.6"),
)


def test_numbers_of_a_drawing_are_no_part_of_the_list_beside_it(tmp_path: Path) -> None:
    found = read_sheet(draw_beside(tmp_path / "drawing.pdf")).settings
    told = [(s.terminal.printed, s.conductor.printed, s.torque.printed) for s in found if s.state == "released"]
    assert told == list(PARTS)


def draw_columns(path: Path) -> Path:
    """A page of two columns of lists and nothing else, the headings of one beside rows of the other."""
    canvas = Canvas(str(path), pagesize=(560, 300))
    columns = (
        (50, ("Contactor QC 9", "Line terminals", "Torque", "Conductor", "Control terminals", "Torque", "Conductor")),
        (310, ("Relay QR 2", "", "Load terminals", "Torque", "Conductor", "Earth terminal", "Torque", "Conductor")),
    )
    values = iter(("1.2 N·m", "1–4 mm²", "0.6 N·m", "0.5–1.5 mm²", "0.8 N·m", "1–2.5 mm²", "2 N·m", "2.5–6 mm²"))
    for left, names in columns:
        for row, name in enumerate(names):
            listed = name in ("Torque", "Conductor")
            canvas.setFont("Helvetica" if listed else "Helvetica-Bold", 8)
            canvas.drawString(left, 260 - 16 * row, name)
            if listed:
                canvas.drawString(left + 80, 260 - 16 * row, next(values))
    canvas.save()
    return path


def test_a_page_of_nothing_but_columns_of_lists_is_read(tmp_path: Path) -> None:
    found = read_sheet(draw_columns(tmp_path / "columns.pdf")).settings
    assert {(s.terminal.printed, s.torque.printed) for s in found} == {
        ("Line terminals", "1.2 N·m"),
        ("Control terminals", "0.6 N·m"),
        ("Load terminals", "0.8 N·m"),
        ("Earth terminal", "2 N·m"),
    }


MODELS = (
    (58, "Model QB1K5", (("AC input L, N", "14-10", "12"), ("Dry contact", "24-14", "4.5"))),
    (308, "Model QB6K", (("AC input L1, L2, N", "10-4", "30"), ("Battery", "8-2", "45"), ("EPO", "22-14", "4.5 N·m"))),
)


def draw_models(path: Path) -> Path:
    """Two models, their names over the lists; the upper rule is broken over the first column."""
    canvas = Canvas(str(path), pagesize=(595, 420))
    canvas.setFont("Helvetica", 9)
    canvas.drawString(57, 380, "Wiring of the UPS models QB1K5 and QB6K, wire sizes and terminal torques")
    for left, model, rows in MODELS:
        canvas.drawString(left, 340, model)
        for y, texts in enumerate((("Terminal", "AWG", "Torque lb-in"), *rows)):
            for x, text in zip((0, 126, 176), texts, strict=True):
                canvas.drawString(left + x, 328 - 12 * y, text)
    for row in range(5):
        canvas.line(58 if row else 184, 337 - 12 * row, 542, 337 - 12 * row)
    canvas.save()
    return path


def test_the_models_over_two_lists_are_the_devices_of_their_rows(tmp_path: Path) -> None:
    found = read_sheet(draw_models(tmp_path / "models.pdf")).settings
    told = {(s.device.printed, s.terminal.printed, s.conductor.printed, s.torque.printed) for s in found}
    assert told == {(model, *row) for _, model, rows in MODELS for row in rows}


def test_a_number_in_two_units_of_one_column_holds_the_one_that_is_not_the_heading_s(tmp_path: Path) -> None:
    found = {s.terminal.printed: s for s in read_sheet(draw_models(tmp_path / "models.pdf")).settings}
    assert [name for name, one in found.items() if one.state == "held"] == ["EPO"]
    assert "units_disagree" in {finding.code for finding in found["EPO"].findings}


@pytest.mark.parametrize("ruled", [True, False])
@pytest.mark.parametrize("models", [("QB15", "QB60"), ("Contactor QB15", "Contactor QB60")])
def test_two_types_side_by_side_over_one_list_hold_it(tmp_path: Path, models: tuple[str, str], *, ruled: bool) -> None:
    canvas = Canvas(str(tmp_path / "one.pdf"), pagesize=(595, 420))
    canvas.setFont("Helvetica", 9)
    canvas.drawString(57, 380, "Installation of the QB series")
    rows = (("", "", ""), HEADS[::-1], ("L1, L2, L3", "1.5–16", "2.5"), ("N", "1.5–10", "1.8"), ("PE", "2.5–16", "2"))
    for y, row in enumerate(rows):
        for x, text in zip((60, 250, 330), row, strict=True):
            canvas.drawString(x, 340 - 16 * y, text)
        if ruled and y:
            canvas.line(58, 350 - 16 * y, 500, 350 - 16 * y)
    for x, model in zip((60, 330), models, strict=True):
        canvas.drawString(x, 342, model)
    canvas.save()
    found = read_sheet(tmp_path / "one.pdf").settings
    assert [one.state for one in found] == ["held"] * 3
    assert all("readings_differ" in {finding.code for finding in one.findings} for one in found)
