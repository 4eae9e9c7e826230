"""Cards beside each other, each under the type of its device, with figures and names of our own."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

CARDS = (
    ("VX-16", "Inputs 1 to 16", "0.2 to 1.5 mm²", "0.4 N·m"),
    ("VX-8R", "Outputs 1 to 8", "0.5 to 2.5 mm²", "0.6 N·m"),
    ("VX-P5", "Supply L, N, PE", "0.75 to 4 mm²", "0.8 N·m"),
    ("VX-B", "Terminals A, B, SH", "0.14 to 1 mm²", "0.2 N·m"),
)


@pytest.mark.parametrize("apart", [0.0, 3.0], ids=["level", "offset"])
def test_lists_beside_each_other_keep_their_own_figures_and_devices(tmp_path: Path, apart: float) -> None:
    canvas = Canvas(str(tmp_path / "cards.pdf"), pagesize=(595, 842), invariant=1)
    canvas.setFont("Helvetica", 18)
    canvas.drawString(50, 790, "Vellmar VX series controllers")
    for number, (title, name, size, torque) in enumerate(CARDS):
        x, y = 50 + 250 * (number % 2), 740 - 120 * (number // 2) - apart * (number % 2)
        canvas.setFont("Helvetica-Bold", 13)
        canvas.drawString(x, y, title)
        for row, line in enumerate((name, f"Cross-section: {size}", f"Tightening torque: {torque}")):
            canvas.setFont("Helvetica" if row else "Helvetica-Bold", 9)
            canvas.drawString(x, y - 24 - 14 * row, line)
    canvas.save()
    found = read_sheet(tmp_path / "cards.pdf").settings
    got = {
        (one.device.printed, one.terminal.printed, one.conductor.printed, one.torque.printed)
        for one in found
        if one.state == "released" and one.torque is not None
    }
    assert got == set(CARDS)
