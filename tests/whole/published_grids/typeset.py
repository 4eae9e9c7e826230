"""Published torque grids as datasheets: the US fall-back tables and the thread grid of IEC 60730-1.

The values are those of `tests/facts`, each row of which names its source and whether it was seen in print.
Each grid is typeset in three layouts; the caller gets back what stands in every cell.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

FACTS = Path(__file__).parents[2] / "facts"
PAGE = (595.28, 841.89)
SIZE, LEADING, LEFT, TOP, BOTTOM = 8.5, 15.0, 50.0, 120.0, 780.0

#: 1 lbf·in in N·m, exact: 0.45359237 kg x 9.80665 m/s² x 0.0254 m.
POUND_INCH = Decimal("0.45359237") * Decimal("9.80665") * Decimal("0.0254")


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """One published figure: the terminal and conductor it is for, in N·m and (US) lbf·in as printed."""

    terminal: str
    conductor: str
    newton_metres: str
    pound_inches: str
    source: str
    seen: str

    def torque(self, unit: str) -> str:
        """Return the figure as printed in the unit."""
        return self.newton_metres if unit == "N·m" else self.pound_inches

    def value(self, unit: str) -> Decimal:
        """Return the figure in N·m, converted from the unit it is typeset in."""
        return Decimal(self.newton_metres) if unit == "N·m" else Decimal(self.pound_inches) * POUND_INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A published table as a list of figures."""

    name: str
    title: str
    cells: tuple[Published, ...]

    @property
    def units(self) -> tuple[str, ...]:
        """Units the table is published in."""
        return ("lb·in", "N·m") if self.cells[0].pound_inches else ("N·m",)


