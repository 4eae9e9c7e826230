"""Small line drawings of devices, as datasheets have them beside their first lines."""

from __future__ import annotations

from drawing.page import Paper


def draw_breaker(paper: Paper, left: float, top: float, poles: int = 2) -> None:
    """Draw the front of a breaker: modules with a screw above and below and a toggle."""
    for pole in range(poles):
        x0 = left + pole * 26
        paper.frame(x0, top, x0 + 24, top + 110, 0.7)
        for y in (top + 12, top + 98):
            paper.circle(x0 + 12, y, 6)
            paper.line(x0 + 8, y + 3.5, x0 + 16, y - 3.5, 0.8, 0.25)
        paper.frame(x0 + 6, top + 42, x0 + 18, top + 68, 0.7)
        paper.fill(x0 + 8, top + 44, x0 + 16, top + 55, 0.55)


def draw_bar(paper: Paper, left: float, top: float, ways: int = 9) -> None:
    """Draw a terminal bar seen from above: a row of screw heads."""
    paper.frame(left, top, left + ways * 15 + 10, top + 18, 0.7)
    for way in range(ways):
        x = left + 12 + way * 15
        paper.circle(x, top + 9, 5)
        paper.line(x - 3, top + 9, x + 3, top + 9, 0.8, 0.25)
