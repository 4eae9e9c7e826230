"""A sheet of paper to draw on: lengths in points from the top left, text in runs of the right font."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.cidfonts import UnicodeCIDFont
from reportlab.pdfgen.canvas import Canvas

A4 = (595.28, 841.89)
LETTER = (612.0, 792.0)

#: Family name → (regular, bold) of the fonts every PDF reader has.
FAMILIES = {
    "sans": ("Helvetica", "Helvetica-Bold"),
    "serif": ("Times-Roman", "Times-Bold"),
}

#: A font for Japanese that a reader supplies itself; nothing is embedded.
JAPANESE = "HeiseiKakuGo-W5"


@dataclass(frozen=True, slots=True, kw_only=True)
class Imprint:
    """What every page of a sheet carries: maker, what it is, number and edition, foot line."""

    maker: str
    what: str
    number: str
    edition: str
    foot: str = ""


class Paper:
    """A PDF in the making. The same drawing gives the same bytes (no dates, no compression)."""

    def __init__(self, path: Path, imprint: Imprint, *, size: tuple[float, float] = A4, family: str = "sans") -> None:
        self.imprint = imprint
        self.page_width, self.page_height = size
        self.regular, self.bold = FAMILIES[family]
        self.page = 0
        self._canvas = Canvas(str(path), pagesize=size, invariant=1, pageCompression=0)
        self._canvas.setTitle(f"{imprint.what} {imprint.number}")
        self._canvas.setAuthor(imprint.maker)

    def text(self, x: float, y: float, text: str, size: float, *, bold: bool = False, grey: float = 0.0) -> None:
        """Draw one line with its baseline at y."""
        self._canvas.setFillGray(grey)
        for run, japanese in runs(text):
            font = self._font(japanese=japanese, bold=bold)
            self._canvas.setFont(font, size)
            self._canvas.drawString(x, self.page_height - y, run)
            x += pdfmetrics.stringWidth(run, font, size)

    def width(self, text: str, size: float, *, bold: bool = False) -> float:
        """Return the width of a line in points."""
        return float(
            sum(
                pdfmetrics.stringWidth(run, self._font(japanese=japanese, bold=bold), size)
                for run, japanese in runs(text)
            )
        )

    def paragraph(self, x: float, y: float, lines: list[str], size: float = 9.5) -> float:
        """Draw lines under one another, the first baseline at y; return the y behind the last."""
        for line in lines:
            self.text(x, y, line, size)
            y += size * 1.4
        return y

    def line(self, x0: float, y0: float, x1: float, y1: float, thickness: float, grey: float = 0.0) -> None:
        """Draw a straight line."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(thickness)
        self._canvas.line(x0, self.page_height - y0, x1, self.page_height - y1)

    def frame(self, x0: float, y0: float, x1: float, y1: float, thickness: float) -> None:
        """Draw the outline of a rectangle."""
        self._canvas.setStrokeGray(0)
        self._canvas.setLineWidth(thickness)
        self._canvas.rect(x0, self.page_height - y1, x1 - x0, y1 - y0, stroke=1, fill=0)

    def fill(self, x0: float, y0: float, x1: float, y1: float, grey: float) -> None:
        """Fill a rectangle with grey (0 black, 1 white)."""
        self._canvas.setFillGray(grey)
        self._canvas.rect(x0, self.page_height - y1, x1 - x0, y1 - y0, stroke=0, fill=1)

    def circle(self, x: float, y: float, radius: float, thickness: float = 0.6) -> None:
        """Draw the outline of a circle."""
        self._canvas.setStrokeGray(0.25)
        self._canvas.setLineWidth(thickness)
        self._canvas.circle(x, self.page_height - y, radius, stroke=1, fill=0)

    def begin_page(self) -> float:
        """Draw head and foot of the next page; return the y where its matter may begin."""
        if self.page:
            self._canvas.showPage()
        self.page += 1
        mark, edge = self.imprint, self.page_width - 56
        self.fill(56, 40, 68, 52, 0.2)
        self.text(74, 50.5, mark.maker, 12, bold=True)
        self.text(edge - self.width(mark.number, 9), 50.5, mark.number, 9, grey=0.3)
        self.line(56, 58, edge, 58, 0.8)
        foot = self.page_height - 40
        self.line(56, foot - 12, edge, foot - 12, 0.4)
        self.text(56, foot, f"{mark.edition}    {mark.foot}".rstrip(), 7.5, grey=0.3)
        self.text(edge - self.width(str(self.page), 7.5), foot, str(self.page), 7.5, grey=0.3)
        if self.page > 1:
            return 84.0
        self.text(56, 92, mark.what, 17, bold=True)
        return 118.0

    def close(self) -> None:
        """Write the file."""
        self._canvas.showPage()
        self._canvas.save()

    def _font(self, *, japanese: bool, bold: bool) -> str:
        if japanese:
            if JAPANESE not in pdfmetrics.getRegisteredFontNames():
                pdfmetrics.registerFont(UnicodeCIDFont(JAPANESE))
            return JAPANESE
        return self.bold if bold else self.regular


def runs(text: str) -> list[tuple[str, bool]]:
    """Part a line into runs of Japanese characters and others."""
    found: list[tuple[str, bool]] = []
    for character in text:
        japanese = ord(character) >= 0x3000
        if found and found[-1][1] == japanese:
            found[-1] = (found[-1][0] + character, japanese)
        else:
            found.append((character, japanese))
    return found
