"""A scanned sheet gives proposals: found in the picture, said how surely, and held every one."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from scanner import FIGURES, HEAD, ROWS, TITLE, draw_sheet, draw_table, save, scan

from torquary_ingest.one_sheet import read_one
from torquary_ingest.plugins import OpenWish
from torquary_ingest.reader import read_pictured_sheets, read_tables
from torquary_schema.values import SheetReport


@pytest.fixture(scope="module")
def sheet() -> bytes:
    return draw_sheet()


def read(path: Path) -> SheetReport:
    return read_one(path, OpenWish())


def proposed(report: SheetReport) -> list[tuple[str, str]]:
    return [(s.terminal.printed, s.torque.printed) for s in report.settings if s.torque]


def codes(report: SheetReport) -> set[str]:
    return {finding.code for finding in report.findings}


def check_held(report: SheetReport) -> None:
    assert {s.state for s in report.settings} <= {"held"}
    for setting in report.settings:
        assert [f.code for f in setting.findings].count("scanned_figure") == 1


@pytest.mark.parametrize(("turn", "slant", "name"), [(0, 1.4, "a.png"), (180, -1.0, "a.pdf"), (90, 2.0, "a.tif")])
def test_a_scan_is_straightened_and_its_figures_are_proposed(
    tmp_path: Path, sheet: bytes, turn: int, slant: float, name: str
) -> None:
    report = read(save(tmp_path / name, scan(sheet, turn=turn, slant=slant)))
    assert proposed(report) == FIGURES
    assert [str(s.torque.nominal_nm) for s in report.settings if s.torque] == [figure for _, figure in FIGURES]
    assert [(s.conductor.min_mm2, s.conductor.max_mm2) == (None, None) for s in report.settings] == [False] * 3
    check_held(report)
    assert report.title == TITLE
    [told] = [f.message for f in report.findings if f.code == "page_no_text"]
    assert f"straightened by {abs(slant):.1f}°" in told
    assert (f"turned by {360 - turn}°" in told) == bool(turn)
    message = next(f.message for f in report.settings[0].findings if f.code == "scanned_figure")
    assert "%" in message
    assert "compare with the picture" in message


def test_each_page_of_a_tiff_is_a_page(tmp_path: Path) -> None:
    pages = [scan(draw_sheet(rows=[row]), turn=270) for row in ROWS[:2]]
    report = read(save(tmp_path / "two.tif", *pages))
    assert [(s.place.page, s.torque.printed) for s in report.settings if s.torque] == [(1, "2.5"), (2, "3.5")]
    assert report.pages == 2
    check_held(report)


def draw_text_and_picture(path: Path) -> Path:
    canvas = Canvas(str(path), pagesize=(400, 500))
    canvas.setFont("Helvetica", 10)
    draw_table(canvas, left=30, top=460, rows=[HEAD, ("T1", "16-35", "4.5")])
    packed = io.BytesIO()
    scan(draw_sheet(rows=ROWS[:1]), slant=0.5).save(packed, "PNG")
    canvas.drawImage(ImageReader(packed), 20, 60, 360, 240)
    canvas.save()
    return path


def test_a_page_of_text_with_a_pictured_table_is_read_in_both_ways(tmp_path: Path) -> None:
    report = read(draw_text_and_picture(tmp_path / "both.pdf"))
    assert [(s.terminal.printed, s.state) for s in report.settings] == [("T1", "released"), ("L1", "held")]
    assert "picture_read" in codes(report)
    [pictured] = [s for s in report.settings if s.state == "held"]
    assert "scanned_figure" in {f.code for f in pictured.findings}


def test_tables_in_pictures_beside_text_are_shown_when_asked_for(tmp_path: Path) -> None:
    path = draw_text_and_picture(tmp_path / "both.pdf")
    findings, tables = read_tables(path)
    assert [table.rows for table in tables] == [2]
    assert [(f.code, "not asked for" in f.message) for f in findings] == [("picture_not_read", True)]
    findings, tables = read_tables(path, pictures=True)
    assert [table.rows for table in tables] == [2, 2]
    assert [f.code for f in findings] == ["picture_read"]


def test_a_live_figure_under_a_scanned_heading_is_held(tmp_path: Path) -> None:
    """The heading with the unit is a picture; the rows are text."""
    canvas = Canvas(str(tmp_path / "heading.pdf"), pagesize=(400, 300))
    packed = io.BytesIO()
    scan(draw_sheet(title="", rows=()), noise=0).crop((70, 130, 900, 225)).save(packed, "PNG")
    canvas.drawImage(ImageReader(packed), 25.2, 219, 298.8, 34.2)
    canvas.setFont("Helvetica", 10)
    draw_table(canvas, left=30, top=220, rows=ROWS)
    canvas.save()
    report = read(tmp_path / "heading.pdf")
    assert [s.state for s in report.settings] == ["held"] * 3
    assert all("scanned_figure" in {f.code for f in s.findings} for s in report.settings)


@pytest.mark.parametrize("seed", range(4))
def test_noise_gives_nothing_out(tmp_path: Path, seed: int) -> None:
    dice = np.random.default_rng(seed)
    levels = dice.integers(0, 256, (300, 400)) if seed % 2 else np.where(dice.random((300, 400)) < 0.1, 0, 255)
    report = read(save(tmp_path / "noise.png", Image.fromarray(levels.astype(np.uint8))))
    assert [s for s in report.settings if s.state != "held"] == []
    assert report.state == "refused" or "page_no_text" in codes(report)


def test_the_picture_of_a_proposal_goes_with_it(tmp_path: Path, sheet: bytes) -> None:
    path = save(tmp_path / "head_down.png", scan(sheet, turn=180))
    [read] = list(read_pictured_sheets([path]))
    assert {s.id for s in read.report.settings} == set(read.pictures)
    row = Image.open(io.BytesIO(read.pictures[read.report.settings[0].id]))
    assert row.width > row.height
    assert (208, 16, 16) in {colour for _, colour in row.convert("RGB").getcolors(1 << 16) or []}