def _rows(name: str) -> list[dict[str, str]]:
    with (FACTS / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


#: Short terminal names for the columns of NEC Annex I, Table I.1.
_I1_COLUMNS = {
    "slot width <=1.2 mm": "Slotted screw, small",
    "slot width >1.2 mm": "Slotted screw, large",
    "hex head external drive - split-bolt": "Split-bolt connector",
    "hex head external drive - other": "Other hex connector",
}


def _i1_terminal(column: str) -> str:
    return next(name for start, name in _I1_COLUMNS.items() if column.startswith(start))


def _i1_conductor(size: str) -> str:
    thick = all(len(part) > 2 and "/" not in part for part in size.split("-"))
    return f"{size.replace('-', '–')} {'kcmil' if thick else 'AWG'}"


def _us_cell(row: dict[str, str], terminal: str, conductor: str = "") -> Published:
    return Published(
        terminal=terminal,
        conductor=conductor,
        newton_metres=row["nm_printed"],
        pound_inches=row["lbf_in"],
        source=row["source"],
        seen=row["seen"],
    )


def _limit(mark: str) -> str:
    return mark.replace("<", "under ").replace(">", "over ")


def _i2_terminal(row: dict[str, str]) -> str:
    kind = "narrow" if "<1.2" in row["column"] else "wide"
    return f"Screw with {kind} slot, {_limit(row['slot_length_mm'])} mm long"


def _thread_cell(row: dict[str, str]) -> Published:
    low, high = row["d_over_mm"], row["d_upto_incl_mm"]
    span = f"over {low} to {high} mm" if high else f"over {low} mm"
    return Published(
        terminal=f"Screw, diameter {span}, column {row['column']}",
        conductor="",
        newton_metres=row["torque_nm"],
        pound_inches="",
        source=row["source"],
        seen=row["seen"],
    )


def published_grids() -> tuple[Grid, ...]:
    """Return the four grids."""
    i1, i2, i3 = (_rows(f"us_torque_i{number}.csv") for number in (1, 2, 3))
    thread = _rows("iec_60730_1_torque_by_thread.csv")
    return (
        Grid(
            name="us_i1",
            title="Terminal lugs by conductor size",
            cells=tuple(
                _us_cell(row, _i1_terminal(row["column"]), _i1_conductor(row["conductor_awg_kcmil"])) for row in i1
            ),
        ),
        Grid(
            name="us_i2",
            title="Terminals with small slotted screws",
            cells=tuple(_us_cell(row, _i2_terminal(row)) for row in i2),
        ),
        Grid(
            name="us_i3",
            title="Terminals with socket screws",
            cells=tuple(_us_cell(row, f"Socket screw, {row['across_flats_mm']} mm across flats") for row in i3),
        ),
        Grid(
            name="iec_60730_1",
            title="Terminal screws by thread diameter",
            cells=tuple(_thread_cell(row) for row in thread),
        ),
    )


class Press:
    """A plain PDF with a title; lengths in points from the top left."""

    def __init__(self, path: Path, title: str) -> None:
        self._title = title
        self._canvas = Canvas(str(path), pagesize=PAGE, invariant=1, pageCompression=0)
        self._page = 0
        self.next_page()

    def next_page(self) -> float:
        """Begin a page; return the y where its matter begins."""
        if self._page:
            self._canvas.showPage()
        self._page += 1
        self.text(LEFT, 60, "Vintrobald Terminals", bold=True)
        if self._page == 1:
            self.text(LEFT, 90, self._title, bold=True, size=13)
        return TOP

    def text(self, x: float, y: float, text: str, *, bold: bool = False, size: float = SIZE) -> None:
        """Draw a line with its baseline at y."""
        self._canvas.setFont("Helvetica-Bold" if bold else "Helvetica", size)
        self._canvas.drawString(x, PAGE[1] - y, text)

    def frame(self, x: float, y: float, width: float, height: float) -> None:
        """Draw a cell's outline."""
        self._canvas.setLineWidth(0.5)
        self._canvas.rect(x, PAGE[1] - y - height, width, height)

    def close(self) -> None:
        """Write the file."""
        self._canvas.showPage()
        self._canvas.save()


def _list_rows(grid: Grid, unit: str) -> tuple[list[str], list[list[str]]]:
    with_size = bool(grid.cells[0].conductor)
    heading = ["Terminal", *(["Conductor"] if with_size else []), f"Torque {unit}"]
    rows = [[c.terminal, *([c.conductor] if with_size else []), c.torque(unit)] for c in grid.cells]
    return heading, rows


def _draw_list(path: Path, grid: Grid, unit: str, widths: Sequence[float], *, ruled: bool) -> None:
    heading, rows = _list_rows(grid, unit)
    press = Press(path, grid.title)
    y = TOP
    pending = [heading, *rows]
    while pending:
        line = pending.pop(0)
        x = LEFT
        for text, width in zip(line, widths, strict=False):
            if ruled:
                press.frame(x, y, width, LEADING)
            press.text(x + 4, y + 10.5, text, bold=line is heading)
            x += width
        y += LEADING
        if pending and y > BOTTOM:
            y = press.next_page()
            pending.insert(0, heading)
    press.close()


def draw_ruled(path: Path, grid: Grid, unit: str) -> None:
    """Typeset with every cell outlined; sizes down and terminals across where the grid has both."""
    if not grid.cells[0].conductor:
        _draw_list(path, grid, unit, [240, 90], ruled=True)
        return
    terminals = list(dict.fromkeys(cell.terminal for cell in grid.cells))
    sizes = list(dict.fromkeys(cell.conductor for cell in grid.cells))
    value = {(cell.conductor, cell.terminal): cell.torque(unit) for cell in grid.cells}
    press = Press(path, grid.title)
    first, width = 110.0, 96.0
    press.frame(LEFT, TOP, first, 2 * LEADING)
    press.text(LEFT + 4, TOP + 18, "Conductor", bold=True)
    press.frame(LEFT + first, TOP, width * len(terminals), LEADING)
    press.text(LEFT + first + 150, TOP + 10.5, f"Torque {unit}", bold=True)
    for column, terminal in enumerate(terminals):
        x = LEFT + first + column * width
        press.frame(x, TOP + LEADING, width, LEADING)
        press.text(x + 4, TOP + LEADING + 10.5, terminal, bold=True, size=8)
    for row, size in enumerate(sizes, start=2):
        y = TOP + row * LEADING
        press.frame(LEFT, y, first, LEADING)
        press.text(LEFT + 4, y + 10.5, size)
        for column, terminal in enumerate(terminals):
            x = LEFT + first + column * width
            press.frame(x, y, width, LEADING)
            press.text(x + 40, y + 10.5, value.get((size, terminal), "–"))
    press.close()


def draw_aligned(path: Path, grid: Grid, unit: str) -> None:
    """Typeset as a list without any rule."""
    _draw_list(path, grid, unit, [240, 110, 90] if grid.cells[0].conductor else [260, 90], ruled=False)


def draw_transposed(path: Path, grid: Grid, unit: str) -> None:
    """Typeset with a column for each figure, three to a table, several tables under one another."""
    press = Press(path, grid.title)
    first, width, y = 80.0, 142.0, TOP
    heading, rows = _list_rows(grid, unit)
    for start in range(0, len(rows), 3):
        part = rows[start : start + 3]
        for line, label in enumerate(heading):
            press.frame(LEFT, y, first, LEADING)
            press.text(LEFT + 4, y + 10.5, label, bold=True)
            for column, row in enumerate(part):
                press.frame(LEFT + first + column * width, y, width, LEADING)
                press.text(LEFT + first + column * width + 3, y + 10.5, row[line], size=6.6)
            y += LEADING
        y += LEADING
        if y + 4 * LEADING > BOTTOM:
            y = press.next_page()
    press.close()


LAYOUTS: dict[str, Callable[[Path, Grid, str], None]] = {
    "ruled": draw_ruled,
    "aligned": draw_aligned,
    "transposed": draw_transposed,
}
