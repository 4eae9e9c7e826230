"""The picture of a page with its tables: boxes lie where tables and cells were seen, whatever the page's own frame."""

from __future__ import annotations

import io
from pathlib import Path

import numpy
import pytest
from numpy.typing import NDArray
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.openers.pdf.tables_drawn import DOTS_PER_INCH, LARGEST_PICTURE
from torquary_ingest.reader import DrawnTables, draw_tables, read_tables
from torquary_schema.values import Box

PER_POINT = DOTS_PER_INCH / 72
RED, BLUE, GREEN, YELLOW = range(4)


def draw_sheet(path: Path, *, turn: int = 0, crop: float = 0.0, pages: int = 1, wide: float = 595) -> Path:
    """Draw a ruled table of two columns, its heading spanning both, 72 points from left and top of what is seen."""
    canvas = Canvas(str(path), pagesize=(wide, 842))
    for _ in range(pages):
        if crop:
            canvas.setCropBox((crop, crop, wide, 842 - crop))
        if turn == 90:
            canvas.setPageRotation(90)
            canvas.translate(wide, 0)
            canvas.rotate(90)
        high = wide if turn == 90 else 842
        left, top = 72 + crop, high - 72 - crop
        canvas.rect(left, top - 60, 200, 60)
        for down in (20, 40):
            canvas.line(left, top - down, left + 200, top - down)
        canvas.line(left + 100, top - 20, left + 100, top - 60)
        canvas.drawString(left + 60, top - 15, "Terminals")
        for row, texts in enumerate((("Line", "Torque N·m"), ("L1", "2.5"))):
            for column, text in enumerate(texts):
                canvas.drawString(left + 5 + 100 * column, top - 35 - 20 * row, text)
        canvas.showPage()
    canvas.save()
    return path


def masks(png: bytes) -> list[NDArray[numpy.bool_]]:
    """Return where the picture is red, blue, green and yellow."""
    levels = numpy.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(int)
    red, green, blue = levels[..., 0], levels[..., 1], levels[..., 2]
    return [
        (red > 150) & (green < 90) & (blue < 90),
        (blue > 180) & (red < 120),
        (green > 110) & (red < 90) & (blue < 110),
        (red > 220) & (green > 200) & (blue < 200),
    ]


def frame(mask: NDArray[numpy.bool_]) -> tuple[float, ...]:
    """Return left, top, right and bottom of what is so coloured, in points."""
    rows, columns = numpy.nonzero(mask)
    return tuple(round(float(side) / PER_POINT) for side in (columns.min(), rows.min(), columns.max(), rows.max()))


def drawn_picture(drawn: DrawnTables) -> bytes:
    assert drawn.picture is not None
    return drawn.picture


@pytest.mark.parametrize(("turn", "crop"), [(0, 0.0), (90, 0.0), (0, 30.0)])
def test_boxes_lie_where_the_table_is_seen(tmp_path: Path, turn: int, crop: float) -> None:
    """On a turned page and on a cropped one the picture and the boxes are what the reader of the page sees."""
    drawn = draw_tables(draw_sheet(tmp_path / "one.pdf", turn=turn, crop=crop))
    [table] = drawn.tables
    assert table.box is not None
    seen = masks(drawn_picture(drawn))
    for side, wanted in zip(frame(seen[BLUE]), (72, 72, 272, 132), strict=True):
        assert abs(side - wanted) <= 2
    left, top, _, bottom = frame(seen[RED])
    assert abs(left - 69) <= 2
    assert abs(top - 69) <= 2
    assert abs(bottom - 135) <= 2


def test_a_cell_that_spans_is_filled_and_a_rule_is_green(tmp_path: Path) -> None:
    seen = masks(drawn_picture(draw_tables(draw_sheet(tmp_path / "one.pdf"))))
    left, top, right, bottom = frame(seen[YELLOW])
    assert right - left > 190
    assert 14 <= bottom - top <= 20
    assert seen[GREEN].sum() > 200


def test_the_page_asked_for_is_drawn(tmp_path: Path) -> None:
    sheet = draw_sheet(tmp_path / "two.pdf", pages=2)
    drawn = draw_tables(sheet, 2)
    assert (drawn.page, drawn.pages, [table.page for table in drawn.tables]) == (2, 2, [2])
    assert draw_tables(sheet, 3).picture is None


def test_the_tables_are_those_that_are_listed(tmp_path: Path) -> None:
    sheet = draw_sheet(tmp_path / "one.pdf")
    _, tables = read_tables(sheet, every_page=True, cells_only=True)
    assert draw_tables(sheet).tables == tables


def test_a_file_without_printed_pages_has_no_picture(tmp_path: Path) -> None:
    plain = tmp_path / "plain.csv"
    plain.write_text("Terminal;Torque N·m\nL1;2.5\nL2;2.5\n", "utf-8")
    drawn = draw_tables(plain)
    assert (drawn.picture, len(drawn.tables), drawn.pages) == (None, 1, 1)


def test_a_file_that_cannot_be_read_is_a_finding(tmp_path: Path) -> None:
    empty = tmp_path / "empty.pdf"
    empty.write_bytes(b"")
    drawn = draw_tables(empty)
    assert ([finding.code for finding in drawn.findings], drawn.picture, drawn.pages) == (["sheet_empty"], None, 0)


def test_a_huge_page_is_drawn_smaller(tmp_path: Path) -> None:
    drawn = draw_tables(draw_sheet(tmp_path / "wide.pdf", wide=12000))
    wide, high = Image.open(io.BytesIO(drawn_picture(drawn))).size
    assert wide * high <= 1.01 * LARGEST_PICTURE


def test_boxes_of_the_listing_are_those_of_the_page(tmp_path: Path) -> None:
    [table] = draw_tables(draw_sheet(tmp_path / "one.pdf", crop=30.0)).tables
    assert table.box is not None
    assert abs(table.box.x0 - 72) < 1
    assert isinstance(table.box, Box)
