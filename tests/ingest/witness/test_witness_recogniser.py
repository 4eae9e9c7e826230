"""The recogniser decides what shapes cannot tell; it is asked once for each glyph of a font."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Word
from torquary_ingest.witness import Claim, Witness
from torquary_schema.values import Box

PAGE = (300.0, 400.0)


class Scripted:
    """A recogniser that answers from a list and counts what it was asked."""

    def __init__(self, *answers: str) -> None:
        self.answers = list(answers)
        self.asked = 0

    def read(self, lines: Sequence[Any]) -> list[str]:
        self.asked += len(lines)
        return [self.answers[min(at, len(self.answers) - 1)] for at in range(len(lines))]


def claim_at(text: str, y: float, size: float = 10) -> Claim:
    width = pdfmetrics.stringWidth(text, "ZapfDingbats", size)
    top = PAGE[1] - y - 0.85 * size
    box = Box(x0=50, top=top, x1=50 + width, bottom=top + 1.1 * size)
    cell = Box(x0=40, top=top - 5, x1=120, bottom=top + size + 8)
    return Claim(box=cell, words=(Word(text=text, box=box, size=size),), text=text)


@pytest.fixture
def odd_sheet(tmp_path: Path) -> Path:
    """Three cells whose circled figures no common face has."""
    path = tmp_path / "odd.pdf"
    canvas = Canvas(str(path), pagesize=PAGE)
    for y in (300, 260, 220):
        canvas.setFont("ZapfDingbats", 10)
        canvas.drawString(50, y, "\u2780\u2784")
    canvas.save()
    return path


def check(path: Path, recogniser: Any) -> tuple[Any, ...]:
    claims = [claim_at("\u2780\u2784", y) for y in (300, 260, 220)]
    with Witness(pypdfium2.PdfDocument(str(path)), recogniser) as witness:
        return witness.check(1, claims)


def test_agreement_of_the_recogniser_proves_the_glyphs_for_the_cells_that_follow(odd_sheet: Path) -> None:
    recogniser = Scripted("\u2780\u2784")
    answers = check(odd_sheet, recogniser)
    assert [answer.agrees for answer in answers] == [True, True, True]
    assert [answer.means for answer in answers] == ["recogniser", "proved glyph", "proved glyph"]
    assert recogniser.asked == 1


def test_disagreement_gives_both_readings(odd_sheet: Path) -> None:
    answers = check(odd_sheet, Scripted("47"))
    assert [answer.agrees for answer in answers] == [False, False, False]
    assert answers[0].seen == "47"
    assert answers[0].doubts[0].code == "text_differs_from_picture"
    assert "\u2780\u2784" in answers[0].doubts[0].message
    assert "47" in answers[0].doubts[0].message


def test_without_a_recogniser_such_cells_are_not_witnessed(odd_sheet: Path) -> None:
    answers = check(odd_sheet, None)
    assert {answer.agrees for answer in answers} == {None}
    assert {answer.doubts[0].code for answer in answers} == {"not_witnessed"}


def test_a_recogniser_that_answers_nothing_leaves_the_cells_open(odd_sheet: Path) -> None:
    class Silent:
        def read(self, lines: Sequence[Any]) -> list[str]:
            return []

    assert {answer.agrees for answer in check(odd_sheet, Silent())} == {None}


def test_the_installed_recogniser_reads_a_plain_line(tmp_path: Path) -> None:
    pytest.importorskip("rapidocr")
    from torquary_ingest.witness.recogniser import load_recogniser

    path = tmp_path / "line.pdf"
    canvas = Canvas(str(path), pagesize=PAGE)
    canvas.setFont("Times-Italic", 10)
    canvas.drawString(50, 300, "2.5 N·m")
    canvas.save()
    recogniser = load_recogniser()
    assert recogniser is not None
    page = pypdfium2.PdfDocument(str(path))[0]
    picture = page.render(scale=4, grayscale=True, crop=(45, 296, 210, 89)).to_numpy()
    (text,) = recogniser.read([picture.reshape(picture.shape[:2])])
    assert text.replace(" ", "").startswith("2.5N")
