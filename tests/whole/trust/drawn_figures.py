"""Figures drawn in doubtful ways, each in a ruled table whose other figure is plain."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import reportlab
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

sys.path.insert(0, str(Path(__file__).parents[2]))
from mapped_font import register

Drawing = Callable[[Canvas, float, float], None]
"""Draws a figure with its left end and baseline at these points of a page (from the bottom left)."""

COLUMNS = (60, 200, 340, 480)
TOP, HEIGHT, SIZE = 700, 24, 10
FONT = str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")


def draw_invisible(canvas: Canvas, x: float, y: float) -> None:
    """A picture that shows 3.5, and the text 2.5 over it that is not painted, as recognisers lay it."""
    canvas.drawImage(ImageReader(Image.new("RGB", (30, 12), (236, 236, 236))), x - 2, y - 3, 30, 14)
    text = canvas.beginText(x, y)
    text.setTextRenderMode(3)
    text.textOut("2.5")
    text.setTextRenderMode(0)
    canvas.drawText(text)


def draw_covered(canvas: Canvas, x: float, y: float) -> None:
    """A white patch over the first figure of 12.5."""
    canvas.drawString(x, y, "12.5")
    canvas.setFillGray(1)
    canvas.rect(x - 1, y - 2, 5.9, 11, stroke=0, fill=1)
    canvas.setFillGray(0)


def draw_struck(canvas: Canvas, x: float, y: float) -> None:
    """A line through the figure."""
    canvas.drawString(x, y, "2.5")
    canvas.line(x - 1, y + 3.4, x + 15, y + 3.4)


def draw_overprinted(canvas: Canvas, x: float, y: float) -> None:
    """A unit printed over the figure: is it 2.5, or was that meant to be hidden?"""
    canvas.drawString(x, y, "2.5")
    canvas.drawString(x + 5, y + 0.6, "Nm")


def draw_mapped(canvas: Canvas, x: float, y: float) -> None:
    """2.5 in a font whose Unicode map exchanges 2 and 3."""
    canvas.setFont(register(FONT, {"2": "3", "3": "2"}), SIZE)
    canvas.drawString(x, y, "2.5")
    canvas.setFont("Helvetica", SIZE)


def draw_point(canvas: Canvas, x: float, y: float) -> None:
    """2.5 with the point drawn as a disc: the text says 25."""
    canvas.drawString(x, y, "25", charSpace=2.6)
    canvas.circle(x + 6.9, y + 0.7, 0.7, stroke=0, fill=1)


def draw_across(canvas: Canvas, x: float, y: float) -> None:
    """A figure that lies across the rule to its left: which cell is it in?"""
    canvas.drawString(x - 12, y, "2.5")


def draw_beside_damage(canvas: Canvas, x: float, y: float) -> None:
    """2.5 with an operator before it that is none: what it was, and what it moved, cannot be known."""
    canvas._code.append("1 0 0 1 0 0 xm")
    canvas.drawString(x, y, "2.5")


DRAWINGS: dict[str, Drawing] = {
    "text_invisible": draw_invisible,
    "text_covered": draw_covered,
    "text_struck_out": draw_struck,
    "text_overprinted": draw_overprinted,
    "text_differs_from_picture": draw_mapped,
    "ink_without_text": draw_point,
    "readings_differ": draw_across,
    "page_damaged": draw_beside_damage,
}


def draw_sheet(path: Path, figure: Drawing) -> Path:
    """Draw the sheet with this figure in its upper row."""
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=True)
    canvas.setFont("Helvetica", SIZE)
    canvas.drawString(60, 780, "Lantern Quay breakers")
    rows = (("Terminal", "Conductor mm²", "Torque N·m"), ("Line", "1–16", None), ("Load", "1–25", "3.0"))
    for r, row in enumerate(rows):
        bottom = TOP - r * HEIGHT
        for c, text in enumerate(row):
            canvas.rect(COLUMNS[c], bottom, COLUMNS[c + 1] - COLUMNS[c], HEIGHT)
            if text:
                canvas.drawString(COLUMNS[c] + 6, bottom + 8, text)
            else:
                figure(canvas, COLUMNS[c] + 6, bottom + 8)
    canvas.save()
    return path
