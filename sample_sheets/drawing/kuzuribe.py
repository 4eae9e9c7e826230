"""A Japanese sheet of the invented maker Kuzuribe."""

from __future__ import annotations

from pathlib import Path

from drawing.figures import Row, Sheet, mm, nm
from drawing.grid import Box, Style, draw_grid, head
from drawing.page import Imprint, Paper

MAKER = "Kuzuribe"


def draw_breaker_japanese(folder: Path) -> Sheet:
    """Ruled table with Japanese headings and terminals; the font is the reader's own."""
    sheet = Sheet(file="kuzuribe_breaker.pdf", maker=MAKER, shows="Japanese, ruled")
    paper = Paper(
        folder / sheet.file,
        Imprint(maker=MAKER, what="配線用遮断器 KZ50", number="KZ-0931", edition="2030-04", foot="第2版"),
    )
    y = paper.begin_page()
    y = paper.paragraph(56, y + 6, ["定格電圧 AC 200 V、定格電流 50 A、2極。分電盤用。"])
    paper.text(56, y + 22, "端子と締付トルク", 11)
    lines = (
        ("電源側端子", mm("2", "14"), nm("2.0", "2.5"), "M5"),
        ("負荷側端子", mm("2", "8"), nm("1.8", "2.2"), "M5"),
        ("接地端子", mm("2", "5.5"), nm("1.2", "1.5"), "M4"),
    )
    rows: list[list[Box | str]] = [
        [head("端子"), head("ねじ"), head("適合電線 mm²"), head("締付トルク N·m")],
    ]
    for terminal, size, torque, thread in lines:
        rows.append([terminal, thread, size.text(dash="~"), torque.text(dash="~")])
        sheet.add([Row(terminal=terminal, size=size, torque=torque, family="mcb")])
    draw_grid(paper, 56, y + 32, [110, 60, 120, 130], rows, Style(look="ruled"))
    paper.close()
    return sheet
