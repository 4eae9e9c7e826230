"""Every published cell comes back with its published value, read and asked for, whatever its layout.

Sources: NEC (NFPA 70) informative Annex I, Tables I.1 to I.3, and IEC 60730-1, Table 19.1; the rows of
`tests/facts` say of each value whether it was seen in print or is from memory.
"""

from __future__ import annotations

import re
import sys
from decimal import Decimal
from pathlib import Path

import pytest

from torquary_catalogue.find import find, read_question
from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words
from torquary_ingest.reader import read_sheet
from torquary_schema.values import Setting
from torquary_schema.words import fold

sys.path.insert(0, str(Path(__file__).parent))
import typeset

CASES = [
    pytest.param(grid, layout, unit, id=f"{grid.name}-{layout}-{unit}")
    for grid in typeset.published_grids()
    for layout in typeset.LAYOUTS
    for unit in grid.units
]


def _answers(settings: tuple[Setting, ...], cell) -> set[Decimal]:  # type: ignore[no-untyped-def]
    """Return the released torques for the cell's terminal and conductor, as printed."""
    return {
        setting.torque.nominal_nm
        for setting in settings
        if setting.state == "released"
        and setting.torque is not None
        and setting.torque.nominal_nm is not None
        and fold(setting.terminal.printed) == fold(cell.terminal)
        and (not cell.conductor or setting.conductor.printed == cell.conductor)
    }


def test_the_grids_are_whole() -> None:
    counts = {grid.name: len(grid.cells) for grid in typeset.published_grids()}
    assert counts == {"us_i1": 46, "us_i2": 12, "us_i3": 9, "iec_60730_1": 29}
    # 20 lbf·in for the thinnest wire: NEC Annex I, Table I.1 (seen in print); 2.26 N·m follows from the pound.
    first = typeset.published_grids()[0].cells[0]
    assert (first.pound_inches, first.conductor) == ("20", "30–10 AWG")
    assert round(first.value("lb·in"), 4) == Decimal("2.2597")


def sizes_of(conductor: str) -> list[str | None]:
    """The sizes to ask for: both ends of a printed span, the one that is printed alone, or none at all."""
    system = "kcmil" if "kcmil" in conductor else "AWG"
    ends = re.sub(r"AWG|kcmil", "", conductor).strip()
    return [f"{end.strip()} {system}" for end in re.split("[–]", ends)] if ends else [None]


def differing(catalogue: Catalogue, cell, unit: str) -> list[object]:  # type: ignore[no-untyped-def]
    """What `find` says of a cell, where that is not its published value and no other."""
    wrong: list[object] = []
    for size in sizes_of(cell.conductor):
        answer = find(catalogue, read_question(catalogue, "", terminal=cell.terminal, conductor=size))
        figures = {row.figures for row in answer.rows if fold(row.terminal_printed) == fold(cell.terminal)}
        if not answer.answered or figures != {(*(cell.value(unit),) * 3, None)}:
            wrong.append((cell.terminal, size, cell.value(unit), answer.kind, figures))
    return wrong


@pytest.mark.parametrize(("grid", "layout", "unit"), CASES)
def test_every_published_cell_comes_back_and_nothing_else(tmp_path: Path, grid, layout: str, unit: str) -> None:  # type: ignore[no-untyped-def]
    """As it is read, and from `find`, which is asked for every cell of the ruled layout and each third of the others.

    What is read is the same in all layouts, as the first half shows.
    """
    path = tmp_path / f"{grid.name}.pdf"
    typeset.LAYOUTS[layout](path, grid, unit)
    report = read_sheet(path)
    assert report.state == "read"
    wrong = [
        (cell.terminal, cell.conductor, cell.torque(unit), _answers(report.settings, cell))
        for cell in grid.cells
        if _answers(report.settings, cell) != {cell.value(unit)}
    ]
    assert wrong == []
    published = {(fold(cell.terminal), cell.value(unit)) for cell in grid.cells}
    released = [setting for setting in report.settings if setting.state == "released"]
    figures = {(fold(s.terminal.printed), s.torque.nominal_nm if s.torque else None) for s in released}
    assert figures <= published
    assert len(released) == len(grid.cells)
    with open_catalogue(tmp_path / "grids.duckdb", writing=True) as catalogue:
        refresh_words(catalogue)
        load_report(catalogue, report)
    asked = grid.cells[:: 1 if layout == "ruled" else 3]
    with open_catalogue(tmp_path / "grids.duckdb") as catalogue:
        assert [wrong for cell in asked for wrong in differing(catalogue, cell, unit)] == []


def test_a_size_beyond_the_grid_is_outside_it(tmp_path: Path) -> None:
    grid = typeset.published_grids()[0]
    sheet = tmp_path / "grid.pdf"
    typeset.LAYOUTS["ruled"](sheet, grid, grid.units[0])
    load_sheets(tmp_path / "grids.duckdb", [sheet])
    with open_catalogue(tmp_path / "grids.duckdb") as catalogue:
        question = read_question(catalogue, "", terminal="Slotted screw, small", conductor="AWG 40")
        assert find(catalogue, question).kind == "outside"
