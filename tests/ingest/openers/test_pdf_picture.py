"""The picture of a printed row shows the row, with a red line round the cell, and stays small."""

from __future__ import annotations

import io
from pathlib import Path

import numpy
import pytest
from numpy.typing import NDArray
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.openers.pdf import picture
from torquary_ingest.openers.pdf.picture import DOTS_PER_POINT, draw_rows
from torquary_ingest.reader import read_pictured_sheets, read_sheet
from torquary_schema.values import Box, Place

SAMPLES = Path(__file__).parents[3] / "sample_sheets"
CELL = Place(page=1, table=1, row=1, column=2, box=Box(x0=200, top=100, x1=260, bottom=112))


def draw_page(path: Path, *, turn: int = 0, size: tuple[float, float] = (595, 842)) -> Path:
    """Draw "Line 2.5" 100 points below the top of the page as shown, a row above it and one below."""
    canvas = Canvas(str(path), pagesize=size)
    if turn == 90:
        canvas.setPageRotation(90)
        canvas.translate(size[0], 0)
        canvas.rotate(90)
    high = size[0] if turn == 90 else size[1]
    for at in range(3):
        canvas.drawString(72, high - 94 - 16 * at, ("Head", "Line", "Load")[at])
        canvas.drawString(205, high - 94 - 16 * at, ("N·m", "2.5", "2.0")[at])
    canvas.save()
    return path


def look(png: bytes) -> tuple[NDArray[numpy.uint8], NDArray[numpy.bool_]]:
    """Return the pixels (red, green, blue) and where the outline is."""
    pixels = numpy.asarray(Image.open(io.BytesIO(png)).convert("RGB"))
    return pixels, (pixels[..., 0] > 150) & (pixels[..., 1] < 60)


@pytest.mark.parametrize("turn", [0, 90])
def test_the_strip_shows_the_row_and_the_outline_its_cell(tmp_path: Path, turn: int) -> None:
    pictures = draw_rows(draw_page(tmp_path / "one.pdf", turn=turn), [CELL])
    pixels, outline = look(pictures[CELL])
    rows, columns = numpy.nonzero(outline)
    wide, high = (int(columns.max() - columns.min()), int(rows.max() - rows.min()))
    assert wide == pytest.approx((60 + 6) * DOTS_PER_POINT, abs=3)
    assert high == pytest.approx((12 + 6) * DOTS_PER_POINT, abs=3)
    dark = (pixels < 100).all(axis=2)
    inside = dark[rows.min() : rows.max(), columns.min() : columns.max()]
    assert inside.sum() > 20  # the figure
    assert dark[rows.min() : rows.max(), : columns.min()].sum() > 20  # its label, left of it
    assert len(pictures[CELL]) < 4000


def gaps(png: bytes) -> int:
    """Return how many lines say that the page has more between two strips."""
    pixels = numpy.asarray(Image.open(io.BytesIO(png)).convert("L"))
    return int((pixels == 128).all(axis=1).sum())


def draw_list(path: Path, head: str) -> Path:
    """Draw a ruled list of eight rows under a heading, a line between the rows, with a note at its foot."""
    canvas = Canvas(str(path), pagesize=(400, 400))
    canvas.drawString(40, 370, "Main switch QS 63")
    rows = [(head, "mm²", "Tightening torque N·m"), *((f"81.10{at}", "4", f"0.{at}") for at in range(1, 9))]
    for number, texts in enumerate(rows):
        for column, text in enumerate(texts):
            canvas.rect(40 + 110 * column, 330 - 22 * number, 110, 22)
            canvas.drawString(45 + 110 * column, 337 - 22 * number, text)
    canvas.setFont("Helvetica", 7)
    canvas.drawString(296, 341, "a)")
    canvas.drawString(40, 60, "a) Copper conductors only")
    canvas.save()
    return path


def test_a_held_row_stands_under_its_headings_and_over_its_notes(tmp_path: Path) -> None:
    """They are cut from where they are printed, and a line tells that the page has more between them."""
    path = draw_list(tmp_path / "held.pdf", "Order")
    (read,) = read_pictured_sheets([path])
    held = {one.place.row: read.pictures[one.id] for one in read.report.settings if one.state == "held"}
    assert (gaps(held[2]), gaps(held[7])) == (0, 1)
    own = next(one.place for one in read.report.settings if one.place.row == 7)
    assert len(look(held[7])[0]) > len(look(draw_rows(path, [own])[own])[0])
    (read,) = read_pictured_sheets([draw_list(tmp_path / "released.pdf", "Terminal")])
    assert {gaps(read.pictures[one.id]) for one in read.report.settings if one.state == "released"} <= {0}


def test_the_strips_around_a_row_are_in_the_order_of_the_page(tmp_path: Path) -> None:
    path = draw_list(tmp_path / "list.pdf", "Order")
    place = Place(page=1, box=Box(x0=260, top=180, x1=370, bottom=202))
    over, under = Box(x0=40, top=48, x1=370, bottom=70), Box(x0=40, top=330, x1=200, bottom=345)
    drawn = draw_rows(path, [place], around={place: (under, over)})[place]
    assert gaps(drawn) == 2
    outlined = numpy.nonzero(look(drawn)[1])[0]
    high = look(drawn)[0].shape[0]
    assert outlined.min() > 22 * DOTS_PER_POINT
    assert outlined.max() < high - 15 * DOTS_PER_POINT


def test_a_cell_that_reaches_to_the_foot_of_the_page_is_drawn_in_to_its_print(tmp_path: Path) -> None:
    tall = Place(page=1, box=Box(x0=200, top=116, x1=260, bottom=840))
    _, outline = look(draw_rows(draw_page(tmp_path / "one.pdf"), [tall])[tall])
    rows = numpy.nonzero(outline)[0]
    assert rows.max() - rows.min() < 30 * DOTS_PER_POINT


def test_places_that_cannot_be_shown_have_no_picture(tmp_path: Path) -> None:
    path = draw_page(tmp_path / "one.pdf")
    off = Place(page=1, box=Box(x0=-50, top=-90, x1=9000, bottom=9000))
    assert draw_rows(path, [Place(page=1), Place(page=9, box=CELL.box)]) == {}
    assert look(draw_rows(path, [off])[off])[0].shape[0] < 900
    text = tmp_path / "list.csv"
    text.write_text("a;b\n", encoding="utf-8")
    assert draw_rows(text, [CELL]) == {}
    damaged = tmp_path / "cut.pdf"
    damaged.write_bytes(path.read_bytes()[:200])
    assert draw_rows(damaged, [CELL]) == {}


def test_a_page_that_would_take_too_many_pixels_is_not_rendered(tmp_path: Path) -> None:
    path = draw_page(tmp_path / "large.pdf", size=(14_000, 14_000))
    assert draw_rows(path, [CELL]) == {}
    assert picture.LARGEST_PAGE < 14_000**2 * (DOTS_PER_POINT / 2) ** 2


def test_every_setting_of_a_sheet_with_pages_has_its_picture() -> None:
    pages, workbook = SAMPLES / "hobbletarn_bars.pdf", SAMPLES / "quelmoor_rcbo.xlsx"
    first, second = read_pictured_sheets([pages, workbook])
    report, pictures, other, none = first.report, first.pictures, second.report, second.pictures
    assert report == read_sheet(pages)
    assert pictures.keys() == {setting.id for setting in report.settings}
    assert all(len(png) < 4000 for png in pictures.values())
    assert other.settings
    assert none == {}
