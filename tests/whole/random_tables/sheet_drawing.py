"""Draw a plan: a PDF, ruled or not, or a delimited text."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from sheet_plan import Block, Column, Plan, Row, Spot

WIDTH, HEIGHT, LEFT, TOP = 595, 842, 50, 740
# By /Rotate: what stands upright for the reader of a turned page (ISO 32000-1, 7.7.3.3: clockwise, in degrees).
TURNS = {90: (0, 1, -1, 0, HEIGHT, 0), 180: (-1, 0, 0, -1, WIDTH, HEIGHT), 270: (0, -1, 1, 0, 0, WIDTH)}
LEADING = 1.2
"""Font sizes from one line of a text to the next."""

Line = list[Spot | None]


def grid_of(block: Block) -> list[Line]:
    """The table as rows of spots: a group row where there are groups, headings, body; a band is one spot."""
    lines: list[Line] = []
    heads: Line = [Spot(column.heading) for column in block.columns]
    if any(column.group for column in block.columns) and not block.bare:
        lines.append([_group_spot(block.columns, at, heads) for at in range(len(heads))])
        for at in range(1, len(heads)):
            if block.columns[at].group and block.columns[at].group == block.columns[at - 1].group:
                lines[0][at] = lines[0][at - 1]
    if not block.bare:
        lines.append(heads)
    for line in block.lines:
        if isinstance(line, Row):
            lines.append([line.cells.get(column.key) for column in block.columns])
        else:
            lines.append([Spot(line)] * len(heads))
    return lines


def _group_spot(columns: Sequence[Column], at: int, heads: Line) -> Spot | None:
    """The cell over a column: its group, or its own heading, which then spans both rows."""
    return Spot(columns[at].group) if columns[at].group else heads[at]


def write_text(path: Path, plan: Plan) -> None:
    """Write the tables as delimited text; a spanning cell stands in its first place alone."""
    delimiter = plan.dice.choice(";\t")
    out: list[str] = []
    for block in plan.blocks:
        out += [*block.above]
        seen: list[Spot] = []
        for line in grid_of(block):
            texts = []
            for spot in line:
                first = spot is not None and not any(spot is other for other in seen)
                texts.append(f"{spot.text} {spot.mark}".strip() if spot is not None and first else "")
                seen += [spot] if spot is not None else []
            out.append(delimiter.join(texts))
        out += [*block.below, ""]
    path.write_text("\n".join(out) + "\n", encoding=plan.dice.choice(("utf-8", "utf-8-sig")))


def draw(path: Path, plan: Plan) -> None:
    """Draw all pages of the plan."""
    canvas = Canvas(str(path), pagesize=(WIDTH, HEIGHT))
    pages = sorted({block.page for block in plan.blocks} or {0})
    for page in pages:
        if plan.look.rotate:
            canvas.setPageRotation(plan.look.rotate)
            canvas.transform(*TURNS[plan.look.rotate])
        top = float(TOP)
        if page == 0:
            canvas.setFont(plan.font, 14)
            canvas.drawString(60, 790, plan.title)
            for text in plan.free:
                canvas.setFont(plan.font, plan.look.size)
                canvas.drawString(LEFT, top, text)
                top -= 2 * plan.look.size
        for block in (b for b in plan.blocks if b.page == page):
            beside = sum(1 for b in plan.blocks if b.page == page and b.across)
            bottom = _Drawn(canvas, plan, block, top, halved=bool(beside)).draw()
            top = top if beside and not block.across else bottom - 40
        canvas.showPage()
    canvas.save()


class _Drawn:
    """One table on its page."""

    def __init__(self, canvas: Canvas, plan: Plan, block: Block, top: float, *, halved: bool) -> None:
        self.canvas, self.plan, self.block, self.top = canvas, plan, block, top
        lines = grid_of(block)
        self.lines = [list(column) for column in zip(*lines, strict=True)] if plan.layout == "transposed" else lines
        # A table that goes on without headings keeps its columns where they are.
        alike = [b for b in plan.blocks if b is not block and (b.bare or block.bare)]
        self.more = [line for b in alike for line in grid_of(b)]
        full = 495.0 * plan.look.wide
        self.total = 235.0 if halved else full
        self.left = LEFT + (block.across * 260 if halved else 0)
        self.widths = self._widths()
        self.xs = [self.left + sum(self.widths[:c]) for c in range(len(self.widths) + 1)]
        needed = max((self._natural(c) / (w - 9) for c, w in enumerate(self.widths)), default=1.0)
        self.size = plan.look.size / max(1.0, needed)
        self.heads = 0 if block.bare else 1 + any(column.group for column in block.columns)
        self.heights = [(plan.look.padding + LEADING * self._lines_in(r)) * self.size for r in range(len(self.lines))]

    def _natural(self, column: int) -> float:
        """The width of the column's widest text at the sheet's size; texts over several columns do not count."""
        wide = [4.0]
        for line in (*self.lines, *self.more):
            spot = line[column]
            if spot is not None and sum(other is spot for other in line) == 1:
                texts = (spot.text + spot.mark).split("\n")
                wide += [stringWidth(text, self.plan.font, self.plan.look.size) for text in texts]
        return max(wide)

    def _lines_in(self, row: int) -> int:
        """The most lines that a text of the row alone is set in."""
        beside = [self.lines[k] for k in (row - 1, row + 1) if 0 <= k < len(self.lines)]
        own = [s for c, s in enumerate(self.lines[row]) if s is not None and not any(b[c] is s for b in beside)]
        return max((spot.text.count("\n") + 1 for spot in own), default=1)

    def _widths(self) -> list[float]:
        natural = [self._natural(c) + 10 for c in range(len(self.lines[0]))]
        return [self.total * w / sum(natural) for w in natural]

    def draw(self) -> float:
        """Draw lines above, cells, rules and notes; return where they end."""
        y = self.top
        self.canvas.setFont(self.plan.font, self.size)
        for text in self.block.above:
            self.canvas.drawString(self.left, y, text)
            y -= 1.6 * self.size
        self.start = y + 0.4 * self.size
        for r, line in enumerate(self.lines):
            for c, spot in enumerate(line):
                if spot is None:
                    self._cell(Spot(""), r, c, 1, 1)
                elif not (r and self.lines[r - 1][c] is spot) and not (c and line[c - 1] is spot):
                    down = self._run(lambda k, s=spot, c=c: self.lines[k][c] is s, r, len(self.lines))
                    over = self._run(lambda k, s=spot, line=line: line[k] is s, c, len(line))
                    self._cell(spot, r, c, down, over)
        y = self.start - sum(self.heights) - 1.4 * self.size
        for text in self.block.below:
            self.canvas.setFont(self.plan.font, self.size)
            self.canvas.drawString(self.left, y, text)
            y -= 1.4 * self.size
        return y

    @staticmethod
    def _run(same: object, first: int, end: int) -> int:
        at = first
        while at < end and same(at):  # type: ignore[operator]
            at += 1
        return at - first

    def _cell(self, spot: Spot, row: int, column: int, down: int, over: int) -> None:
        x0, x1 = self.xs[column], self.xs[column + over]
        top = self.start - sum(self.heights[:row])
        bottom = top - sum(self.heights[row : row + down])
        self._ground(row, down, (x0, bottom, x1, top))
        place, lines = self.plan.look.place, spot.text.split("\n")
        middle = (top + bottom) / 2
        if down > 1 and place != "middle":
            at = 0 if place == "top" else (down - 1) // 2
            middle = top - sum(self.heights[row : row + at]) - self.heights[row + at] / 2
        elif self.plan.look.upper:
            middle = top - (self.plan.look.padding / 2 + LEADING * len(lines) / 2) * self.size
        y = middle + (LEADING * (len(lines) - 1) / 2 - 0.35) * self.size
        for number, text in enumerate(lines):
            self._text(text, spot.mark if number == len(lines) - 1 else "", (x0 + 4, x1 - 4), y, first=column == 0)
            y -= LEADING * self.size

    def _ground(self, row: int, down: int, box: tuple[float, float, float, float]) -> None:
        """Shade and rules of one cell."""
        layout, look = self.plan.layout, self.plan.look
        x0, bottom, x1, top = box
        if look.shaded and down == 1 and row % 2:
            self.canvas.setFillGray(0.9)
            self.canvas.rect(x0, bottom, x1 - x0, top - bottom, stroke=0, fill=1)
            self.canvas.setFillGray(0)
        ends = row + down
        if look.sparse:
            at = [top] if row == 0 else []
            for y in at + ([bottom] if ends in (self.heads, len(self.lines)) else []):
                self.canvas.line(x0, y, x1, y)
        elif layout in ("ruled", "transposed"):
            self.canvas.rect(x0, bottom, x1 - x0, top - bottom)
        elif layout == "lines":
            self.canvas.line(x0, bottom, x1, bottom)
            if row == 0:
                self.canvas.line(x0, top, x1, top)

    def _text(self, text: str, mark: str, room: tuple[float, float], y: float, *, first: bool) -> None:
        """One line of a cell, with the mark behind it, between the sides of its room."""
        side = "left" if first else self.plan.look.side
        font, size = self.plan.font, self.size
        wide = stringWidth(text, font, size) + stringWidth(mark, font, 0.6 * size)
        spare = max(0.0, room[1] - room[0] - wide)
        x = room[0] + {"left": 0.0, "middle": spare / 2, "right": spare}[side]
        self.canvas.setFont(font, size)
        self.canvas.drawString(x, y, text)
        if mark:
            self.canvas.setFont(font, 0.6 * size)
            self.canvas.drawString(x + stringWidth(text, font, size), y + 0.4 * size, mark)
            self.canvas.setFont(font, size)
