"""Whole files: what is refused and why, what is repaired, which pages are looked at, what rules come out."""

from __future__ import annotations

import contextlib
import io
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from assembled_pdf import assemble_pdf
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from torquary_ingest.document import Document
from torquary_ingest.errors import SheetRefused
from torquary_ingest.openers.pdf import PdfOpener
from torquary_ingest.openers.pdf.bearing import can_bear_figure
from torquary_ingest.openers.pdf.limits import LARGEST_CONTENT
from torquary_ingest.openers.pdf.look import choose_pages
from torquary_ingest.plugins import OpenWish
from torquary_ingest.skeleton import make_skeleton

Drawing = Callable[[Canvas], None]


def chosen(content: bytes) -> frozenset[int]:
    looked = choose_pages(content, "")
    assert looked is not None
    return looked.numbers


def draw(*pages: Drawing, **options: object) -> bytes:
    """Draw A4 pages, uncompressed so that a test can change the file."""
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(595, 842), invariant=True, pageCompression=0, **options)
    for drawing in pages:
        canvas.setFont("Helvetica", 9)
        drawing(canvas)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def write(text: str) -> Drawing:
    def drawing(canvas: Canvas) -> None:
        for number, line in enumerate(text.splitlines()):
            canvas.drawString(60, 780 - 14 * number, line)

    return drawing


def open_bytes(folder: Path, content: bytes, **wish: object) -> Document:
    path = folder / "sheet.pdf"
    path.write_bytes(content)
    return PdfOpener().open(path, OpenWish(**{"every_page": True, **wish}))  # type: ignore[arg-type]


def refusal(folder: Path, content: bytes, **wish: object) -> str:
    with pytest.raises(SheetRefused) as caught:
        open_bytes(folder, content, **wish)
    assert len(caught.value.message.splitlines()) == 1
    return caught.value.code


def make_pdf(
    content: bytes, extra: bytes = b"", font: bytes = b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"
) -> bytes:
    """Build a file of one page by hand; `content` is the whole content stream object."""
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R "
        b"/Resources << /Font << /F1 5 0 R >> >> >>",
        content,
        font,
        *([extra] if extra else []),
    ]
    return assemble_pdf(dict(enumerate(objects, start=1)))


def stream(data: bytes, entries: bytes = b"") -> bytes:
    return b"<< /Length %d %s >>\nstream\n%s\nendstream" % (len(data), entries, data)


def test_empty_file_and_what_is_no_pdf_are_refused_by_name(tmp_path: Path) -> None:
    assert refusal(tmp_path, b"") == "sheet_empty"
    assert refusal(tmp_path, b"this is a letter, not a datasheet\n" * 50) == "sheet_damaged"


def test_file_without_pages_is_refused(tmp_path: Path) -> None:
    content = draw(write("2.5")).replace(b"/Kids [ ", b"/Kids [] /Lost [ ")
    assert refusal(tmp_path, content) == "sheet_no_pages"


def test_page_without_words_is_refused_as_having_no_text(tmp_path: Path) -> None:
    assert refusal(tmp_path, draw(lambda canvas: canvas.circle(100, 100, 20))) == "sheet_no_text"


def test_file_that_needs_a_password_is_refused_and_opens_with_it(tmp_path: Path) -> None:
    content = draw(write("2.5 Nm"), encrypt=StandardEncryption("open-me", ownerPassword="own"))
    assert refusal(tmp_path, content) == "sheet_encrypted"
    assert refusal(tmp_path, content, password="wrong") == "sheet_encrypted"
    document = open_bytes(tmp_path, content, password="open-me")
    assert [word.text for word in document.pages[0].words] == ["2.5", "Nm"]


@pytest.mark.parametrize("password", ["", "meant for another file"])
def test_permission_bit_is_said_and_the_file_read(tmp_path: Path, password: str) -> None:
    content = draw(write("2.5 Nm"), encrypt=StandardEncryption("", ownerPassword="own", canCopy=0))
    document = open_bytes(tmp_path, content, password=password)
    assert [word.text for word in document.pages[0].words] == ["2.5", "Nm"]
    assert [finding.code for finding in document.findings] == ["sheet_permissions"]


def test_wrong_startxref_is_repaired_and_said(tmp_path: Path) -> None:
    whole = draw(write("2.5 Nm"))
    start = whole.rindex(b"startxref")
    document = open_bytes(tmp_path, whole[:start] + b"startxref\n7\n%%EOF\n")
    assert [word.text for word in document.pages[0].words] == ["2.5", "Nm"]
    assert [finding.code for finding in document.findings] == ["sheet_repaired"]
    assert open_bytes(tmp_path, whole).findings == ()


