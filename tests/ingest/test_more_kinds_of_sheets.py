"""More sheets drawn to mislead a reader: sizes of another part, text under text, print beside print."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from reportlab.lib.colors import white as white_colour
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


def printed_again(*ways: tuple[float, float]) -> Callable[[str], Write]:
    """Write a text several times beside itself, for a bold look."""

    def make(text: str) -> Write:
        def write(canvas: Canvas, x: float, y: float) -> None:
            for right, up in ways:
                canvas.drawString(x + right, y + up, text)

        return write

    return make


def stroked(text: str) -> Write:
    """Write a text with its outlines stroked, and once more in a bold face."""

    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas._code.append("2 Tr")
        canvas.drawString(x, y, text)
        canvas._code.append("0 Tr")
        canvas.setFont("Helvetica-Bold", 9)
        canvas.drawString(x, y, text)

    return write


@pytest.mark.parametrize("bold", [printed_again((0, 0), (0.5, 0), (1, 0)), printed_again((0, 0), (0, 0.4)), stroked])
def test_figures_made_bold_by_more_ink_are_read(tmp_path: Path, bold: Callable[[str], Write]) -> None:
    path = tmp_path / "bold.pdf"
    draw(path, [HEADS, ("N", "6", bold("2.22")), ("PE", "10", bold("11")), ("A1", "4", bold("0.8"))]).save()
    assert released(path) == {"N": "2.22", "PE": "11", "A1": "0.8"}


def test_a_point_drawn_in_figures_made_bold_is_seen(tmp_path: Path) -> None:
    twice = printed_again((0, 0), (0.5, 0))

    def write(canvas: Canvas, x: float, y: float) -> None:
        twice("2")(canvas, x, y)
        twice("5")(canvas, x + 7.5, y)
        canvas.rect(x + 5.9, y, 1.2, 1.1, stroke=0, fill=1)

    path = tmp_path / "point.pdf"
    draw(path, [HEADS, ("N", "6", write), ("PE", "10", "2")]).save()
    assert released(path) == {"PE": "2"}


@pytest.mark.parametrize("told", ["2.5", "two and a half", "9.9"])
def test_text_that_stands_in_for_the_print_does_not_count(tmp_path: Path, told: str) -> None:
    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas._code.append(f"/Span << /ActualText ({told}) >> BDC")
        canvas.drawString(x, y, "2.5")
        canvas._code.append("EMC")

    path = tmp_path / "stand_in.pdf"
    draw(path, [HEADS, ("N", "6", write), ("PE", "10", "2")]).save()
    assert released(path) == {"N": "2.5", "PE": "2"}


def filled(value: str) -> Write:
    """Fill a form field that covers an older figure."""

    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.drawString(x, y, "9.9")
        white_ground = {"fillColor": white_colour, "borderWidth": 0, "borderColor": white_colour}
        canvas.acroForm.textfield(value=value, x=x - 2, y=y - 3, width=40, height=14, fontSize=9, **white_ground)

    return write


def test_a_field_filled_over_an_older_figure_is_read_from_the_picture(tmp_path: Path) -> None:
    path = tmp_path / "filled.pdf"
    draw(path, [HEADS, ("N", "6", filled("1.2")), ("PE", "10", filled("2.5"))]).save()
    assert released(path) == {"N": "1.2", "PE": "2.5"}


def led_by(mark: str, text: str, size: float = 5.5) -> Write:
    """Write a small raised mark right before a text."""

    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.setFont("Helvetica", size)
        canvas.drawString(x, y + 3.2, mark)
        canvas.setFont("Helvetica", 9)
        canvas.drawString(x + canvas.stringWidth(mark, "Helvetica", size) + 0.3, y, text)

    return write


def test_a_raised_mark_before_a_figure_is_no_figure(tmp_path: Path) -> None:
    path = tmp_path / "led.pdf"
    rows = [HEADS, ("N", "4", led_by("1", "2.0")), ("PE", "6", led_by("2)", "2.5")), ("A1", "4", led_by("7", "1.8"))]
    canvas = draw(path, [*rows, ("A2", "4", "\u00b92.2")])
    for number, note in enumerate(("1 copper wires", "2) retighten")):
        canvas.drawString(50, 600 - 12 * number, note)
    canvas.save()
    assert released(path) == {"N": "2.0", "PE": "2.5", "A2": "2.2"}
    assert "note_attached" in codes(path)["N"]
    assert "note_unresolved" in codes(path)["A1"]


def test_small_figures_one_over_the_other_before_a_figure_are_held(tmp_path: Path) -> None:
    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.setFont("Helvetica", 5.5)
        canvas.drawString(x, y + 4, "1")
        canvas.drawString(x, y - 2, "2")
        canvas.setFont("Helvetica", 9)
        canvas.drawString(x + 3.5, y, "20")

    path = tmp_path / "stacked.pdf"
    canvas = draw(path, [HEADS, ("N", "95", write), ("PE", "6", "2")])
    canvas.drawString(50, 600, "1 copper wires")
    canvas.drawString(50, 588, "2 retighten")
    canvas.save()
    assert released(path) == {"PE": "2"}


@pytest.mark.parametrize("opening", ["*1 ", "*1: ", "*1) ", "1) "])
def test_a_note_numbered_behind_a_star_is_found(tmp_path: Path, opening: str) -> None:
    def write(canvas: Canvas, x: float, y: float) -> None:
        canvas.drawString(x, y, "2.5")
        canvas.setFont("Helvetica", 5.5)
        canvas.drawString(x + 12.8, y + 3.2, "*1")

    path = tmp_path / "star.pdf"
    canvas = draw(path, [HEADS, ("N", "6", write), ("PE", "10", "2")])
    canvas.drawString(50, 600, f"{opening}copper wires")
    canvas.save()
    assert released(path) == {"N": "2.5", "PE": "2"}
    assert "note_attached" in codes(path)["N"]


def test_a_star_of_its_own_is_another_mark(tmp_path: Path) -> None:
    path = tmp_path / "stars.pdf"
    canvas = draw(path, [HEADS, ("N", "6", led_by("*1", "2.5")), ("PE", "10", "2")])
    canvas.drawString(50, 600, "*1 3.5 N·m for wires with lugs")
    canvas.drawString(50, 588, "1) copper wires")
    canvas.save()
    assert released(path) == {"PE": "2"}


def test_labels_that_run_over_the_cells_behind_them_cost_no_other_row(tmp_path: Path) -> None:
    path = tmp_path / "over_running.pdf"
    long, longer = "Main poles, upper side, with lugs", "Main poles, lower side, with lugs and with its covers on"
    rows = [HEADS, (long, "35", "3.5"), (longer, "50", "6.0"), ("Auxiliary", "1.5", "0.8"), ("Earth", "16", "2.5")]
    draw(path, rows, ruled=False).save()
    assert released(path) == {"Auxiliary": "0.8", "Earth": "2.5"}
    report = read_sheet(path)
    held = [setting.torque.printed for setting in report.settings if setting.state == "held"]
    named = [("6.0" in finding.printed, finding.place.row) for finding in report.findings if finding.place]
    assert (held, named) == (["3.5"], [(True, 3)])
