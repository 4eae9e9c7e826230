"""Pictures that cannot be read are named with the reason, and bounded."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image
from scanner import ROWS, draw_sheet, save, scan

from torquary_ingest.conformance import check_opener
from torquary_ingest.one_sheet import read_one
from torquary_ingest.openers.picture import PictureOpener
from torquary_ingest.plugins import OpenWish
from torquary_ingest.scans import budget
from torquary_ingest.scans import scan as scan_module
from torquary_schema.values import SheetReport


def read(path: Path) -> SheetReport:
    return read_one(path, OpenWish())


def refusal(path: Path) -> tuple[str, str]:
    report = read(path)
    assert report.state == "refused"
    [finding] = report.findings
    assert "\n" not in finding.message
    return finding.code, finding.message


def png_of(wide: int, high: int) -> bytes:
    """A PNG that states this size and holds next to nothing (ISO/IEC 15948)."""

    def chunk(kind: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))

    header = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    parts = chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"\0" * 100)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts


@pytest.mark.parametrize("side", [30_000, 10_000])
def test_a_picture_of_too_many_pixels_is_refused_before_it_is_decoded(tmp_path: Path, side: int) -> None:
    (tmp_path / "bomb.png").write_bytes(png_of(side, side))
    code, message = refusal(tmp_path / "bomb.png")
    assert code == "sheet_too_large"
    assert "300 dpi" in message


def test_a_damaged_picture_is_refused(tmp_path: Path) -> None:
    path = save(tmp_path / "cut.png", scan(draw_sheet(rows=ROWS[:1])))
    path.write_bytes(path.read_bytes()[:2000])
    assert refusal(path)[0] == "sheet_damaged"
    (tmp_path / "text.jpg").write_bytes(b"no picture at all")
    assert refusal(tmp_path / "text.jpg")[0] == "sheet_damaged"


def test_a_damaged_picture_in_a_pdf_is_named(tmp_path: Path) -> None:
    path = save(tmp_path / "cut.pdf", scan(draw_sheet(rows=ROWS[:1])))
    content = path.read_bytes()
    at = content.index(b"stream", content.index(b"/DCTDecode")) + 300
    path.write_bytes(content[:at] + bytes(len(content[at : at + 9000])) + content[at + 9000 :])
    assert refusal(path)[0] == "sheet_no_text"


@pytest.mark.parametrize("name", ["blank.png", "blank.pdf"])
def test_a_picture_without_print_is_refused(tmp_path: Path, name: str) -> None:
    code, message = refusal(save(tmp_path / name, Image.new("L", (400, 300), 255)))
    assert code == "sheet_no_text"
    assert "no word was found" in message


@pytest.mark.parametrize("name", ["scan.png", "scan.pdf"])
def test_without_the_recogniser_what_to_install_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.setattr(scan_module, "load_page_recogniser", lambda: None)
    code, message = refusal(save(tmp_path / name, scan(draw_sheet(rows=ROWS[:1]))))
    assert code == "sheet_no_text"
    assert "pip install rapidocr onnxruntime" in message


@pytest.mark.parametrize("name", ["long.tif", "long.pdf"])
def test_pages_beyond_the_most_are_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.setattr(budget.Budget.__init__, "__defaults__", (1, *budget.Budget.__init__.__defaults__[1:]))
    page = scan(draw_sheet(rows=ROWS[:1]), dpi=150)
    report = read(save(tmp_path / name, page, page, page, dpi=150))
    assert [s.place.page for s in report.settings] == [1]
    assert any("pages 2–3" in finding.message for finding in report.findings)


@pytest.mark.parametrize("way", ["pointer", "cut"])
def test_pages_behind_a_break_in_a_file_of_pages_are_said_to_be_unknown(tmp_path: Path, way: str) -> None:
    page = scan(draw_sheet(rows=ROWS[:1]), dpi=150)
    path = save(tmp_path / "long.tif", page, page, page, dpi=150)
    content = bytearray(path.read_bytes())
    (first,) = struct.unpack_from("<I", content, 4)
    to_second = first + 2 + 12 * struct.unpack_from("<H", content, first)[0]
    (second,) = struct.unpack_from("<I", content, to_second)
    if way == "pointer":
        struct.pack_into("<I", content, to_second, len(content) + 500)
    path.write_bytes(content if way == "pointer" else content[: second + 5])
    report = read(path)
    assert [(s.place.page, s.state) for s in report.settings] == [(1, "held")]
    assert "the file breaks off behind page 1, and what pages follow is not known" in report.findings[0].message


def test_a_page_that_time_does_not_suffice_for_is_not_read_by_half(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(budget.Budget, "is_spent", lambda self: not self.has_left())
    monkeypatch.setattr(budget.Budget, "has_left", lambda self: self.pictures == budget.MOST_PICTURES)
    code, message = refusal(save(tmp_path / "slow.png", scan(draw_sheet(rows=ROWS[:1]))))
    assert code == "sheet_no_text"
    assert "no time left" in message


def test_the_opener_keeps_the_promises_of_openers(tmp_path: Path) -> None:
    sample = save(tmp_path / "one.png", scan(draw_sheet(rows=ROWS[:1]), dpi=150), dpi=150)
    (tmp_path / "noise").mkdir()
    assert check_opener(PictureOpener(), tmp_path / "noise", [sample]) == ()
