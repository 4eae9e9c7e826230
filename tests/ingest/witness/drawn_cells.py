"""Small drawn pages of one cell, and what the witness says to it without a recogniser."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Mark, Rule, Word
from torquary_ingest.witness import Claim, Witness
from torquary_ingest.witness import Testimony as Answer
from torquary_schema.values import Box

PAGE = (300.0, 200.0)
LEFT, BASE, SIZE = 60.0, 100.0, 9.0
CELL = Box(x0=50, top=85, x1=130, bottom=107)

Draw = Callable[[Canvas], None]


def word(text: str, x: float = LEFT, *, font: str = "Helvetica", marks: tuple[Mark, ...] = ()) -> Word:
    width = pdfmetrics.stringWidth(text, font, SIZE)
    top = PAGE[1] - BASE - 0.8 * SIZE
    box = Box(x0=x, top=top, x1=x + width, bottom=top + SIZE)
    return Word(text=text, box=box, size=SIZE, baseline=PAGE[1] - BASE, marks=marks)


def write(canvas: Canvas, text: str, x: float = LEFT, *, font: str = "Helvetica") -> None:
    canvas.setFont(font, SIZE)
    canvas.drawString(x, BASE, text)


def ask(folder: Path, draw: Draw, *words: Word, rules: tuple[Rule, ...] = ()) -> Answer:
    path = folder / "sheet.pdf"
    canvas = Canvas(str(path), pagesize=PAGE)
    draw(canvas)
    canvas.save()
    claim = Claim(box=CELL, words=words, text=" ".join(each.text for each in words))
    with Witness.open(path, recogniser=False) as witness:
        (answer,) = witness.check(1, [claim], rules)
    return answer


def codes(answer: Answer) -> set[str]:
    return {doubt.code for doubt in answer.doubts}
