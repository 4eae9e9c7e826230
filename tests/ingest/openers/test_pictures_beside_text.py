"""Pictures beside live text are read in groups and once, and show every figure that the page as a whole shows."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Page, Word
from torquary_ingest.openers.pdf import beside, scanned
from torquary_ingest.openers.pdf.reading import read_pdf
from torquary_ingest.plugins import OpenWish
from torquary_ingest.scans import Budget, read_scan

Placed = tuple[Image.Image, float, float, float, float]
FIGURE = re.compile(r"\d[.,]\d")


def print_rows(rows: Sequence[Sequence[str]], wide: int = 900, size: int = 30) -> Image.Image:
    picture = Image.new("L", (wide, 24 + 2 * size * len(rows)), 250)
    for at, row in enumerate(rows):
        for column, text in enumerate(row):
            place = (30 + column * wide // len(row), 20 + 2 * size * at)
            ImageDraw.Draw(picture).text(place, text, fill=20, font=ImageFont.load_default(size))
    return picture


def make_table(number: int) -> Image.Image:
    return print_rows([("Terminal", "Torque N m"), *((f"X{number}{at}", f"{at}.{number}") for at in range(1, 5))])


def make_photograph() -> Image.Image:
    noise = np.random.default_rng(5)
    coarse = Image.fromarray(noise.integers(60, 255, (9, 12), dtype=np.uint8))
    return coarse.resize((720, 540), Image.Resampling.BICUBIC)


def draw(path: Path, *pages: Sequence[Placed]) -> Path:
    """Draw pages that speak of torques, with pictures on each."""
    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    for placed in pages:
        canvas.drawString(60, 800, "Tighten the terminal screws of the breaker with 2.5 N·m.")
        for picture, *box in placed:
            stored = io.BytesIO()
            picture.save(stored, "PNG")
            canvas.drawImage(ImageReader(io.BytesIO(stored.getvalue())), *box)
        canvas.showPage()
    canvas.save()
    return path


def read(path: Path) -> tuple[Page, ...]:
    return read_pdf(path, OpenWish()).pages


def figures(words: Sequence[Word]) -> list[str]:
    return sorted(word.text for word in words if FIGURE.search(word.text) and word.sure is not None)


@pytest.fixture
def read_parts(monkeypatch: pytest.MonkeyPatch) -> list[tuple[int, ...]]:
    """The sizes of the parts of pages that the recogniser was given."""
    given = []

    def count(part: np.ndarray[tuple[int, ...], np.dtype[np.uint8]], *others: float) -> object:
        given.append(part.shape)
        return read_scan(part, *others)  # type: ignore[arg-type]

    monkeypatch.setattr(beside, "read_scan", count)
    return given


def test_a_mark_on_every_page_is_read_once_and_a_photograph_never(
    tmp_path: Path, read_parts: list[tuple[int, ...]]
) -> None:
    mark: Placed = (print_rows([("Quillhaven 24.1",)], 500), 400, 740, 160, 30)
    tables: list[Placed] = [(make_table(number), 60, 300, 320, 115) for number in (4, 6)]
    pages = read(draw(tmp_path / "marks.pdf", *([mark, table] for table in tables)))
    assert len(read_parts) == 3
    assert [figures(page.words) for page in pages] == [
        ["1.4", "2.4", "24.1", "3.4", "4.4"], ["1.6", "2.6", "24.1", "3.6", "4.6"]
    ]  # fmt: skip
    read_parts.clear()
    photograph: Placed = (make_photograph(), 60, 450, 320, 240)
    read(draw(tmp_path / "photograph.pdf", [photograph, (make_table(4), 60, 200, 320, 115)]))
    assert len(read_parts) == 1


def test_no_figure_of_the_whole_page_is_lost(tmp_path: Path) -> None:
    """A list stored in strips, a small sign with a torque, white print on black, a list that lies on its side."""
    table = make_table(7)
    strips = [table.crop((0, top, table.width, top + 81)) for top in range(0, table.height, 81)]
    high = 320 / table.width
    placed: list[Placed] = [
        (strip, 60, 600 - 81 * high * (at + 1), 320, 81 * high) for at, strip in enumerate(strips)
    ]
    placed.append((print_rows([("3.2 N m",)], 240), 440, 560, 80, 24))
    placed.append((Image.eval(print_rows([("4.4 N m", "5.5 N m")], 500), lambda level: 255 - level), 60, 300, 200, 34))
    placed.append((make_table(8).rotate(90, expand=True), 420, 120, 115, 320))
    placed.append((make_photograph(), 60, 60, 200, 150))
    path = draw(tmp_path / "forms.pdf", placed)
    (page,) = read(path)
    grouped = figures(page.words)
    live = page.words[: len([word for word in page.words if word.sure is None])]
    with scanned.pypdfium2.PdfDocument(path) as document:
        _, grey, scale = scanned._render(document, 1)
    assert grey is not None
    only = Page(number=1, width=595, height=842, words=tuple(live), pictures=page.pictures)
    whole = figures(read_scan(scanned._leave_pictures(grey, scale, only), scale, Budget()).words)
    assert whole
    assert set(whole) <= set(grouped)
    assert {"1.7", "2.7", "3.7", "4.7", "3.2", "1.8", "4.8"} <= set(grouped)


def test_words_lie_where_they_are_printed(tmp_path: Path) -> None:
    (page,) = read(draw(tmp_path / "place.pdf", [(make_table(4), 60, 300, 320, 115)]))
    (word,) = [word for word in page.words if word.text == "1.4"]
    # The picture's top is at 842 - 300 - 115 = 427 points; its first row of figures is a fifth of its height lower.
    assert 427 + 23 < word.box.top < word.box.bottom < 427 + 46
    assert 60 + 160 < word.box.x0 < 60 + 190
    assert word.box.top < word.baseline < word.box.bottom


def test_pictures_that_touch_are_one_group() -> None:
    from torquary_schema.values import Box

    boxes = [Box(x0=0, top=at, x1=50, bottom=at + 10) for at in (0, 30, 10, 20)]
    apart = Box(x0=200, top=0, x1=250, bottom=40)
    assert beside._find_groups([*boxes, apart]) == [Box(x0=0, top=0, x1=50, bottom=40), apart]
