"""Which strokes and thin areas of a page are rules: the last that are, the first that are not. Lengths in points."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Rule
from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.plugins import OpenWish

Drawn = Callable[[Callable[[Canvas], object]], list[Rule]]


@pytest.fixture
def rules(tmp_path: Path) -> Drawn:
    """Draws a page and gives its rules."""

    def draw(drawing: Callable[[Canvas], object]) -> list[Rule]:
        stream = io.BytesIO()
        canvas = Canvas(stream, pagesize=(595, 842), invariant=True)
        canvas.drawString(50, 780, "Main switch QS 63")
        drawing(canvas)
        canvas.showPage()
        canvas.save()
        (tmp_path / "drawn.pdf").write_bytes(stream.getvalue())
        return list(PdfOpener().open(tmp_path / "drawn.pdf", OpenWish(every_page=True)).pages[0].rules)

    return draw


@pytest.mark.parametrize(("thick", "count"), [(2.4, 1), (2.6, 0)])
def test_a_filled_strip_is_a_rule_while_it_is_thin(rules: Drawn, thick: float, count: int) -> None:
    assert len(rules(lambda canvas: canvas.rect(100, 600, 200, thick, stroke=0, fill=1))) == count


@pytest.mark.parametrize(("length", "count"), [(4.2, 1), (3.8, 0)])
def test_a_stroke_shorter_than_a_letter_is_ink_and_no_rule(rules: Drawn, length: float, count: int) -> None:
    assert len(rules(lambda canvas: canvas.line(100, 600, 100 + length, 600))) == count


@pytest.mark.parametrize(("gap", "count"), [(0.9, 1), (1.1, 2)])
def test_strokes_that_nearly_touch_are_one_rule(rules: Drawn, gap: float, count: int) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.line(100, 600, 200, 600)
        canvas.line(200 + gap, 600, 300, 600)

    assert len(rules(draw)) == count
