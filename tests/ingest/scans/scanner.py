"""Draws a small sheet, and scans it: a picture, turned and slanted, with noise."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pypdfium2
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

SIZE = (360, 240)
TITLE = "Miniature circuit-breaker QX 63"
HEAD = ("Terminal", "Conductor mm²", "Torque N·m")
ROWS = (("L1", "1.5-6", "2.5"), ("L2", "10-25", "3.5"), ("PE", "6-16", "1.2"))
FIGURES = [("L1", "2.5"), ("L2", "3.5"), ("PE", "1.2")]


def draw_table(canvas: Canvas, *, left: float, top: float, rows: Sequence[Sequence[str]]) -> None:
    """Draw a ruled table, its top left at (left, top) from the bottom left of the page."""
    widths, high = (80.0, 110.0, 90.0), 20.0
    for at in range(len(rows) + 1):
        canvas.line(left, top - at * high, left + sum(widths), top - at * high)
    for at in range(len(widths) + 1):
        canvas.line(left + sum(widths[:at]), top, left + sum(widths[:at]), top - len(rows) * high)
    for number, row in enumerate(rows):
        for at, text in enumerate(row):
            canvas.drawString(left + sum(widths[:at]) + 5, top - number * high - 14, text)


def draw_sheet(*, title: str = TITLE, rows: Sequence[Sequence[str]] = ROWS) -> bytes:
    """Return a PDF of one page: a title and a table."""
    target = io.BytesIO()
    canvas = Canvas(target, pagesize=SIZE)
    canvas.setFont("Helvetica", 15)
    canvas.drawString(30, 205, title)
    canvas.setFont("Helvetica", 10)
    draw_table(canvas, left=30, top=180, rows=[HEAD, *rows])
    canvas.save()
    return target.getvalue()


def scan(sheet: bytes, *, dpi: int = 200, slant: float = 0.0, turn: int = 0, noise: float = 6.0) -> Image.Image:
    """Return the first page as a scanner gives it; `slant` and `turn` are degrees clockwise."""
    document = pypdfium2.PdfDocument(sheet)
    page = document[0].render(scale=dpi / 72, grayscale=True).to_pil().convert("L")
    document.close()
    page = page.rotate(-slant, fillcolor=255, resample=Image.Resampling.BICUBIC).rotate(-turn, expand=True)
    levels = np.asarray(page, dtype=np.float64) + np.random.default_rng(1).normal(0, noise, (page.height, page.width))
    return Image.fromarray(levels.clip(0, 255).astype(np.uint8))


def save(path: Path, *pictures: Image.Image, dpi: int = 200) -> Path:
    """Write the pictures: a PDF of pages, a TIFF of pages, or one picture file."""
    if path.suffix == ".pdf":
        canvas = Canvas(str(path))
        for picture in pictures:
            size = (picture.width * 72 / dpi, picture.height * 72 / dpi)
            canvas.setPageSize(size)
            canvas.drawImage(ImageReader(_jpeg(picture)), 0, 0, *size)
            canvas.showPage()
        canvas.save()
    elif path.suffix == ".tif":
        pictures[0].save(path, save_all=True, append_images=pictures[1:], dpi=(dpi, dpi))
    else:
        pictures[0].save(path, dpi=(dpi, dpi))
    return path


def _jpeg(picture: Image.Image) -> io.BytesIO:
    packed = io.BytesIO()
    picture.save(packed, "JPEG", quality=80)
    packed.seek(0)
    return packed
