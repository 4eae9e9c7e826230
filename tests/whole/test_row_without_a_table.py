"""One row under a heading, without a rule, is no sentence: what stands before a figure need not name it."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_schema.values import SheetReport

HEADING = ("Torque", "Size mm²", "Terminal")
ROW = ("2 N m", "2.5–16", "Coil")


def read(path: Path, lines: tuple[tuple[str, ...], ...]) -> SheetReport:
    canvas = Canvas(str(path))
    canvas.drawString(60, 760, "Lantern Quay breakers")
    for number, line in enumerate(lines):
        for column, text in enumerate(line):
            canvas.drawString(60 + 165 * column, 700 - 20 * number, text)
    canvas.save()
    return read_one(path, OpenWish())


@pytest.mark.parametrize("order", [(0, 1, 2), (1, 0, 2), (0, 2, 1), (1, 2, 0), (2, 0, 1)])
def test_a_bare_figure_in_a_row_is_named_and_not_given_out(tmp_path: Path, order: tuple[int, ...]) -> None:
    report = read(tmp_path / "sheet.pdf", tuple(tuple(line[i] for i in order) for line in (HEADING, ROW)))
    assert [s.terminal.printed for s in report.settings if s.state == "released"] in ([], ["Coil"])
    assert report.settings or "figure_not_placed" in {finding.code for finding in report.findings}


def test_a_name_left_of_a_figure_is_its_name(tmp_path: Path) -> None:
    (setting,) = read(tmp_path / "sheet.pdf", (("Main terminals", "2.5 N·m"),)).settings
    assert (setting.state, setting.terminal.printed) == ("released", "Main terminals")
