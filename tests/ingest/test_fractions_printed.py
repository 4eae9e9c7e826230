"""Fractions as they are set on paper: over a drawn bar, with a slash of their own, and what only looks like one."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent))
from drawn_sheets import Write, draw, released, settle
from mapped_font import register

HEADS = ("Terminal", "AWG", "Torque lb-in")
VERA = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
pdfmetrics.registerFont(TTFont("Vera", str(VERA)))


def stacked(whole: str, upper: str, lower: str, *, bar: bool = True, rectangle: bool = False) -> Write:
    """Write a number and a fraction behind it, one small figure over the other."""

    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.drawString(x, y, whole)
        x += canvas.stringWidth(whole, canvas._fontname, 9) + 0.8
        canvas.setFont(canvas._fontname, 5.5)
        wide = max(canvas.stringWidth(part, canvas._fontname, 5.5) for part in (upper, lower))
        canvas.drawCentredString(x + wide / 2, y + 4.2, upper)
        canvas.drawCentredString(x + wide / 2, y - 1.6, lower)
        if rectangle:
            canvas.rect(x - 0.4, y + 3.1, wide + 0.8, 0.5, stroke=0, fill=1)
        elif bar:
            canvas.setLineWidth(0.5)
            canvas.line(x - 0.5, y + 3.4, x + wide + 0.5, y + 3.4)

    return write


@pytest.mark.parametrize("font", ["Helvetica", "Times-Roman", "Vera"])
@pytest.mark.parametrize("rectangle", [False, True])
def test_a_fraction_over_a_drawn_bar_is_read(tmp_path: Path, font: str, rectangle: bool) -> None:
    path = tmp_path / "stacked.pdf"
    halves, parts = stacked("17", "1", "2", rectangle=rectangle), stacked("12", "3", "16", rectangle=rectangle)
    draw(path, [HEADS, ("N", "8", halves), ("A1", "10", parts), ("PE", "14", "9")], font=font).save()
    assert set(released(path)) == {"N", "A1", "PE"}
    printed = {label: setting.torque.printed for label, setting in settle(path).items()}
    assert printed == {"N": "17 1/2", "A1": "12 3/16", "PE": "9"}


@pytest.mark.parametrize(
    "odd", [stacked("17", "1", "2", bar=False), stacked("17", "4", "3"), stacked("17", "1", "9"), stacked("", "1", "2")]
)
def test_small_figures_that_are_no_sure_fraction_are_held(tmp_path: Path, odd: Write) -> None:
    path = tmp_path / "odd.pdf"
    draw(path, [HEADS, ("N", "8", odd), ("PE", "14", "9")]).save()
    assert set(released(path)) == {"PE"}


def test_a_fraction_with_its_own_slash_is_proved_by_its_shapes(tmp_path: Path) -> None:
    own_slash = register(VERA, {"/": "\u2044"})

    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.drawString(x, y, "5")
        for text, size, right, up in (("3", 5.5, 6.3, 3.0), ("/", 9.0, 9.6, 0.0), ("8", 5.5, 12.6, -0.5)):
            canvas.setFont(own_slash, size)
            canvas.drawString(x + right, y + up, text)

    path = tmp_path / "slash.pdf"
    draw(path, [HEADS, ("N", "8", write), ("PE", "14", "9")], font="Vera").save()
    assert set(released(path)) == {"N", "PE"}
    assert settle(path)["N"].torque.printed == "5 3/8"
