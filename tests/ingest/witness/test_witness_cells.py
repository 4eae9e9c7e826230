"""The witness on small drawn pages: honest cells are proved, lies of the text layer are caught by ink alone."""

from __future__ import annotations

from pathlib import Path

import pytest
import reportlab
from drawn_cells import BASE, CELL, LEFT, PAGE, SIZE, Draw, ask, codes, word, write
from mapped_font import register
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Mark, Rule, Word
from torquary_ingest.witness import Claim, Witness
from torquary_schema.values import Box

FREE_FONT = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"


@pytest.mark.parametrize("text", ["2.5", "1,200", "10–12", "0.8-1.2", "±0.3", "7.0", "46839", "1/0", "½"])
@pytest.mark.parametrize("font", ["Helvetica", "Times-Roman", "Courier-Bold"])
def test_honest_figures_are_proved_by_their_shapes(tmp_path: Path, text: str, font: str) -> None:
    answer = ask(tmp_path, lambda c: write(c, text, font=font), word(text, font=font))
    assert answer.agrees is True
    assert answer.means == "proved glyph"
    assert answer.doubts == ()


@pytest.mark.parametrize("text", ["„", "“", "”", '"', "''", "´´", "»", "«"])
@pytest.mark.parametrize("font", ["Helvetica", "Times-Roman"])
def test_signs_for_as_above_are_proved_by_their_strokes(tmp_path: Path, text: str, font: str) -> None:
    answer = ask(tmp_path, lambda c: write(c, text, font=font), word(text, font=font))
    assert (answer.agrees, answer.means) == (True, "proved glyph")


@pytest.mark.parametrize(("drawn", "told"), [("8", "„"), ("1", "'"), ("=", "“"), (":", '"'), ("H", "»")])
def test_another_sign_is_no_sign_for_as_above(tmp_path: Path, drawn: str, told: str) -> None:
    font = register(FREE_FONT, {drawn: told})
    answer = ask(tmp_path, lambda c: write(c, drawn, font=font), word(told, font=font))
    assert answer.agrees is not True


@pytest.mark.parametrize("grey", [0.6, 0.85])
def test_a_shaded_cell_with_a_frame_is_honest(tmp_path: Path, grey: float) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setFillGray(grey)
        canvas.rect(CELL.x0, PAGE[1] - CELL.bottom, CELL.width, CELL.height, stroke=1, fill=1)
        canvas.setFillGray(0)
        write(canvas, "2.5")

    assert ask(tmp_path, draw, word("2.5")).agrees is True


