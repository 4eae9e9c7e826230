"""Pieces that pages are laid out from: boxes to tick, the pattern of a setting, the drawing of a
board.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.colors import Color, black, white
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from torquary_catalogue.board.paper.faces import BOLD, FACE, plain, register_faces

_TICK = 4.2 * mm
_INK = Color(0.45, 0.45, 0.45)
MOST_WAYS, _LEAST_WAYS = 8, 4
"""Ways side by side at most; fewer are drawn as wide as if there were so many at least."""
MOST_LINES = 24
"""Terminals of a way that are drawn in one box; more go on in a further one."""
PATTERNS = 8
"""Patterns that settings are told apart by, beside their number; the ninth setting has the first
again.
"""


class Tick(Flowable):
    """A box to tick, ticked or not."""

    def __init__(self, *, ticked: bool = False) -> None:
        super().__init__()
        self.width = self.height = _TICK
        self._ticked = ticked

    def draw(self) -> None:
        """Draw it."""
        canvas: Canvas = self.canv
        canvas.setLineWidth(1)
        canvas.rect(0, 0, _TICK, _TICK)
        if self._ticked:
            canvas.setLineWidth(1.6)
            canvas.lines([(0, 0, _TICK, _TICK), (0, _TICK, _TICK, 0)])


class Swatch(Flowable):
    """The sign of a setting: its number on its pattern."""

    def __init__(self, number: int, side: float = 12 * mm) -> None:
        super().__init__()
        self.width = self.height = side
        self._number = number

    def draw(self) -> None:
        """Draw it."""
        draw_sign(self.canv, self._number, (0, 0, self.width, self.height), size=self.height * 0.55)


def draw_sign(
    canvas: Canvas, number: int, box: tuple[float, float, float, float], size: float
) -> None:
    """Draw the pattern of a setting into a box (left, bottom, width, height), its number on white
    in the middle.
    """
    register_faces()
    left, bottom, width, height = box
    canvas.saveState()
    canvas.setLineWidth(0.8)
    canvas.rect(left, bottom, width, height)
    draw_pattern(canvas, number, box)
    text = str(number)
    wide = stringWidth(text, BOLD, size)
    canvas.setFillColor(white)
    pad, tall = size * 0.12, size * 0.9
    white_left, white_bottom = left + (width - wide) / 2 - pad, bottom + (height - tall) / 2
    canvas.rect(white_left, white_bottom, wide + 2 * pad, tall, stroke=0, fill=1)
    canvas.setFillColor(black)
    canvas.setFont(BOLD, size)
    canvas.drawCentredString(left + width / 2, bottom + height / 2 - size * 0.36, text)
    canvas.restoreState()


def draw_pattern(canvas: Canvas, number: int, box: tuple[float, float, float, float]) -> None:
    """Fill a box with the pattern of a setting: plain, strokes in four directions, grids, dots."""
    left, bottom, width, height = box
    kind = (number - 1) % PATTERNS
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(left, bottom, width, height)
    canvas.clipPath(path, stroke=0)
    canvas.setStrokeColor(_INK)
    canvas.setFillColor(_INK)
    canvas.setLineWidth(0.6)
    step = 3.0
    reach = int((width + height) / step) + 1
    rising, falling, level, upright, dotted = (
        kind in (1, 5),
        kind in (2, 5),
        kind in (3, 6),
        kind in (4, 6),
        kind == 7,
    )
    for at in range(reach):
        along = at * step
        if rising:
            canvas.line(left + along - height, bottom, left + along, bottom + height)
        if falling:
            canvas.line(left + along - height, bottom + height, left + along, bottom)
        if level:
            canvas.line(left, bottom + along, left + width, bottom + along)
        if upright:
            canvas.line(left + along, bottom, left + along, bottom + height)
        if dotted:
            for across in range(int(height / step) + 1):
                canvas.circle(left + along, bottom + across * step, 0.5, stroke=0, fill=1)
    canvas.restoreState()


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What sits in one way: its name, and its terminals, each with the number of its setting (None:
    not planned).
    """

    name: str
    terminals: Sequence[tuple[str, int | None]]


class BoardDrawing(Flowable):
    """Some ways of a row of a board, from the left, side by side; `name` stands over them, "" for
    none.
    """

    _LINE, _HEAD, _PAD = 5.0 * mm, 5.2 * mm, 1.2 * mm

    def __init__(self, name: str, ways: Sequence[Way], width: float) -> None:
        super().__init__()
        self._name, self._ways = name, ways
        self.width = width
        self._tall = self._HEAD + self._LINE * max(len(way.terminals) for way in ways) + self._PAD
        self.height = self._tall + (self._HEAD if name else 0)

    def draw(self) -> None:
        """Draw it."""
        canvas: Canvas = self.canv
        canvas.setFont(BOLD, 9)
        canvas.drawString(0, self._tall + 1.5 * mm, plain(self._name))
        wide = self.width / min(MOST_WAYS, max(len(self._ways), _LEAST_WAYS))
        for at, way in enumerate(self._ways):
            self._draw_way(way, (at * wide, self._PAD, wide, self._tall - self._PAD))

    def _draw_way(self, way: Way, box: tuple[float, float, float, float]) -> None:
        canvas: Canvas = self.canv
        left, bottom, width, height = box
        canvas.setLineWidth(0.8)
        canvas.rect(left, bottom, width - self._PAD, height)
        top = bottom + height - self._HEAD
        self._write(way.name, BOLD, 8, left + self._PAD, top + 1.4 * mm, width - 3 * self._PAD)
        for text, number in way.terminals:
            top -= self._LINE
            sign = (left + self._PAD, top + 0.6 * mm, 6.2 * mm, self._LINE - 0.6 * mm)
            if number is None:
                canvas.line(sign[0], sign[1] + 1.6 * mm, sign[0] + sign[2], sign[1] + 1.6 * mm)
            else:
                draw_sign(canvas, number, sign, size=8)
            room = width - sign[2] - 4 * self._PAD
            self._write(text, FACE, 8, sign[0] + sign[2] + self._PAD, top + 1.8 * mm, room)

    def _write(
        self, text: str, face: str, size: float, left: float, base: float, room: float
    ) -> None:
        """Write a text in a room, smaller where it needs to be; what does not fit is cut with a
        sign that it is.
        """
        shown = plain(text)
        while size > 5 and stringWidth(shown, face, size) > room:
            size -= 0.5
        if stringWidth(shown, face, size) > room:
            while shown and stringWidth(f"{shown}…", face, size) > room:
                shown = shown[:-1]
            shown += "…"
        self.canv.setFont(face, size)
        self.canv.drawString(left, base, shown)


def count_alike(terminals: Sequence[tuple[str, int | None]]) -> list[tuple[str, int | None]]:
    """Put screws alike that have one setting into one line: "earth × 4"."""
    counted: dict[tuple[str, int | None], int] = {}
    for one in terminals:
        counted[one] = counted.get(one, 0) + 1
    return [
        (f"{text} × {count}" if count > 1 else text, number)
        for (text, number), count in counted.items()
    ]
