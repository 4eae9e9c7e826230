"""Draw sheets of torque cells for the witness trial: honest ones, and ten kinds of lies of the text layer."""

from __future__ import annotations

import io
import random
import sys
from dataclasses import dataclass
from pathlib import Path

import reportlab.pdfbase.ttfonts as ttfonts
from PIL import Image, ImageDraw, ImageFont
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from torquary_schema.values import Box

sys.path.insert(0, str(Path(__file__).parents[1]))
from mapped_font import register

WIDE, HIGH, ACROSS, DOWN = 110.0, 24.0, 4, 25
MARGIN, PAGE = 40.0, (540.0, 680.0)
GROUNDS = ("white", "grey", "ruled")
SIZES = (5, 6, 7, 8, 9, 10, 11, 12)
DASH = "–"
LIES = (
    "digits exchanged by the map",
    "dash mapped to a digit",
    "point drawn",
    "dash drawn",
    "struck out",
    "struck out slantwise",
    "white old value",
    "digit patched over",
    "layer over a picture",
    "point covered",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A drawn cell: its box on the page as shown, what a person sees, and its lie ("" if honest)."""

    box: Box
    shown: str
    lie: str
    size: int
    ground: str


def write_figure(dice: random.Random, kind: str = "") -> str:
    """Return a printed torque; with a lie in mind, one that has what the lie needs."""
    low = f"{dice.choice((0.4, 0.5, 0.8, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0, 3.5, 6.0, 9.7)) + dice.randrange(4):.1f}"
    high = f"{float(low) + dice.choice((0.2, 0.4, 0.5, 1.6)):.1f}"
    if kind in ("dash drawn", "dash mapped to a digit"):
        return f"{low}{DASH}{high}"
    if kind:
        return low
    forms = (
        *(low, low, f"{low}0", low.replace(".", ","), str(dice.randrange(2, 400)), f"max. {low}"),
        *(f"{low}{DASH}{high}", f"{low}-{high}", f"{low} ± 0.2", f"{low} Nm", f"{low} N·m"),
        *(f"{dice.randrange(7, 60)} lb-in", f"{low} ({dice.randrange(5, 90)})"),
        f"{dice.randrange(1, 9)}/{dice.randrange(2, 9)}",
    )
    return dice.choice(forms)


def draw_sheet(path: Path, font: Path, dice: random.Random, lies: list[str], count: int) -> list[Cell]:
    """Draw one page of `count` cells in one font, the lies among them at random places."""
    names = _register(font, dice)
    canvas = Canvas(str(path), pagesize=PAGE)
    kinds = lies + [""] * (count - len(lies))
    dice.shuffle(kinds)
    cells = []
    for index, kind in enumerate(kinds):
        row, column = divmod(index, ACROSS)
        box = Box(
            x0=MARGIN + column * WIDE,
            top=MARGIN + row * HIGH,
            x1=MARGIN + (column + 1) * WIDE,
            bottom=MARGIN + (row + 1) * HIGH,
        )
        ground, size = GROUNDS[(index // ACROSS) % 3], dice.choice(SIZES)
        pen = _Pen(canvas, names, font, box, size, ground, dice)
        pen.draw_ground()
        shown = write_figure(dice, kind)
        pen.draw(shown, kind)
        cells.append(Cell(box=box, shown=shown, lie=kind, size=size, ground=ground))
    canvas.save()
    return cells


def _register(font: Path, dice: random.Random) -> tuple[str, str, str]:
    """Return the names of the plain font, one that exchanges all digits, and one whose dash is a digit."""
    plain = f"{font.stem} plain"
    pdfmetrics.registerFont(ttfonts.TTFont(plain, str(font)))
    digits = "0123456789"
    turned = list(digits[1:] + digits[:1])
    while any(a == b for a, b in zip(digits, turned, strict=True)):
        dice.shuffle(turned)
    return plain, register(str(font), dict(zip(digits, turned, strict=True))), register(str(font), {DASH: "2"})


class _Pen:
    """Draws one cell."""

    def __init__(self, canvas: Canvas, names: tuple[str, str, str], font: Path, box: Box, size: int, ground: str,
                 dice: random.Random) -> None:  # fmt: skip
        self.canvas, self.names, self.font, self.box = canvas, names, font, box
        self.size, self.ground, self.dice = size, ground, dice
        self.grey = dice.uniform(0.75, 0.93) if ground == "grey" else 1.0
        self.x, self.y = box.x0 + dice.uniform(4, 9), PAGE[1] - box.bottom + (HIGH - 0.7 * size) / 2

    def draw_ground(self) -> None:
        low = PAGE[1] - self.box.bottom
        if self.ground == "grey":
            self.canvas.setFillGray(self.grey)
            self.canvas.rect(self.box.x0, low, WIDE, HIGH, stroke=0, fill=1)
        elif self.ground == "ruled":
            self.canvas.setLineWidth(self.dice.choice((0.3, 0.5, 1.0)))
            self.canvas.rect(self.box.x0, low, WIDE, HIGH, stroke=1, fill=0)
        self.canvas.setFillGray(0)

    def write(self, text: str, x: float, *, name: int = 0, mode: int = 0) -> float:
        line = self.canvas.beginText(x, self.y)
        line.setFont(self.names[name], self.size)
        line.setTextRenderMode(mode)
        line.textOut(text)
        line.setTextRenderMode(0)
        self.canvas.drawText(line)
        return x + self.width(text)

    def width(self, text: str) -> float:
        return float(pdfmetrics.stringWidth(text, self.names[0], self.size))

    def draw(self, shown: str, kind: str) -> None:
        """Draw what is shown, and the text layer that the kind of lie gives it."""
        x, size = self.x, self.size
        whole, _, part = shown.partition("." if kind != "dash drawn" else DASH)
        if kind in ("", "digits exchanged by the map", "dash mapped to a digit"):
            self.write(shown, x, name=0 if not kind else 1 + LIES.index(kind))
        elif kind == "point drawn":
            end = self.write(whole, x)
            gap = self.width(".")
            self.canvas.circle(end + gap / 2, self.y + 0.05 * size, 0.055 * size, stroke=0, fill=1)
            self.write(part, end + gap)
        elif kind == "dash drawn":
            end = self.write(whole, x)
            self.canvas.rect(end + 0.06 * size, self.y + 0.25 * size, 0.4 * size, 0.07 * size, stroke=0, fill=1)
            self.write(part, end + 0.52 * size)
        elif kind.startswith("struck out"):
            end = self.write(write_figure(self.dice, kind), x)
            self.canvas.setLineWidth(max(0.4, 0.06 * size))
            rise = (0.1, 0.6) if kind.endswith("slantwise") else (0.3, 0.3)
            self.canvas.line(x - 0.5, self.y + rise[0] * size, end + 0.5, self.y + rise[1] * size)
            self.write(shown, end + 0.4 * size)
        elif kind == "white old value":
            self.canvas.setFillGray(self.grey)
            end = self.write(write_figure(self.dice, kind), x)
            self.canvas.setFillGray(0)
            self.write(shown, end + 0.4 * size)
        elif kind == "point covered":
            self.write(shown, x)
            self.canvas.setFillGray(self.grey)
            left = x + self.width(whole)
            self.canvas.rect(left, self.y - 0.2 * size, self.width("."), 0.4 * size, stroke=0, fill=1)
            self.canvas.setFillGray(0)
        elif kind == "digit patched over":
            self.write(_other(whole[0], self.dice) + shown[1:], x)
            self.picture(whole[0], x, self.width(whole[0]))
        else:
            self.picture(shown, x, self.width(shown))
            self.write("".join(_other(c, self.dice) if c.isdigit() else c for c in shown), x, mode=3)

    def picture(self, text: str, x: float, width: float) -> None:
        """Draw text as a picture of the cell's ground, at 500 dpi."""
        fine = 7
        high = 1.3 * self.size
        picture = Image.new("L", (max(1, round(width * fine)), round(high * fine)), round(self.grey * 255))
        face = ImageFont.truetype(str(self.font), self.size * fine)
        ImageDraw.Draw(picture).text((0, round(self.size * fine)), text, font=face, fill=0, anchor="ls")
        content = io.BytesIO()
        picture.save(content, "PNG")
        content.seek(0)
        low = self.y - (high - self.size)
        self.canvas.drawImage(ImageReader(content), x, low, width, high)


def _other(digit: str, dice: random.Random) -> str:
    return dice.choice([d for d in "0123456789" if d != digit])
