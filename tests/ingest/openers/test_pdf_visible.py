"""Only what a reader of the page sees is read; what was left out is said, what is doubtful is marked."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Page
from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.plugins import OpenWish

Drawing = Callable[[Canvas], None]


def read_drawing(folder: Path, drawing: Drawing, change: Callable[[bytes], bytes] = lambda content: content) -> Page:
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(595, 842), invariant=True, pageCompression=0)
    canvas.setFont("Helvetica", 9)
    drawing(canvas)
    canvas.showPage()
    canvas.save()
    path = folder / "drawn.pdf"
    path.write_bytes(change(stream.getvalue()))
    return PdfOpener().open(path, OpenWish(every_page=True)).pages[0]


def texts(page: Page) -> list[str]:
    return [word.text for word in page.words]


def codes(page: Page) -> list[str]:
    return [finding.code for finding in page.findings]


def doubts(page: Page) -> dict[str, list[str]]:
    return {word.text: [doubt.code for doubt in word.doubts] for word in page.words}


def picture(width: int, height: int, alpha: int = 255) -> ImageReader:
    if alpha < 255:
        return ImageReader(Image.new("RGBA", (width, height), (200, 210, 220, alpha)))
    return ImageReader(Image.new("RGB", (width, height), (200, 210, 220)))


def test_white_text_on_white_is_left_out_and_said(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.setFillGray(1)
        canvas.drawString(100, 700, "3.5")
        canvas.setFillGray(0)
        canvas.drawString(130, 700, "2.5")

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["2.5"]
    assert codes(page) == ["page_hidden_text"]
    assert page.findings[0].printed == "3.5"


def test_white_text_on_a_dark_ground_is_live(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.setFillGray(0.2)
        canvas.rect(90, 690, 100, 30, stroke=0, fill=1)
        canvas.drawString(100, 700, "covered by nothing, but dark on dark")
        canvas.setFillGray(1)
        canvas.drawString(100, 710, "Torque")

    assert "Torque" in texts(read_drawing(tmp_path, drawing))
    assert "covered" not in texts(read_drawing(tmp_path, drawing))


def test_clipped_text_and_text_outside_the_page_are_left_out(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.saveState()
        path = canvas.beginPath()
        path.rect(90, 690, 40, 30)
        canvas.clipPath(path, stroke=0)
        canvas.drawString(100, 700, "in")
        canvas.drawString(300, 700, "clipped")
        canvas.restoreState()
        canvas.drawString(300, 600, "free")
        canvas.drawString(700, 600, "beyond")

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["in", "free"]
    assert page.findings[0].printed == "clipped beyond"


def test_number_cut_by_a_clip_is_doubted(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        path = canvas.beginPath()
        path.rect(90, 690, 20.5, 30)
        canvas.clipPath(path, stroke=0)
        canvas.drawString(100, 700, "12.5")

    assert doubts(read_drawing(tmp_path, drawing)) == {"12": ["text_covered"]}


def test_what_lies_outside_the_crop_box_is_not_read_and_places_count_from_it(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.setCropBox((50, 400, 400, 800))
        canvas.drawString(100, 700, "inside")
        canvas.drawString(100, 300, "outside")
        canvas.drawString(450, 700, "beside")

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["inside"]
    assert (page.width, page.height) == (350, 400)
    assert page.words[0].box.x0 == pytest.approx(50, abs=0.1)
    assert page.words[0].baseline == pytest.approx(100, abs=0.1)


@pytest.mark.parametrize("rotation", [90, 180, 270])
def test_page_rotation_turns_words_and_page(tmp_path: Path, rotation: int) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "2.5")
        canvas.line(100, 690, 200, 690)

    page = read_drawing(tmp_path, drawing, lambda content: content.replace(b"/Rotate 0", b"/Rotate %d" % rotation))
    assert page.words[0].turn == rotation
    assert (page.width, page.height) == ((842, 595) if rotation != 180 else (595, 842))
    assert page.rules[0].horizontal == (rotation == 180)
    box = page.words[0].box
    assert 0 < box.x0 < box.x1 < page.width
    assert 0 < box.top < box.bottom < page.height


def test_text_without_ink_is_left_out(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 600, "2.5")
        text = canvas.beginText(100, 700)
        text.setTextRenderMode(3)
        text.textOut("9.9")
        canvas.drawText(text)

    page = read_drawing(tmp_path, drawing)
    assert texts(page) == ["2.5"]
    assert codes(page) == ["page_hidden_text"]


def test_recognised_text_over_a_scan_is_kept_and_doubted(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawImage(picture(60, 80), 0, 0, 595, 842)
        text = canvas.beginText(100, 700)
        text.setTextRenderMode(3)
        text.textOut("7.2")
        canvas.drawText(text)

    assert doubts(read_drawing(tmp_path, drawing)) == {"7.2": ["text_invisible"]}


def test_text_beneath_a_page_wide_picture_is_doubted_too(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "7.2")
        canvas.drawImage(picture(60, 80), 0, 0, 595, 842)

    assert doubts(read_drawing(tmp_path, drawing)) == {"7.2": ["text_invisible"]}


def test_text_under_a_patch_is_left_out_and_what_is_drawn_over_it_is_read(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "3.5")
        canvas.setFillGray(1)
        canvas.rect(95, 695, 40, 15, stroke=0, fill=1)
        canvas.setFillGray(0)
        canvas.drawString(100, 700, "2.5")

    page = read_drawing(tmp_path, drawing)
    assert doubts(page) == {"2.5": []}
    assert page.findings[0].printed == "3.5"


def test_text_under_glass_stays_live(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "2.5")
        canvas.setFillColorRGB(1, 1, 0, alpha=0.4)
        canvas.rect(95, 695, 40, 15, stroke=0, fill=1)

    assert doubts(read_drawing(tmp_path, drawing)) == {"2.5": []}


@pytest.mark.parametrize(("alpha", "read"), [(90, {"2.5": [], "4": []}), (250, {"4": []})])
def test_figure_under_a_transparent_picture_is_read_where_it_shows(
    tmp_path: Path, alpha: int, read: dict[str, list[str]]
) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "2.5")
        canvas.drawString(100, 600, "4")
        canvas.drawImage(picture(40, 40, alpha), 90, 690, 50, 30, mask="auto")

    assert doubts(read_drawing(tmp_path, drawing)) == read


def test_figure_half_of_which_lies_under_a_transparent_picture_is_doubted(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "5")
        canvas.drawImage(picture(40, 40, alpha=250), 90, 690, 50, 13, mask="auto")

    assert doubts(read_drawing(tmp_path, drawing)) == {"5": ["text_covered"]}


def _with_layer(content: bytes, off: bool, switched: bytes = b"", usage: bytes = b"") -> bytes:
    """Turn the drawing's marked content into a layer, switched on or off; `switched` is more of the settings."""
    settings = b"%s [900 0 R] %s" % (b"/OFF" if off else b"/ON", switched)
    group = b"/OCProperties << /OCGs [900 0 R] /D << %s >> >>" % settings
    content = content.replace(b"/Type /Catalog", group + b" /Type /Catalog")
    content = content.replace(b"/ProcSet [", b"/Properties << /L1 900 0 R >> /ProcSet [")
    start = content.rindex(b"xref\n", 0, content.rindex(b"startxref"))
    return content[:start] + b"900 0 obj\n<< /Type /OCG /Name (old) %s >>\nendobj\n" % usage + content[start:]