def test_white_text_on_a_dark_ground_is_honest(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setFillGray(0.2)
        canvas.rect(CELL.x0, PAGE[1] - CELL.bottom, CELL.width, CELL.height, stroke=0, fill=1)
        canvas.setFillGray(1)
        write(canvas, "3.5")

    assert ask(tmp_path, draw, word("3.5")).agrees is True


def test_figures_printed_twice_for_a_bold_look_are_honest(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2.5")
        write(canvas, "2.5", LEFT + 0.3)

    assert ask(tmp_path, draw, word("2.5")).agrees is True


def test_an_underline_is_no_strike(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "25.75")
        canvas.setLineWidth(0.5)
        canvas.line(LEFT, BASE - 2, LEFT + pdfmetrics.stringWidth("25.75", "Helvetica", SIZE), BASE - 2)

    assert ask(tmp_path, draw, word("25.75")).agrees is True


def draw_point_round(canvas: Canvas) -> None:
    canvas.circle(LEFT + 6.2, BASE + 0.5, 0.5, stroke=0, fill=1)


def draw_point_square(canvas: Canvas) -> None:
    canvas.rect(LEFT + 5.7, BASE, 0.9, 0.9, stroke=0, fill=1)


def draw_point_as_line_end(canvas: Canvas) -> None:
    canvas.setLineCap(1)
    canvas.setLineWidth(1)
    canvas.line(LEFT + 6.2, BASE + 0.5, LEFT + 6.21, BASE + 0.5)


def draw_comma(canvas: Canvas) -> None:
    canvas.setLineWidth(0.7)
    canvas.line(LEFT + 6.6, BASE + 0.8, LEFT + 5.9, BASE - 1.2)


def draw_dash(canvas: Canvas) -> None:
    canvas.setLineWidth(0.6)
    canvas.line(LEFT + 5.4, BASE + 2.8, LEFT + 7.2, BASE + 2.8)


@pytest.mark.parametrize("mark", [draw_point_round, draw_point_square, draw_point_as_line_end, draw_comma, draw_dash])
def test_a_drawn_mark_between_two_figures_is_ink_without_text(tmp_path: Path, mark: Draw) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2")
        mark(canvas)
        write(canvas, "5", LEFT + 7.6)

    answer = ask(tmp_path, draw, word("2"), word("5", LEFT + 7.6))
    assert answer.agrees is False
    assert codes(answer) == {"ink_without_text"}


def test_without_the_drawn_mark_the_same_figures_are_honest(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2")
        write(canvas, "5", LEFT + 7.6)

    assert ask(tmp_path, draw, word("2"), word("5", LEFT + 7.6)).agrees is True


@pytest.mark.parametrize("known", [True, False])
def test_a_line_through_a_figure_strikes_it_even_if_it_is_a_known_rule(tmp_path: Path, known: bool) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "3.5")
        canvas.setLineWidth(0.6)
        canvas.line(LEFT - 0.5, BASE + 3, LEFT + 13, BASE + 3)

    at = PAGE[1] - BASE - 3
    rule = Rule(horizontal=True, at=at, start=LEFT - 0.5, end=LEFT + 13, thickness=0.6)
    answer = ask(tmp_path, draw, word("3.5"), rules=(rule,) if known else ())
    assert answer.agrees is False
    assert "text_struck_out" in codes(answer)


@pytest.mark.parametrize("grey", [1.0, 0.97])
def test_white_text_has_no_ink(tmp_path: Path, grey: float) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2.5")
        canvas.setFillGray(grey)
        write(canvas, "3.5", LEFT + 20)

    answer = ask(tmp_path, draw, word("2.5"), word("3.5", LEFT + 20))
    assert answer.agrees is False
    assert codes(answer) == {"text_without_ink"}


def test_a_cell_of_invisible_text_alone_has_no_ink(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        line = canvas.beginText(LEFT, BASE)
        line.setFont("Helvetica", SIZE)
        line.setTextRenderMode(3)
        line.textOut("2.5")
        canvas.drawText(line)

    assert codes(ask(tmp_path, draw, word("2.5"))) == {"text_without_ink"}


def test_a_patch_over_the_decimal_point_is_found(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2.5")
        canvas.setFillGray(1)
        canvas.rect(LEFT + 5.3, BASE - 1, 2, 3, stroke=0, fill=1)

    answer = ask(tmp_path, draw, word("2.5"))
    assert codes(answer) == {"text_without_ink"}
    assert "'.'" in answer.doubts[0].message


def test_a_patch_over_half_a_figure_is_found(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "8")
        canvas.setFillGray(1)
        canvas.rect(LEFT - 1, BASE + 3.2, 8, 5, stroke=0, fill=1)

    assert ask(tmp_path, draw, word("8")).agrees is not True


def test_a_visible_figure_that_the_claim_leaves_out_is_found(tmp_path: Path) -> None:
    answer = ask(tmp_path, lambda c: write(c, "12.5"), word("2.5", LEFT + 5.004))
    assert answer.agrees is False
    assert codes(answer) == {"ink_without_text"}


@pytest.mark.parametrize(
    ("shown", "mapped", "live"),
    [
        ("2.5", {"2": "8", "5": "3"}, "8.3"),
        ("10–12", {"–": "2"}, "10212"),
        ("3.2", {"3": "2", "2": "3"}, "2.3"),
        ("14", {"4": "7"}, "17"),
        ("0.9", {"9": "6"}, "0.6"),
        ("25", {"5": "."}, "2."),
    ],
)
def test_a_unicode_map_that_lies_is_found_by_the_shapes(
    tmp_path: Path, shown: str, mapped: dict[str, str], live: str
) -> None:
    font = register(str(FREE_FONT), mapped)
    width = pdfmetrics.stringWidth(shown, font, SIZE)
    box = Box(x0=LEFT, top=PAGE[1] - BASE - 7.5, x1=LEFT + width, bottom=PAGE[1] - BASE + 2)
    answer = ask(tmp_path, lambda c: write(c, shown, font=font), Word(text=live, box=box, size=SIZE))
    assert answer.agrees is False
    assert codes(answer) == {"text_differs_from_picture"}


def test_without_a_recogniser_a_word_that_is_not_on_the_page_is_not_witnessed(tmp_path: Path) -> None:
    answer = ask(tmp_path, lambda c: write(c, "2.5"), word("9.5"))
    assert answer.agrees is None
    assert codes(answer) == {"not_witnessed"}


def test_a_note_mark_is_accounted_for(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        write(canvas, "2.3")
        canvas.setFont("Helvetica", 5)
        canvas.drawString(LEFT + 13, BASE + 3.5, "1")

    mark = Mark(text="1", box=Box(x0=LEFT + 13, top=PAGE[1] - BASE - 7.5, x1=LEFT + 16, bottom=PAGE[1] - BASE - 3))
    assert ask(tmp_path, draw, word("2.3", marks=(mark,))).agrees is True


def test_a_turned_page_is_read_as_shown(tmp_path: Path) -> None:
    # On a page turned clockwise by 90 degrees, what is at (x, y) from the bottom left is shown at (y, x)
    # from the top left.
    path = tmp_path / "turned.pdf"
    canvas = Canvas(str(path), pagesize=PAGE)
    canvas.setPageRotation(90)
    write(canvas, "2.5")
    canvas.save()
    box = Box(x0=BASE - 2, top=LEFT, x1=BASE + 8, bottom=LEFT + 13)
    claim = Claim(
        box=Box(x0=BASE - 10, top=LEFT - 10, x1=BASE + 20, bottom=LEFT + 40),
        words=(Word(text="2.5", box=box, size=SIZE, turn=90),),
        text="2.5",
    )
    with Witness.open(path, recogniser=False) as witness:
        (answer,) = witness.check(1, [claim])
    assert answer.agrees is True


def test_a_page_that_is_not_there_is_an_index_error(tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    canvas = Canvas(str(path), pagesize=PAGE)
    write(canvas, "2.5")
    canvas.save()
    claim = Claim(box=CELL, words=(word("2.5"),), text="2.5")
    with Witness.open(path, recogniser=False) as witness, pytest.raises(IndexError, match="page 2 of 1"):
        witness.check(2, [claim])


def test_no_claims_render_nothing(tmp_path: Path) -> None:
    path = tmp_path / "one.pdf"
    canvas = Canvas(str(path), pagesize=PAGE)
    write(canvas, "2.5")
    canvas.save()
    with Witness.open(path, recogniser=False) as witness:
        assert witness.check(1, []) == ()
