"""Draws a long manual: prose, pictures and tables of other things on most pages, torques on six of them."""

from __future__ import annotations

import random
from pathlib import Path

import numpy as np
from PIL import Image
from reportlab.lib.pagesizes import A4
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

_PROSE = (
    "the device is mounted on a rail before the cover is closed and all conductors are led through the bulb holder "
    "elbow of the enclosure with care so that no strand stands out of its clamp while the supply is switched off"
)
_MENTIONS = (
    "Leave 25 mm above the device and 40 mm (1.6 inch) below it.",
    "Use conductors of 1.5 mm² to 16 mm², copper only.",
    "The device weighs 0.35 kg, see drawing #4 on page 12.",
    "Rated at 230 V, 50 Hz, ambient air from -25 °C to 40 °C.",
    "See the tightening torques in the tables of this manual.",
)
_OTHER = (("Type", "Rated current A", "Width mm", "Mass kg"), ("Pole", "Losses W", "Voltage V", "Life cycles"))


def draw_long_sheet(path: Path, pages: int, *, seed: int = 7) -> None:
    """Draw `pages` pages: prose, on every fifth a photograph, on every fourth a table; six with ten torques each."""
    dice = random.Random(seed)
    canvas = Canvas(str(path), pagesize=A4)
    photographs = [ImageReader(_photograph(dice)) for _ in range(6)]
    for number in range(pages):
        _draw_prose(canvas, dice, number)
        if number % (pages // 6) == 1:
            rows = [("Terminal", "Conductor mm²", "Torque N·m")]
            rows += [(f"Terminal X{number}-{at}", f"{at + 1}", f"{at % 4 + 1}.{at % 5}") for at in range(10)]
            _draw_table(canvas, rows)
        elif number % 5 == 0:
            canvas.drawImage(photographs[number % len(photographs)], 60, 90, 300, 220)
        elif number % 4 == 0:
            heads = dice.choice(_OTHER)
            _draw_table(canvas, [heads, *([f"{dice.randint(1, 99)}.{dice.randint(0, 9)}"] * 4 for _ in range(12))])
        canvas.showPage()
    canvas.save()


def _draw_prose(canvas: Canvas, dice: random.Random, number: int) -> None:
    canvas.setFont("Helvetica-Bold", 13)
    canvas.drawString(60, 790, f"{number + 1} Mounting and operation")
    canvas.setFont("Times-Roman", 10)
    for row in range(32):
        text = " ".join(dice.choices(_PROSE.split(), k=14)).capitalize() + "."
        canvas.drawString(60, 765 - 13 * row, dice.choice(_MENTIONS) if dice.random() < 0.03 else text)


def _draw_table(canvas: Canvas, rows: list[tuple[str, ...]]) -> None:
    for at, row in enumerate(rows):
        for column, text in enumerate(row):
            canvas.rect(60 + 110 * column, 310 - 18 * at, 110, 18)
            canvas.drawString(64 + 110 * column, 315 - 18 * at, text)


def _photograph(dice: random.Random) -> Image.Image:
    """Return something like a photograph: soft shades, edges, and the grain of a camera."""
    noise = np.random.default_rng(dice.randrange(1 << 30))
    coarse = Image.fromarray(noise.integers(0, 255, (12, 16, 3), dtype=np.uint8))
    shades = coarse.resize((900, 660), Image.Resampling.BICUBIC)
    levels = np.asarray(shades, dtype=np.int16) + noise.normal(0, 6, (660, 900, 1)).astype(np.int16)
    for _ in range(8):
        x, y, w, h = (dice.randrange(40, 600) for _ in range(4))
        levels[y : y + h // 3, x : x + w // 3] //= 2
    return Image.fromarray(levels.clip(0, 255).astype(np.uint8))
