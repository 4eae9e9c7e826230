"""Which pages of a PDF the quick look passes over: sentences and photographs, never what a figure may hang on."""

from __future__ import annotations

import io
from collections.abc import Callable

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.openers.pdf.look import choose_pages
from torquary_ingest.scans import may_show_print

PROSE = "the device is mounted on a rail and the cover is closed before the supply returns."
MENTIONS = [
    "use conductors of 1.5 mm² to 16 mm² made of copper or of aluminium only.",
    "the bulb and the elbow of the enclosure weigh 0.35 kg and 1.6 kg, compound included.",
]


def chosen(content: bytes) -> frozenset[int]:
    looked = choose_pages(content, "")
    assert looked is not None
    return looked.numbers


Drawing = Callable[[Canvas], None]


def draw(*pages: Drawing | list[str] | tuple[list[str], Drawing]) -> bytes:
    """Draw pages of lines, of a drawing beside sentences, or of both."""
    target = io.BytesIO()
    canvas = Canvas(target)
    for page in pages:
        lines, drawing = page if isinstance(page, tuple) else (page, None) if isinstance(page, list) else (None, page)
        for at, line in enumerate([PROSE] * 12 if lines is None else lines):
            canvas.drawString(50, 800 - 14 * at, line)
        if drawing is not None:
            drawing(canvas)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def photograph() -> Image.Image:
    noise = np.random.default_rng(3)
    coarse = Image.fromarray(noise.integers(0, 255, (9, 12), dtype=np.uint8))
    shades = coarse.resize((720, 540), Image.Resampling.BICUBIC)
    return Image.fromarray((np.asarray(shades) + noise.normal(0, 6, (540, 720))).clip(0, 255).astype(np.uint8))


def scanned_table(text: str = "Terminal  Torque\nL1  2.5 Nm", size: int = 34) -> Image.Image:
    picture = Image.new("L", (720, 240), 235)
    ImageDraw.Draw(picture).multiline_text((40, 40), text, fill=40, font=ImageFont.load_default(size), spacing=20)
    return picture


def place(picture: Image.Image) -> Callable[[Canvas], None]:
    return lambda canvas: canvas.drawImage(ImageReader(picture), 60, 100, 240, 240 * picture.height / picture.width)


@pytest.mark.parametrize("mention", MENTIONS)
def test_sentences_with_other_figures_are_passed_over(mention: str) -> None:
    assert chosen(draw(["Manual"], [PROSE] * 20 + [mention] + [PROSE] * 20)) == {1}


@pytest.mark.parametrize(
    "lines",
    [
        [*[PROSE] * 9, "all clamps of this device are fastened with a torque of", "2.5 and no more than that."],
        [*[PROSE] * 9, "every figure of this manual is given in newton metres, as is usual here.", *[PROSE] * 9],
        [*[PROSE] * 9, "Size 1.5 mm²", *[PROSE] * 9],
        [*[PROSE] * 9, "T i g h t e n i n g   t o r q u e", "M 4   2 . 5", *[PROSE] * 9],
        [*[PROSE] * 9, "Tightening torque", "main clamps", "2.5", *[PROSE] * 9],
    ],
)
def test_what_a_figure_may_hang_on_is_kept(lines: list[str]) -> None:
    assert chosen(draw(["Manual"], lines)) == {1, 2}


def test_rows_overleaf_of_a_heading_at_the_foot_are_kept() -> None:
    heading = [*[PROSE] * 9, "Terminal of the device Tightening torque"]
    rows = ["the main incoming clamp of the upper block 2.5", "the main outgoing clamp of the upper block 3.5"]
    assert chosen(draw(["Manual"], heading, rows, [PROSE] * 9)) == {1, 2, 3}


def test_a_scanned_table_beside_text_about_terminals_is_looked_at_and_a_photograph_is_not() -> None:
    about = [PROSE] * 12 + ["How the terminals are to be tightened is shown here."]
    content = draw(["Manual"], (about, place(scanned_table())), (about, place(photograph())))
    assert chosen(content) == {1, 2}


def test_pictures_beside_much_text_about_other_things_are_left_and_counted() -> None:
    looked = choose_pages(draw(["Manual"], [PROSE] * 12, place(scanned_table())), "")
    assert looked is not None
    assert [(page.number, page.unsearched) for page in looked.passed_but(looked.why)] == [(2, False), (3, True)]


def test_a_scanned_table_on_a_page_with_little_text_is_looked_at() -> None:
    assert chosen(draw(["Manual"], (["Technical data"], place(scanned_table())))) == {1, 2}


@pytest.mark.parametrize("turn", [0, 90])
@pytest.mark.parametrize("size", [18, 34])
@pytest.mark.parametrize("dark", [False, True])
def test_print_is_seen_whatever_its_ground(turn: int, size: int, dark: bool) -> None:
    grey = np.rot90(np.asarray(scanned_table(size=size)), turn // 90)
    assert may_show_print(255 - grey if dark else grey, 3.0)
    assert not may_show_print(np.asarray(photograph()), 3.0)


def test_a_lone_row_right_behind_a_page_of_torques_is_kept() -> None:
    table = ["Terminal", "Torque N·m", "L1 2.5-16 2"]
    assert chosen(draw(["Manual"], table, ["Earth 4-16 1.2"], ["Earth 4-16 1.2"])) == {1, 2, 3}


def test_a_lone_row_that_ends_with_a_long_name_is_no_sentence() -> None:
    table = ["Conductor mm² Torque N·m Terminal", "2.5 - 16 2 main terminal"]
    row = ["0.75 - 4 0.8 terminal of the protective earth conductor"]
    assert chosen(draw(["Manual"], table, row)) == {1, 2, 3}


def test_a_heading_that_a_profile_explains_keeps_its_page() -> None:
    content = draw(["Manual"], ["Terminal Torque N·m", "L1 2.5"], [PROSE] * 9, ["Clip Mz.", "K1 2.5"], [PROSE] * 9)
    assert chosen(content) == {1, 2}
    looked = choose_pages(content, "", ("Mz.",))
    assert looked is not None
    assert sorted(looked.why) == [1, 2, 4]


def test_a_sheet_without_a_known_word_for_torques_is_read_where_it_gives_sizes() -> None:
    assert chosen(draw(["Manual"], [PROSE] * 9, ["Clip 1.5 mm² Mz. 2.5"], [PROSE] * 9)) == {1, 3}


def test_what_speaks_for_other_pages_is_kept_of_those_passed_over() -> None:
    statement = "Use copper conductors only."
    looked = choose_pages(draw(["Manual"], [*[PROSE] * 9, statement], ["Terminal Torque N·m", "L1 2.5"]), "")
    assert looked is not None
    passed = looked.passed_but(looked.why)
    assert [(page.number, page.lines, page.language) for page in passed] == [(2, (statement,), "en")]
