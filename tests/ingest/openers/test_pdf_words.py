"""Glyphs become the words a reader sees: marks, fractions, units, doubles and directions."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Page, Word
from torquary_ingest.lexis.note_marks import split_tail
from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.openers.pdf.letters import clean_character
from torquary_ingest.openers.pdf.marks import order_letters
from torquary_ingest.openers.pdf.sign_faces import read_symbol
from torquary_ingest.plugins import OpenWish

Drawing = Callable[[Canvas], None]


def read_drawing(folder: Path, drawing: Drawing) -> Page:
    """Draw one A4 page and read it back."""
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(595, 842), invariant=True)
    drawing(canvas)
    canvas.showPage()
    canvas.save()
    path = folder / "drawn.pdf"
    path.write_bytes(stream.getvalue())
    return PdfOpener().open(path, OpenWish(every_page=True)).pages[0]


def texts(page: Page) -> list[str]:
    return [word.text for word in page.words]


def write(canvas: Canvas, x: float, y: float, text: str, size: float = 9, font: str = "Helvetica") -> float:
    """Write at the place and return where the text ends."""
    canvas.setFont(font, size)
    canvas.drawString(x, y, text)
    return x + pdfmetrics.stringWidth(text, font, size)


def find(page: Page, text: str) -> Word:
    return next(word for word in page.words if word.text == text)


def test_words_part_at_blanks_and_keep_their_place(tmp_path: Path) -> None:
    page = read_drawing(tmp_path, lambda canvas: write(canvas, 100, 700, "2.5 N·m") and None)
    assert texts(page) == ["2.5", "N·m"]
    word = page.words[0]
    assert word.box.x0 == pytest.approx(100, abs=0.1)
    assert word.baseline == pytest.approx(842 - 700, abs=0.1)
    assert word.box.top < word.baseline < word.box.bottom
    assert (word.size, word.turn, word.marks, word.doubts) == (9, 0, (), ())


def test_raised_digit_is_a_mark_and_not_part_of_the_number(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        end = write(canvas, 100, 700, "2.3")
        write(canvas, end, 703, "1", 6)

    word = read_drawing(tmp_path, drawing).words[0]
    assert (word.text, [mark.text for mark in word.marks]) == ("2.3", ["1"])


def test_raised_marks_may_be_several_or_have_a_bracket(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        write(canvas, write(canvas, 100, 700, "16"), 703, "1,2", 6)
        write(canvas, write(canvas, 100, 600, "25"), 603, "a)", 6)

    page = read_drawing(tmp_path, drawing)
    assert [(word.text, [mark.text for mark in word.marks]) for word in page.words] == [
        ("16", ["1", "2"]),
        ("25", ["a)"]),
    ]


def test_small_raised_two_behind_mm_is_the_square(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        write(canvas, write(canvas, 100, 700, "16 mm"), 703, "2", 6)
        write(canvas, write(canvas, 100, 600, "(mm"), 603, "2", 6)
        write(canvas, 200, 600, "N·m")
        write(canvas, 200 + pdfmetrics.stringWidth("N·m", "Helvetica", 9), 603, "2", 6)

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["16", "mm²", "(mm²", "N·m"]
    assert [mark.text for mark in find(page, "N·m").marks] == ["2"]


def test_small_fraction_is_parted_from_the_whole_number(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        for line, (whole, upper, lower) in enumerate([("5", "1", "2"), ("4", "1", "4"), ("2", "3", "4")]):
            y = 700 - 20 * line
            end = write(canvas, write(canvas, 100, y, whole), y + 3.2, upper, 6)
            write(canvas, write(canvas, end, y, "/"), y - 0.8, lower, 6)

    assert texts(read_drawing(tmp_path, drawing)) == ["5 1/2", "4 1/4", "2 3/4"]


def test_mark_alone_before_its_note_stays_a_word(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        write(canvas, 100, 103, "1", 6)
        write(canvas, 112, 100, "with ferrule", 8)

    assert texts(read_drawing(tmp_path, drawing)) == ["1", "with", "ferrule"]


def test_figure_printed_twice_for_a_bold_look_is_read_once(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        for text, y in (("2.5", 700), ("11", 680), ("0.55", 660)):
            write(canvas, 100, y, text)
            write(canvas, 100.3, y, text)

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["2.5", "11", "0.55"]
    assert all(word.bold for word in page.words)


def test_letters_of_two_texts_do_not_interleave_and_both_are_doubted(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        write(canvas, 100, 700, "Terminal block lower row")
        write(canvas, 160, 700, "35.5")

    page = read_drawing(tmp_path, drawing)
    assert {"Terminal", "block", "lower", "row", "35.5"} == set(texts(page))
    assert [doubt.code for doubt in find(page, "35.5").doubts] == ["text_overprinted"]
    assert find(page, "Terminal").doubts == ()


def test_figures_of_two_cells_that_almost_touch_are_parted_by_a_rule(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        end = write(canvas, 100, 700, "L5")
        canvas.line(end + 0.4, 690, end + 0.4, 715)
        write(canvas, end + 0.8, 700, "35")

    assert texts(read_drawing(tmp_path, drawing)) == ["L5", "35"]


def test_figures_that_almost_touch_without_a_rule_are_doubted(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        write(canvas, write(canvas, 100, 700, "5") + 0.9, 700, "35")

    assert [doubt.code for word in read_drawing(tmp_path, drawing).words for doubt in word.doubts] == ["number_broken"]


def test_glyphs_drawn_one_by_one_make_one_word(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        x = 100.0
        places = []
        for letter in "12.5":
            places.append((x, letter))
            x += pdfmetrics.stringWidth(letter, "Helvetica", 9)
        for place, letter in reversed(places):
            write(canvas, place, 700, letter)

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["12.5"]
    assert page.words[0].doubts == ()


def test_letter_spacing_keeps_a_word_and_wide_spacing_parts_columns(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        for y, spacing in ((700, 2.0), (680, 30.0)):
            text = canvas.beginText(100, y)
            text.setFont("Helvetica", 9)
            text.setCharSpace(spacing)
            text.textOut("AB")
            canvas.drawText(text)

    assert texts(read_drawing(tmp_path, drawing)) == ["AB", "A", "B"]


@pytest.mark.parametrize(("angle", "turn"), [(0, 0), (90, 270), (180, 180), (270, 90)])
def test_turned_words_read_in_order_whatever_their_direction(tmp_path: Path, angle: int, turn: int) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.translate(300, 400)
        canvas.rotate(angle)
        write(canvas, write(canvas, 0, 0, "2.5"), 3, "1", 6)
        write(canvas, 30, 0, "N·m")

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["2.5", "N·m"]
    assert {word.turn for word in page.words} == {turn}
    assert [mark.text for mark in page.words[0].marks] == ["1"]


def test_soft_hyphen_that_is_drawn_and_no_break_blank(tmp_path: Path) -> None:
    pdfmetrics.registerFont(TTFont("Vera", "Vera.ttf"))
    page = read_drawing(
        tmp_path, lambda canvas: write(canvas, 100, 700, "3\u00ad4\u00a0N·m \ufb01x", font="Vera") and None
    )
    assert texts(page) == ["3-4", "N·m", "fix"]


@pytest.mark.parametrize(
    ("printed", "text", "marks"),
    [
        ("2.3¹", "2.3", ("1",)),
        ("2.3¹²", "2.3", ("12",)),
        ("2.3¹,²", "2.3", ("1", "2")),
        ("2.3¹⁾", "2.3", ("1)",)),
        ("16mm²", "16mm²", ()),
        ("mm²", "mm²", ()),
        ("(mm²)", "(mm²)", ()),
        ("mm²¹", "mm²", ("1",)),
        ("N·m²", "N·m", ("2",)),
        ("10³", "10³", ()),
        ("2.5*", "2.5", ("*",)),
        ("2.5**)", "2.5", ("**)",)),
        ("0.8†", "0.8", ("†",)),
        ("*", "*", ()),
        ("*)", "*)", ()),
        ("²", "²", ()),
        ("12", "12", ()),
    ],
)
def test_marks_printed_as_characters(printed: str, text: str, marks: tuple[str, ...]) -> None:
    assert split_tail(printed) == (text, marks)


@given(st.text(alphabet="0123456789.,–-/ab¹²³*†)(m", max_size=12))
def test_splitting_marks_loses_no_digit(printed: str) -> None:
    text, marks = split_tail(printed)
    plain = str.maketrans("¹²³", "123")
    digits = [letter for letter in printed.translate(plain) if letter.isdigit()]
    assert [letter for letter in (text + "".join(marks)).translate(plain) if letter.isdigit()] == digits


def test_letters_from_right_to_left_come_out_in_reading_order(tmp_path: Path) -> None:
    assert order_letters("קדה") == "הדק"
    assert order_letters("12 קדה") == "הדק 12"
    assert order_letters("(הדק") == "קדה)"


@pytest.mark.parametrize(("raw", "clean"), [("ﬂ", "fl"), ("\u00ad", "-"), ("\u200b", ""), ("\u202f", " "), ("µ", "µ")])
def test_single_characters(raw: str, clean: str) -> None:
    assert clean_character(raw) == clean


def test_symbol_face_signs() -> None:
    assert read_symbol("\uf0b1", "ABCDEF+SymbolMT") == "±"
    assert read_symbol("\uf0b1", "ABCDEF+Wingdings") == "\uf0b1"
