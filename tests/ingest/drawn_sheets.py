"""A small sheet with a title and one table, and what the reader gives of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting

Write = Callable[[Canvas, float, float], None]
Cells = Sequence[Sequence[str | Write]]
HEADS = ("Terminal", "Conductor mm²", "Torque N·m")


def draw(
    path: Path, rows: Cells, *, ruled: bool = True, title: str = "Wrenlow WG 10", font: str = "Helvetica"
) -> Canvas:
    """Draw a table of three or more columns under a title; the page is not closed yet."""
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    canvas.setFont(font, 11)
    canvas.drawString(50, 780, title)
    draw_table(canvas, rows, ruled=ruled, font=font)
    return canvas


def draw_table(canvas: Canvas, rows: Cells, *, top: float = 740, ruled: bool = True, font: str = "Helvetica") -> None:
    for number, row in enumerate(rows):
        for column, text in enumerate(row):
            canvas.setFont(font, 9)
            x, y = 54 + 110 * column, top - 18 * number
            if isinstance(text, str):
                canvas.drawString(x, y, text)
            else:
                text(canvas, x, y)
    for number in range(len(rows) + 1) if ruled else ():
        canvas.line(50, top + 12 - 18 * number, 50 + 110 * len(rows[0]), top + 12 - 18 * number)


def settle(path: Path) -> dict[str, Setting]:
    return {setting.terminal.printed: setting for setting in read_sheet(path).settings}


def released(path: Path) -> dict[str, str]:
    return {label: str(one.torque.max_nm) for label, one in settle(path).items() if one.state == "released"}


def codes(path: Path) -> dict[str, set[str]]:
    return {label: {finding.code for finding in one.findings} for label, one in settle(path).items()}
