"""Cards whose names stand over their values: each is a list of its own, under the name printed in the titles' type."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

Card = tuple[str, str, tuple[tuple[str, str], ...]]

CARDS: tuple[Card, ...] = (
    (
        "QL 100",
        "100 A, two poles",
        (
            ("Cage terminal, Cu solid or stranded", "1.5–50 mm² · 3 Nm"),
            ("Cage terminal, Cu flexible with ferrule", "1.5–35 mm² · 3 Nm"),
            ("Mounting on plate", "2 × M5, 2.5 Nm"),
        ),
    ),
    (
        "QL 250",
        "250 A, two poles",
        (("Terminal L1", "35–150 mm² Cu/Al · 15 Nm"), ("Terminal N", "6–25 mm² · 4 Nm"), ("Width", "184 mm")),
    ),
    (
        "Watcher QL-W",
        "for all sizes",
        (("Relay output 11-12-14", "0.25–2.5 mm² · 0.5 Nm"), ("Supply A1, A2", "0.25–2.5 mm² · 0.5 Nm")),
    ),
)


def draw_cards(path: Path, *, parted: str = "white") -> Path:
    """Draw cards side by side, parted by white or by upright strokes; names small, values large and bold."""
    canvas = Canvas(str(path), pagesize=(842, 595), invariant=1)
    canvas.setFont("Helvetica-Bold", 18)
    canvas.drawString(40, 550, "Switch disconnectors QL")
    for at, (title, under, listed) in enumerate(CARDS):
        left, y = 40 + 260 * at, 505.0
        if parted == "strokes" and at:
            canvas.line(left - 10, 300, left - 10, 520)
        for text, font, size, step in ((title, "Helvetica-Bold", 11, 13.0), (under, "Helvetica-Oblique", 8, 16.0)):
            canvas.setFont(font, size)
            canvas.drawString(left, y, text)
            y -= step
        for name, value in listed:
            canvas.setFont("Helvetica", 6)
            canvas.drawString(left, y, name)
            canvas.setFont("Helvetica-Bold", 9)
            canvas.drawString(left, y - 9, value)
            y -= 22
    canvas.save()
    return path


@pytest.mark.parametrize("parted", ["white", "strokes"])
def test_each_name_gives_the_value_under_it(tmp_path: Path, parted: str) -> None:
    found = read_sheet(draw_cards(tmp_path / "cards.pdf", parted=parted)).settings
    told = {_told(one) for one in found if one.state == "released" and one.purpose == "electrical_terminal"}
    assert told == {
        ("QL 100", "Cage terminal, Cu solid or stranded", "50", "3"),
        ("QL 100", "Cage terminal, Cu flexible with ferrule", "35", "3"),
        ("QL 250", "Terminal L1", "150", "15"),
        ("QL 250", "Terminal N", "25", "4"),
        ("QL-W", "Relay output 11-12-14", "2.5", "0.5"),
        ("QL-W", "Supply A1, A2", "2.5", "0.5"),
    }


def test_both_metals_of_a_value_are_taken(tmp_path: Path) -> None:
    found = read_sheet(draw_cards(tmp_path / "cards.pdf")).settings
    [line] = [one for one in found if one.terminal.printed == "Terminal L1"]
    assert set(line.conductor.material) == {"copper", "aluminium"}


def test_a_column_of_names_with_a_line_of_smaller_type_beneath_is_no_list(tmp_path: Path) -> None:
    path = tmp_path / "table.pdf"
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica-Bold", 14)
    canvas.drawString(50, 790, "Contactors QK")
    canvas.setFont("Helvetica-Bold", 9)
    for x, text in ((50, "Type"), (200, "Terminal"), (300, "mm²"), (400, "Torque Nm")):
        canvas.drawString(x, 750, text)
    for row, (name, under, torque) in enumerate((("QK 9", "coil 24 V", "1.2"), ("QK 25", "coil 230 V", "2.3"))):
        y = 730 - 30 * row
        canvas.setFont("Helvetica", 6)
        canvas.drawString(50, y, under)
        canvas.setFont("Helvetica-Bold", 9)
        for x, text in ((50, name), (200, "L1, L2, L3"), (300, "1.5–6"), (400, torque)):
            canvas.drawString(x, y - 9, text)
    canvas.save()
    told = {one.torque.printed: one.device.printed for one in read_sheet(path).settings}
    assert set(told) == {"1.2", "2.3"}


def _told(one: Setting) -> tuple[str, str, str, str]:
    device = next((title for title in ("QL 100", "QL 250", "QL-W") if title in one.device.printed), one.device.printed)
    return (device, one.terminal.printed, str(one.conductor.max_mm2), str(one.torque.max_nm))
