"""Heads that a rule, a line or white parts from their rows, and cells that two columns or lines share."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

XS = (60, 190, 300, 380, 450)
HEADS = ("Type", "Terminal", "mm²", "Torque", "Driver")
ROWS = (("QR 4", "Input", "0.5–4", "0.8", "PZ1"), ("QR 9", "Input", "4–16", "2", "PZ2"))


class Sheet:
    """A page written line by line from the top, with rules across where they are asked for."""

    def __init__(self, path: Path) -> None:
        self.path, self.y = path, 760.0
        self.canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
        self.line("Relays of the QR series", size=14)

    def line(self, *texts: str, xs: Sequence[float] = XS, bold: bool = False, size: int = 9, step: float = 14) -> None:
        self.canvas.setFont("Helvetica-Bold" if bold else "Helvetica", size)
        for x, text in zip(xs, texts, strict=False):
            self.canvas.drawString(x, self.y, text)
        self.y -= step

    def rule(self, *, above: float = 10) -> None:
        self.canvas.line(58, self.y + above, 500, self.y + above)

    def read(self) -> list[Setting]:
        self.canvas.save()
        return list(read_sheet(self.path).settings)


def told(found: list[Setting]) -> list[tuple[str, str, str, str]]:
    return [(one.device.model or "", one.terminal.printed, one.conductor.printed, one.torque.printed) for one in found]


EXPECTED = [row[:4] for row in ROWS]


def test_a_head_over_a_rule_stays_with_rows_far_under_it(tmp_path: Path) -> None:
    sheet = Sheet(tmp_path / "head.pdf")
    sheet.line("Type", "Terminal", "mm²", "Torque N·m", "Driver", step=34)
    sheet.rule(above=30)
    sheet.line("Rail mounted", step=18)
    for row in ROWS:
        sheet.rule(above=14)
        sheet.line(*row, step=20)
    sheet.rule(above=14)
    assert told(sheet.read()) == EXPECTED


def test_heads_of_two_lines_in_rules_are_joined_with_rows_under_a_section_s_line(tmp_path: Path) -> None:
    sheet = Sheet(tmp_path / "heads.pdf")
    sheet.rule()
    sheet.line(*HEADS)
    sheet.line("", "", "", "N·m", "")
    sheet.rule()
    sheet.line("Plug-in relays and sockets")
    for row in ROWS:
        sheet.line(*row)
    assert told(sheet.read()) == EXPECTED


def test_running_text_over_a_numbered_heading_in_bold_is_of_the_section_before(tmp_path: Path) -> None:
    sheet = Sheet(tmp_path / "text.pdf")
    sheet.line("Mount the heat sink with two M4 screws. Keep the", step=12)
    sheet.line("mounting screws clean and the cover plate closed.", step=12)
    sheet.line("R3 Conductors and torques", bold=True)
    sheet.line("Type", "Terminal", "mm²", "Torque N·m", "Driver")
    for row in ROWS:
        sheet.line(*row)
    found = sheet.read()
    assert told(found) == EXPECTED
    assert not any("cover plate" in text.text for one in found for text in one.scope if text.kind == "caption")
