"""Honest cells in faces that look odd: marks inside a figure, slanting neighbours, strokes thinner than a pixel."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from drawn_cells import BASE, CELL, LEFT, PAGE, SIZE, ask, codes, word, write
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Word
from torquary_ingest.witness import Claim, Witness
from torquary_ingest.witness.faces import judge_shape
from torquary_ingest.witness.scene import read_shape
from torquary_ingest.witness.view import PageView
from torquary_schema.values import Box

ZERO = pdfmetrics.stringWidth("2.", "Helvetica", SIZE) + LEFT
"""Left end of the zero of "2.0"; its outline is 0.5 em wide and 0.7 em high."""


@pytest.mark.parametrize("wide", [0.1, 0.06])
@pytest.mark.parametrize("high", [0.1, 0.2])
def test_the_dot_or_bar_in_the_middle_of_a_zero_is_part_of_it(tmp_path: Path, wide: float, high: float) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2.0")
        x, y = ZERO + 0.278 * SIZE, BASE + 0.345 * SIZE
        canvas.rect(x - wide / 2 * SIZE, y - high / 2 * SIZE, wide * SIZE, high * SIZE, stroke=0, fill=1)

    answer = ask(tmp_path, draw, word("2.0"))
    assert "ink_without_text" not in codes(answer)


@pytest.mark.parametrize("figure", ["6", "9"])
def test_a_dot_in_the_bowl_of_another_figure_is_ink_without_text(tmp_path: Path, figure: str) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, figure)
        canvas.circle(
            LEFT + 0.278 * SIZE, BASE + (0.5 if figure != "6" else 0.22) * SIZE, 0.06 * SIZE, stroke=0, fill=1
        )

    assert ask(tmp_path, draw, word(figure)).agrees is not True


@pytest.mark.parametrize(("x", "y"), [(0.02, 0.04), (0.56, 0.04)])
def test_a_dot_in_the_corner_of_a_zero_is_ink_without_text(tmp_path: Path, x: float, y: float) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2.0")
        canvas.circle(ZERO + x * SIZE, BASE + y * SIZE, 0.05 * SIZE, stroke=0, fill=1)

    assert codes(ask(tmp_path, draw, word("2.0"))) == {"ink_without_text"}


def set_tightly(canvas: Canvas, size: float) -> list[Word]:
    """Write "7.0", slanted, the point beneath the arm of the 7, as many slanted faces have it."""
    canvas.setFont("Helvetica-Oblique", size)
    x, words = LEFT, []
    for char, step in (("7", 0.40), (".", 0.22), ("0", 0.56)):
        canvas.drawString(x, BASE, char)
        box = Box(x0=x, top=200 - BASE - 0.8 * size, x1=x + step * size, bottom=200 - BASE + 0.2 * size)
        words.append(Word(text=char, box=box, size=size))
        x += step * size
    return words


@pytest.mark.parametrize("size", [5.0, 6.0, 7.0, 8.0, 9.0, 11.0])
def test_a_point_beneath_a_slanting_figure_is_the_claimed_one(tmp_path: Path, size: float) -> None:
    path = tmp_path / "sheet.pdf"
    canvas = Canvas(str(path), pagesize=(300, 200))
    first, *others = set_tightly(canvas, size)
    canvas.save()
    box = first.box.union(others[-1].box)
    claim = Claim(box=box, words=(Word(text="7.0", box=box, size=size),), text="7.0")
    with Witness.open(path, recogniser=False) as witness:
        (answer,) = witness.check(1, [claim])
    assert answer.agrees is True


@pytest.mark.parametrize("size", [5.0, 5.5, 6.0])
def test_small_bold_figures_set_close_do_not_run_into_one_another(tmp_path: Path, size: float) -> None:
    path = tmp_path / "sheet.pdf"
    claims = []
    canvas = Canvas(str(path), pagesize=(300, 400))
    for row in range(12):
        canvas.setFont("Helvetica-Bold", size)
        x, y = 60 + row / 12, 350 - 20 * row
        line = canvas.beginText(x, y)
        line.setCharSpace(-0.03 * size)
        line.textOut("3.5-3.7")
        canvas.drawText(line)
        width = pdfmetrics.stringWidth("3.5-3.7", "Helvetica-Bold", size)
        box = Box(x0=x, top=400 - y - 0.8 * size, x1=x + width, bottom=400 - y + 0.2 * size)
        claims.append(Claim(box=box, words=(Word(text="3.5-3.7", box=box, size=size),), text="3.5-3.7"))
    canvas.save()
    with Witness.open(path, recogniser=False) as witness:
        assert [answer.agrees for answer in witness.check(1, claims)] == [True] * len(claims)


@pytest.mark.parametrize("text", ["2~14", "1.3…1.5", "2,5 à 50", "eindrähtig", "até"])
def test_range_signs_and_letters_of_words_are_proved_by_shape(tmp_path: Path, text: str) -> None:
    words = [word(part, LEFT + 40 * at) for at, part in enumerate(text.split())]
    answer = ask(tmp_path, lambda canvas: [write(canvas, w.text, w.box.x0) for w in words] and None, *words)
    assert (answer.agrees, answer.means) == (True, "proved glyph")


@pytest.mark.parametrize("said", ["~", "…", "à"])
@pytest.mark.parametrize("shown", ["1", "2", "8", ".", "a", "o"])
def test_another_glyph_proves_no_sign_of_a_range(tmp_path: Path, shown: str, said: str) -> None:
    canvas = Canvas(str(tmp_path / "sheet.pdf"), pagesize=PAGE)
    write(canvas, shown)
    canvas.save()
    with pypdfium2.PdfDocument(tmp_path / "sheet.pdf") as document:
        view = PageView(document[0])
        (glyph,) = view.glyphs(CELL)
        shape = read_shape(view.picture(CELL), glyph)
        view.close()
    assert shape is not None
    assert judge_shape(shape, shown)[0] is True
    assert judge_shape(shape, said)[0] is not True
