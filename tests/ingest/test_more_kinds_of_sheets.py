"""More sheets drawn to mislead a reader: sizes of another part, text under text."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.reader import read_sheet

sys.path.insert(0, str(Path(__file__).parent))
from test_kinds_of_sheets import HEADS, Write, codes, draw, draw_table, released

Hide = Callable[[Canvas, float, float, str], None]


def test_sizes_headed_by_one_part_are_not_given_to_another(tmp_path: Path) -> None:
    path = tmp_path / "parts.csv"
    lines = ";Main;Main;Earth\nType;mm²;Nm;Nm\nA 9;1-4;1.2;1.6\nA 16;1.5-6;1.8;2\n"
    path.write_text(lines, encoding="utf-8")
    sizes = {str(s.torque.max_nm): s.conductor.printed if s.conductor else "" for s in read_sheet(path).settings}
    assert sizes == {"1.2": "1-4", "1.6": "", "1.8": "1.5-6", "2": ""}


def white(canvas: Canvas, x: float, y: float, text: str) -> None:
    canvas.setFillGray(1)
    canvas.drawString(x, y, text)
    canvas.setFillGray(0)


def covered(canvas: Canvas, x: float, y: float, text: str) -> None:
    canvas.drawString(x, y, text)
    canvas.setFillGray(1)
    canvas.rect(x - 1, y - 2, 30, 11, stroke=0, fill=1)
    canvas.setFillGray(0)


def over(hide: Hide, old: str, new: str) -> Write:
    """Write a figure in the very place of an older one that is hidden."""

    def write(canvas: Canvas, x: float, y: float) -> None:
        hide(canvas, x, y, old)
        canvas.drawString(x, y, new)

    return write


@pytest.mark.parametrize("hide", [white, covered])
def test_a_figure_printed_over_a_hidden_one_is_read(tmp_path: Path, hide: Hide) -> None:
    path = tmp_path / "over.pdf"
    draw(path, [HEADS, ("N", "6", over(hide, "3.5", "2.5")), ("PE", "10", over(hide, "4.0", "3.0"))]).save()
    assert released(path) == {"N": "2.5", "PE": "3.0"}


def test_a_figure_printed_over_one_that_shows_is_held(tmp_path: Path) -> None:
    path = tmp_path / "both.pdf"
    canvas = draw(path, [HEADS, ("N", "6", "3.5"), ("PE", "10", "2")])
    draw_table(canvas, [("", "", "2.5")], top=722, ruled=False)
    canvas.save()
    assert released(path) == {"PE": "2"}
    assert codes(path)["N"] & {"text_overprinted", "text_differs_from_picture", "number_unreadable", "condition_unread"}
