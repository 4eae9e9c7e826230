"""Cards side by side and lines without a mark between name and value: whose size and torque each line gives."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Page, Shade
from torquary_ingest.document.frames import find_gutters
from torquary_ingest.extractors.stanzas import name_line
from torquary_ingest.reader import read_sheet
from torquary_schema.values import Box

Card = tuple[str, tuple[str, ...]]

CARDS: tuple[Card, ...] = (
    ("QB 63", ("Line lugs", "Cu 8–2 AWG, 10–35 mm²", "Torque 40 lb·in (4.5 N·m)", "Mounting screws M4: 1.7 N·m")),
    ("QB 125", ("Line lugs", "Cu 4–2/0 AWG, 25–70 mm²", "Torque 80 lb·in (9.0 N·m)")),
    ("QB-A", ("Contacts 11, 14", "solid 0.5–2.5 mm²", "flexible 0.5–1.5 mm²", "Torque 0.5 N·m")),
    ("QB-S", ("Coil C1, C2", "0.5–2.5 mm²", "Torque from 0.4 to 0.5 N·m")),
)


def draw_cards(path: Path, *, indent: float = 40) -> Path:
    """Draw two rows of two cards: a shade with the type over the lines, which stand right of a drawing."""
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica-Bold", 14)
    canvas.drawString(50, 790, "Molded case breakers QB")
    for at, (title, lines) in enumerate(CARDS):
        left, top = 50 + 250 * (at % 2), 740 - 160 * (at // 2)
        canvas.setFillGray(0.85)
        canvas.rect(left, top - 6, 236, 24, stroke=0, fill=1)
        canvas.setFillGray(0)
        canvas.setFont("Helvetica-Bold", 13)
        canvas.drawString(left + 8, top, title)
        canvas.rect(left + 8, top - 80, indent - 20, 60)
        for row, text in enumerate(lines, start=1):
            canvas.setFont("Helvetica-Bold" if row == 1 else "Helvetica", 9)
            canvas.drawString(left + indent, top - 10 - 14 * row, text)
    canvas.save()
    return path


@pytest.mark.parametrize("indent", [40, 70])
def test_each_card_gives_its_own_device_sizes_and_torque(tmp_path: Path, indent: float) -> None:
    found = read_sheet(draw_cards(tmp_path / "cards.pdf", indent=indent)).settings
    released = [one for one in found if one.state == "released" and one.purpose == "electrical_terminal"]
    wanted = {
        ("QB 63", "Line lugs", "4.5"),
        ("QB 125", "Line lugs", "9.0"),
        ("QB-A", "Contacts 11, 14", "0.5"),
        ("QB-S", "Coil C1, C2", "0.5"),
    }
    named = {(one.terminal.printed, str(one.torque.max_nm)) for one in released}
    assert named == {(name, torque) for _, name, torque in wanted}
    for device, terminal, torque in wanted:
        own = [one for one in released if (one.terminal.printed, str(one.torque.max_nm)) == (terminal, torque)]
        assert all(one.device.printed.startswith(device) for one in own), device
    sizes = {(one.terminal.printed, one.conductor.max_mm2) for one in found if one.conductor.max_mm2}
    assert ("Line lugs", 35) in sizes
    assert ("Line lugs", 70) in sizes


def test_another_screw_on_a_card_takes_no_size_and_no_terminal_of_it(tmp_path: Path) -> None:
    found = read_sheet(draw_cards(tmp_path / "cards.pdf")).settings
    [screw] = [one for one in found if one.torque.printed == "1.7 N·m"]
    assert (screw.purpose, screw.conductor.printed) == ("mounting", "")
    assert "lugs" not in screw.terminal.printed


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("Torque 40 lb·in (4.5 N·m)", ("Torque", "40 lb·in (4.5 N·m)")),
        ("1 × 6–16 mm² solid or stranded", ("mm²", "1 × 6–16 mm² solid or stranded")),
        ("solid 0.5–2.5 mm²", ("solid", "0.5–2.5 mm²")),
        ("L1, L2: 0.5–2.5 mm²", None),
        ("Cross-section of the bar 20 mm²", None),
        ("Torque of the motor shaft", None),
    ],
)
def test_lines_that_give_sizes_or_a_torque_and_nothing_else(text: str, named: tuple[str, str] | None) -> None:
    assert name_line(text) == named


@pytest.mark.parametrize(("gap", "count"), [(2, 0), (4, 1), (59, 1), (62, 0)])
def test_shades_part_a_page_by_the_blank_between_them(gap: float, count: int) -> None:
    boxes = (Box(x0=50, x1=200, top=100, bottom=120), Box(x0=200 + gap, x1=400, top=100, bottom=120))
    page = Page(number=1, shades=tuple(Shade(box=box, colour=0.8) for box in boxes))
    assert len(find_gutters(page)) == count