@pytest.mark.parametrize(("off", "read"), [(True, ["2.0"]), (False, ["18", "2.0"])])
def test_layer_is_read_only_when_switched_on(tmp_path: Path, off: bool, read: list[str]) -> None:
    page = read_drawing(tmp_path, _layered, lambda content: _with_layer(content, off))
    assert texts(page) == read
    assert codes(page) == (["page_hidden_text"] if off else [])


def _layered(canvas: Canvas) -> None:
    canvas._code.append("/OC /L1 BDC")
    canvas.drawString(100, 720, "18")
    canvas._code.append("EMC")
    canvas.drawString(100, 700, "2.0")


@pytest.mark.parametrize(
    ("off", "event", "category", "state", "shown"),
    [
        (False, "View", "/View", "OFF", False),
        (False, "View", "[/Zoom /View]", "OFF", False),
        (True, "View", "[/View]", "ON", True),
        (False, "Print", "[/View]", "OFF", True),
        (False, "View", "[/Print]", "OFF", True),
    ],
)
def test_layer_is_switched_by_its_usage_where_the_file_says_so(
    tmp_path: Path, off: bool, event: str, category: str, state: str, shown: bool
) -> None:
    switched = f"/AS [<< /Event /{event} /Category {category} /OCGs [900 0 R] >>]".encode()
    usage = f"/Usage << /View << /ViewState /{state} >> >>".encode()
    page = read_drawing(tmp_path, _layered, lambda content: _with_layer(content, off, switched, usage))
    assert texts(page) == (["18", "2.0"] if shown else ["2.0"])


