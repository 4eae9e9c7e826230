"""Pages whose font has no Unicode map nor names of glyphs are read as pictures: proposals, held, and said to be so.

With names they are read by them. Names of glyphs: OpenType specification, tables `post` (versions 2 and 3) and `maxp`.
"""

from __future__ import annotations

import ctypes
import io
import struct
from decimal import Decimal
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import reportlab

from torquary_ingest.openers.pdf import scanned
from torquary_ingest.reader import read_sheet

FACE = Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"
PROSE = ["The device is mounted on a rail in a dry place."] * 5
TABLE = ["Terminal      Torque N·m", "L1                2.5", "L2                3.5", "PE               1.2"]


def find_table(face: bytes, tag: bytes) -> int:
    """Return where a table of a font program begins."""
    (count,) = struct.unpack(">H", face[4:6])
    rows = (struct.unpack(">4sLLL", face[at : at + 16]) for at in range(12, 12 + 16 * count, 16))
    return next(offset for name, _, offset, _ in rows if name == tag)


def patch(face: bytes, at: int, written: bytes) -> bytes:
    return face[:at] + written + face[at + len(written) :]


NAMED = FACE.read_bytes()
NAMELESS = patch(NAMED, find_table(NAMED, b"post"), b"\0\3\0\0")
OTHER_COUNT = patch(NAMED, find_table(NAMED, b"post") + 32, struct.pack(">H", 260))


def draw_mute(*pages: list[str], face: bytes = NAMELESS) -> bytes:
    """Draw lines in an embedded face whose codes are glyph numbers, and take its Unicode map away."""
    document = pypdfium2.PdfDocument.new()
    content = face
    buffer = (ctypes.c_uint8 * len(content)).from_buffer_copy(content)
    font = pdfium.FPDFText_LoadFont(document, buffer, len(content), pdfium.FPDF_FONT_TRUETYPE, 1)
    for lines in pages:
        page = document.new_page(595, 842)
        for at, line in enumerate(lines):
            for column, part in enumerate(filter(None, (part.strip() for part in line.split("   ")))):
                piece = pdfium.FPDFPageObj_CreateTextObj(document, font, 12)
                pdfium.FPDFText_SetText(piece, (ctypes.c_ushort * (len(part) + 1))(*map(ord, part), 0))
                pdfium.FPDFPageObj_Transform(piece, 1, 0, 0, 1, 72 + 150 * column, 740 - 24 * at)
                pdfium.FPDFPage_InsertObject(page, piece)
        page.gen_content()
    target = io.BytesIO()
    document.save(target)
    assert b"/ToUnicode" in target.getvalue()
    return target.getvalue().replace(b"/ToUnicode", b"/XoUnicode")


@pytest.mark.parametrize("face", [NAMELESS, OTHER_COUNT])
def test_a_table_without_known_characters_is_read_from_its_picture_and_held(tmp_path: Path, face: bytes) -> None:
    """Names that were made for another count of glyphs are no names."""
    sheet = tmp_path / "mute.pdf"
    sheet.write_bytes(draw_mute(PROSE, PROSE, TABLE, face=face))
    report = read_sheet(sheet)
    assert {(s.terminal.printed, s.torque.nominal_nm) for s in report.settings if s.torque} == {
        ("L1", Decimal("2.5")), ("L2", Decimal("3.5")), ("PE", Decimal("1.2")),
    }  # fmt: skip
    assert {setting.state for setting in report.settings} == {"held"}
    assert all(any(f.code == "scanned_figure" for f in setting.findings) for setting in report.settings)
    told = [finding.message for finding in report.findings if finding.code == "page_no_text"]
    assert any("page 3" in message and "Unicode map" in message for message in told)


def test_a_table_whose_font_names_every_glyph_is_read_by_the_names(tmp_path: Path) -> None:
    sheet = tmp_path / "named.pdf"
    sheet.write_bytes(draw_mute(PROSE, PROSE, TABLE, face=NAMED))
    report = read_sheet(sheet)
    assert {(s.terminal.printed, s.torque.printed, s.state) for s in report.settings if s.torque} == {
        ("L1", "2.5", "released"), ("L2", "3.5", "released"), ("PE", "1.2", "released"),
    }  # fmt: skip
    assert not [finding for finding in report.findings if finding.code == "page_no_text"]


def test_without_a_recogniser_the_sheet_is_refused_by_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scanned, "is_ready", lambda: False)
    sheet = tmp_path / "mute.pdf"
    sheet.write_bytes(draw_mute(TABLE))
    report = read_sheet(sheet)
    assert report.state == "refused"
    (finding,) = report.findings
    assert finding.code == "sheet_no_text"
    assert "Unicode map" in finding.message
