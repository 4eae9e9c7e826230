"""Draws tables: cells with spans, in one of several looks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from drawing.page import Paper

Look = Literal["ruled", "horizontal", "borderless", "zebra"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One printed cell: `across` and `down` are its spans, `mark` a raised note mark behind its text."""

    text: str
    across: int = 1
    down: int = 1
    bold: bool = False
    align: Literal["left", "centre", "right"] = "left"
    mark: str = ""


def head(text: str, across: int = 1, down: int = 1, align: Literal["left", "centre", "right"] = "left") -> Box:
    """Return a heading cell."""
    return Box(text=text, across=across, down=down, bold=True, align=align)


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a table looks. Lengths in points; `ground` is the grey of the heading (1 is white)."""

    look: Look = "ruled"
    size: float = 9
    heading_rows: int = 1
    padding: float = 4
    ground: float = 0.9
    rule: float = 0.5


def draw_grid(
    paper: Paper, left: float, top: float, widths: Sequence[float], rows: Sequence[Sequence[Box | str]], style: Style
) -> float:
    """Draw the table with its top left corner at (left, top) from the page's top; return its bottom."""
    placed = _place(rows, len(widths))
    heights = _heights(placed, len(rows), style)
    tops = [top + sum(heights[:row]) for row in range(len(rows) + 1)]
    lefts = [left + sum(widths[:column]) for column in range(len(widths) + 1)]
    _draw_grounds(paper, lefts, tops, style)
    for row, column, box in placed:
        x0, x1 = lefts[column], lefts[column + box.across]
        y0, y1 = tops[row], tops[row + box.down]
        if style.look == "ruled":
            paper.frame(x0, y0, x1, y1, style.rule)
        _draw_text(paper, box, (x0, y0, x1, y1), style)
    _draw_rules(paper, lefts, tops, style)
    return tops[-1]


def _place(rows: Sequence[Sequence[Box | str]], columns: int) -> list[tuple[int, int, Box]]:
    """Give every cell its row and column, leaving out what a span above or before it covers."""
    taken: set[tuple[int, int]] = set()
    placed: list[tuple[int, int, Box]] = []
    for row, cells in enumerate(rows):
        column = 0
        for cell in cells:
            box = Box(text=cell) if isinstance(cell, str) else cell
            while (row, column) in taken:
                column += 1
            if column + box.across > columns:
                raise ValueError(f"row {row} is wider than the table: {box.text!r}")
            placed.append((row, column, box))
            taken.update((row + d, column + a) for d in range(box.down) for a in range(box.across))
            column += box.across
    return placed


def _heights(placed: list[tuple[int, int, Box]], count: int, style: Style) -> list[float]:
    heights = [style.size * 1.25 + 2 * style.padding] * count
    for row, _, box in placed:
        if box.down == 1:
            lines = box.text.count("\n") + 1
            heights[row] = max(heights[row], lines * style.size * 1.25 + 2 * style.padding)
    return heights


def _draw_text(paper: Paper, box: Box, edges: tuple[float, float, float, float], style: Style) -> None:
    x0, y0, x1, y1 = edges
    lines = box.text.split("\n")
    leading = style.size * 1.25
    baseline = (y0 + y1) / 2 - leading * len(lines) / 2 + style.size * 0.95
    for line in lines:
        width = paper.width(line, style.size, bold=box.bold)
        x = x0 + style.padding
        if box.align == "centre":
            x = (x0 + x1 - width) / 2
        elif box.align == "right":
            x = x1 - style.padding - width
        paper.text(x, baseline, line, style.size, bold=box.bold)
        if box.mark and line == lines[-1]:
            paper.text(x + width + 0.6, baseline - style.size * 0.35, box.mark, style.size * 0.62, bold=box.bold)
        baseline += leading


def _draw_grounds(paper: Paper, lefts: list[float], tops: list[float], style: Style) -> None:
    if style.look in {"ruled", "zebra"} and style.heading_rows and style.ground < 1:
        paper.fill(lefts[0], tops[0], lefts[-1], tops[style.heading_rows], style.ground)
    if style.look == "zebra":
        for row in range(style.heading_rows + 1, len(tops) - 1, 2):
            paper.fill(lefts[0], tops[row], lefts[-1], tops[row + 1], 0.95)


def _draw_rules(paper: Paper, lefts: list[float], tops: list[float], style: Style) -> None:
    if style.look != "horizontal":
        return
    for row, y in enumerate(tops):
        heavy = row in (0, style.heading_rows, len(tops) - 1)
        if heavy or row > style.heading_rows:
            paper.line(lefts[0], y, lefts[-1], y, 1.0 if heavy else 0.35)