def test_struck_out_figure_is_doubted_by_bar_rectangle_or_slash(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "3.5")
        canvas.line(99, 703, 114, 703)
        canvas.drawString(100, 680, "4.5")
        canvas.rect(99, 682.6, 15, 0.7, stroke=0, fill=1)
        canvas.drawString(100, 660, "5.5")
        canvas.line(100, 658, 113, 668)
        canvas.drawString(130, 700, "2.5")
        canvas.drawString(100, 640, "6.5")
        canvas.line(99, 638, 114, 638)

    page = read_drawing(tmp_path, drawing)
    struck = ["text_struck_out"]
    assert doubts(page) == {"3.5": struck, "4.5": struck, "5.5": struck, "2.5": [], "6.5": []}
    assert [round(rule.at) for rule in page.rules] == [842 - 638]


def test_drawn_point_and_drawn_dash_are_ink_without_text(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "2")
        canvas.circle(106.4, 700.6, 0.6, stroke=0, fill=1)
        canvas.drawString(107.6, 700, "5")
        canvas.drawString(100, 680, "10")
        canvas.line(111.5, 683, 115, 683)
        canvas.drawString(116.5, 680, "12")
        canvas.drawString(100, 660, "16")

    ink = ["ink_without_text"]
    assert doubts(read_drawing(tmp_path, drawing)) == {"2": ink, "5": ink, "10": ink, "12": ink, "16": []}


def test_bullet_before_a_line_is_no_ink_of_its_figures(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.circle(92, 703, 1.5, stroke=0, fill=1)
        canvas.drawString(100, 700, "2.5")

    assert doubts(read_drawing(tmp_path, drawing)) == {"2.5": []}


@pytest.mark.parametrize("angle", [0, 35])
def test_watermark_is_left_out_and_named(tmp_path: Path, angle: int) -> None:
    def drawing(canvas: Canvas) -> None:
        for line in range(5):
            canvas.drawString(100, 700 - 15 * line, f"X{line} 2.5 0.{line}")
        canvas.saveState()
        canvas.translate(95, 650)
        canvas.rotate(angle)
        canvas.setFillGray(0.85)
        canvas.setFont("Helvetica-Bold", 60)
        canvas.drawString(0, 0, "ISSUE 3")
        canvas.restoreState()

    page = read_drawing(tmp_path, drawing)
    assert len(page.words) == 15
    assert not any(word.doubts for word in page.words)
    assert [(finding.code, finding.printed) for finding in page.findings] == [("page_slanted_text", "ISSUE 3")]


def test_form_field_value_is_read_where_it_stands_and_said(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "Torque")
        canvas.acroForm.textfield(value="1.2", x=200, y=695, width=60, height=16, fontSize=9, borderWidth=0)

    page = read_drawing(tmp_path, drawing)
    assert sorted(texts(page)) == ["1.2", "Torque"]
    field = next(word for word in page.words if word.text == "1.2")
    assert 200 <= field.box.x0 < field.box.x1 <= 260
    assert field.box.top + 2 >= 842 - 711
    assert codes(page) == ["page_form_fields"]


def test_form_field_without_an_appearance_is_read_from_its_value(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.acroForm.textfield(value="1.2", x=200, y=695, width=60, height=16, fontSize=9, borderWidth=0)
        canvas.drawString(100, 700, "Torque")

    page = read_drawing(tmp_path, drawing, lambda content: content.replace(b"/AP ", b"/XP "))
    assert texts(page) == ["Torque", "1.2"]


def test_strike_out_note_doubts_the_word_beneath(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(100, 700, "3.5")
        canvas.drawString(150, 700, "2.5")
        canvas.linkURL("https://example.org", (99, 698, 114, 708))

    def change(content: bytes) -> bytes:
        return content.replace(b"/Subtype /Link", b"/Subtype /StrikeOut")

    assert doubts(read_drawing(tmp_path, drawing, change)) == {"3.5": ["text_struck_out"], "2.5": []}