def test_appended_change_counts(tmp_path: Path) -> None:
    whole = make_pdf(stream(b"BT /F1 9 Tf 60 700 Td (2.8) Tj ET"))
    previous = int(whole[whole.rindex(b"startxref") + 9 :].split()[0])
    body = b"4 0 obj\n%s\nendobj\n" % stream(b"BT /F1 9 Tf 60 700 Td (1.8) Tj ET")
    at = len(whole) + len(body)
    changed = whole + body + b"xref\n4 1\n%010d 00000 n \n" % len(whole)
    changed += b"trailer\n<< /Size 6 /Root 1 0 R /Prev %d >>\nstartxref\n%d\n%%%%EOF\n" % (previous, at)
    assert [word.text for word in open_bytes(tmp_path, changed).pages[0].words] == ["1.8"]


@pytest.mark.parametrize("layers", [1, 2])
def test_stream_that_inflates_without_bound_is_refused(tmp_path: Path, layers: int) -> None:
    packer = zlib.compressobj(9)
    data = b"".join(packer.compress(b" " * 1_000_000) for _ in range(LARGEST_CONTENT // 1_000_000 + 2)) + packer.flush()
    if layers == 2:
        data = zlib.compress(data, 9)
    filters = b"/Filter [%s]" % (b" /FlateDecode" * layers)
    assert refusal(tmp_path, make_pdf(stream(data, filters)), every_page=False) == "sheet_too_large"


def test_deep_nesting_in_an_unused_object_does_no_harm(tmp_path: Path) -> None:
    deep = b"[" * 20_000 + b"]" * 20_000
    document = open_bytes(tmp_path, make_pdf(stream(b"BT /F1 9 Tf 60 700 Td (1.7) Tj ET"), extra=deep))
    assert [word.text for word in document.pages[0].words] == ["1.7"]


def test_script_is_named_and_not_run(tmp_path: Path) -> None:
    action = b"/OpenAction << /S /JavaScript /JS (app.alert\\(1\\)) >> /Type /Catalog"
    document = open_bytes(tmp_path, draw(write("2.5 Nm")).replace(b"/Type /Catalog", action))
    assert "sheet_active_content" in [finding.code for finding in document.findings]
    assert [word.text for word in document.pages[0].words] == ["2.5", "Nm"]


def test_font_of_glyph_numbers_without_a_map_is_not_guessed(tmp_path: Path) -> None:
    font = (
        b"<< /Type /Font /Subtype /Type0 /BaseFont /Nameless /Encoding /Identity-H /DescendantFonts [<< /Type /Font "
        b"/Subtype /CIDFontType2 /BaseFont /Nameless /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) "
        b"/Supplement 0 >> /DW 600 /FontDescriptor << /Type /FontDescriptor /FontName /Nameless /Flags 4 >> >>] >>"
    )
    assert refusal(tmp_path, make_pdf(stream(b"BT /F1 9 Tf 60 700 Td <000F0010> Tj ET"), font=font)) == "sheet_no_text"


def _lying(pairs: list[tuple[str, str]]) -> bytes:
    """Draw figures in an embedded face and change what its Unicode map says of some of them."""
    pdfmetrics.registerFont(TTFont("Vera", "Vera.ttf"))

    def drawing(canvas: Canvas) -> None:
        canvas.setFont("Vera", 9)
        canvas.drawString(60, 700, "Torque 0.12 34-56 789")

    content = draw(drawing)
    for drawn, said in pairs:
        entry = b"<%02X> <%04X>"
        assert entry % (ord(drawn), ord(drawn)) in content
        content = content.replace(entry % (ord(drawn), ord(drawn)), entry % (ord(drawn), ord(said)))
    return content


@pytest.mark.parametrize(
    "pairs",
    [[("2", "8")], [("3", "5"), ("5", "3")], [("-", "2")], [("6", "9")], [("1", "7")], [("0", "6")], [("4", "1")]],
)
def test_map_that_calls_a_shape_by_another_digit_is_found_out(tmp_path: Path, pairs: list[tuple[str, str]]) -> None:
    words = open_bytes(tmp_path, _lying(pairs)).pages[0].words
    assert [word.doubts == () for word in words] == [True, False, False, False]
    assert {doubt.code for word in words for doubt in word.doubts} == {"text_differs_from_picture"}


def test_true_map_of_an_embedded_face_raises_no_doubt(tmp_path: Path) -> None:
    words = open_bytes(tmp_path, _lying([])).pages[0].words
    assert [word.text for word in words] == ["Torque", "0.12", "34-56", "789"]
    assert not any(word.doubts for word in words)


def test_quick_look_keeps_pages_with_figures_and_the_table_going_on_overleaf(tmp_path: Path) -> None:
    pages = [
        write("Handbook"),
        write("Nothing of the kind\nis said here"),
        write("Terminal Torque N·m\nL1 2.5"),
        write("L2 2.5\nL3 2.5"),
        write("Mounting instructions\nwith words only"),
        write("Storage 1\nFurther 2"),
        write("Anzugs-\ndrehmoment 4"),
        write("TTiigghhtteenniinngg ttoorrqquuee 5"),
        write("Leiter 1,5 mm²"),
    ]
    content = draw(*pages)
    assert chosen(content) == {1, 3, 4, 7, 8, 9}
    document = open_bytes(tmp_path, content, every_page=False)
    assert [page.number for page in document.pages] == [1, 3, 4, 7, 8, 9]
    assert document.page_count == 9


@pytest.mark.parametrize(
    "text",
    [
        "2.5 Nm",
        "2,5 N·m",
        "25 lb-in",
        "18 in.lbs",
        "1/0 AWG",
        "1.2 Н·м",
        "拧紧力矩 1.2",
        "締付トルク 1.2",
        "couple de serrage 1,2",
    ],
)
def test_quick_look_knows_units_and_words(text: str) -> None:
    assert can_bear_figure(text)


def test_quick_look_passes_over_prose() -> None:
    assert not can_bear_figure("Chapter 4 tells where the box is kept")
    assert not can_bear_figure("torque without a figure")


def test_title_is_the_largest_print_on_the_first_page(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(60, 700, "Terminal Torque N·m")
        canvas.setFont("Helvetica-Bold", 16)
        canvas.drawString(60, 760, "Contactor AB-3")

    document = open_bytes(tmp_path, draw(drawing))
    assert make_skeleton(document, ()).title == "Contactor AB-3"


def test_rules_from_strokes_hairlines_and_dashes_are_merged_and_white_ones_dropped(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.drawString(60, 760, "words")
        canvas.line(100, 700, 200, 700)
        canvas.line(200.5, 700, 300, 700)
        canvas.rect(100, 679.8, 200, 0.4, stroke=0, fill=1)
        for start in range(100, 300, 5):
            canvas.line(start, 660, start + 3, 660)
        canvas.setStrokeGray(1)
        canvas.line(100, 640, 300, 640)
        canvas.setStrokeGray(0)
        canvas.rect(100, 500, 200, 100)

    page = open_bytes(tmp_path, draw(drawing)).pages[0]
    level = sorted((round(rule.at), round(rule.start), round(rule.end)) for rule in page.rules if rule.horizontal)
    upright = sorted((round(rule.at), round(rule.start), round(rule.end)) for rule in page.rules if not rule.horizontal)
    assert level == [(142, 100, 300), (162, 100, 300), (182, 100, 298), (242, 100, 300), (342, 100, 300)]
    assert upright == [(100, 242, 342), (300, 242, 342)]


def test_shades_are_filled_areas_that_differ_from_the_page(tmp_path: Path) -> None:
    def drawing(canvas: Canvas) -> None:
        canvas.setFillGray(0.9)
        canvas.rect(100, 500, 200, 20, stroke=0, fill=1)
        canvas.setFillGray(1)
        canvas.rect(100, 400, 200, 20, stroke=0, fill=1)
        canvas.setFillGray(0)
        canvas.drawString(110, 505, "row")

    shades = open_bytes(tmp_path, draw(drawing)).pages[0].shades
    assert [(round(shade.box.top), round(shade.colour, 2)) for shade in shades] == [(322, 0.9)]


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2000), st.binary(min_size=1, max_size=12))
def test_damage_gives_a_document_or_a_refusal_and_nothing_else(
    tmp_path_factory: pytest.TempPathFactory, at: int, noise: bytes
) -> None:
    content = bytearray(draw(write("Torque 2.5 N·m")))
    place = at % len(content)
    content[place : place + len(noise)] = noise
    # Anything but a refusal would go through and fail the test.
    with contextlib.suppress(SheetRefused):
        assert open_bytes(tmp_path_factory.mktemp("damage"), bytes(content)).page_count >= 1
