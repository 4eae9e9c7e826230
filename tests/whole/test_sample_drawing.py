"""The sample sheets are what the drawing script makes, and the truth beside them fits what is printed."""

from __future__ import annotations

import html
import json
import subprocess
import sys
import zipfile
from decimal import Decimal
from pathlib import Path

import pypdfium2
import pytest

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
KINDS = frozenset({".pdf", ".csv", ".tsv", ".xlsx", ".ods", ".html"})
TRUTHS = sorted(SAMPLES.glob("*.truth.json"))


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("drawn")
    subprocess.run([sys.executable, str(SAMPLES / "draw_sheets.py"), str(folder)], check=True, capture_output=True)
    return folder


def text_of(path: Path) -> str:
    if path.suffix in {".xlsx", ".ods"}:
        with zipfile.ZipFile(path) as archive:
            parts = (archive.read(name).decode() for name in sorted(archive.namelist()))
            return html.unescape("\n".join(parts))
    if path.suffix == ".html":
        return html.unescape(path.read_text("utf-8"))
    if path.suffix != ".pdf":
        return path.read_bytes().decode("utf-16" if path.suffix == ".tsv" else "cp1252")
    document = pypdfium2.PdfDocument(path)
    try:
        return "\n".join(page.get_textpage().get_text_bounded() for page in document)
    finally:
        document.close()


def test_there_are_at_least_ten_sheets_and_each_file_has_its_truth() -> None:
    assert len(TRUTHS) >= 10
    files = {path.name for path in SAMPLES.iterdir() if path.suffix in KINDS}
    assert files == {json.loads(path.read_text("utf-8"))["file"] for path in TRUTHS}


def test_drawing_again_gives_the_sheets_that_are_there(drawn: Path) -> None:
    assert {path.name for path in drawn.iterdir()} == {
        path.name for path in SAMPLES.iterdir() if path.is_file() and path.suffix in KINDS
    } | {path.name for path in TRUTHS}
    for path in drawn.iterdir():
        if path.suffix == ".pdf":
            assert text_of(path) == text_of(SAMPLES / path.name), path.name
        else:
            assert path.read_bytes() == (SAMPLES / path.name).read_bytes(), path.name


@pytest.mark.parametrize("truth", TRUTHS, ids=lambda path: path.name.split(".")[0])
def test_every_true_row_is_printed(truth: Path) -> None:
    told = json.loads(truth.read_text("utf-8"))
    text = text_of(SAMPLES / told["file"]).replace(",", ".")
    assert told["rows"]
    for row in told["rows"]:
        assert row["terminal"].replace(",", ".") in text
        assert (row["state"] == "held") == bool(row["why"])
        if row["torque"]:
            low, high = (Decimal(row["torque"][key]) for key in ("min_nm", "max_nm"))
            assert low <= high
            assert any(f"{low:.{digits}f}" in text for digits in range(4))


def test_the_families_of_the_demo_are_all_there() -> None:
    rows = [row for path in TRUTHS for row in json.loads(path.read_text("utf-8"))["rows"]]
    families = {row["family"] for row in rows}
    assert families >= {"mcb", "rcbo", "rccb", "switch_disc", "tb_pe", "tb", "contactor", "spd"}
    assert any("Neutral bar" in row["terminal"] for row in rows)
    assert {row["purpose"] for row in rows} == {"electrical_terminal", "mounting", "enclosure"}
    assert sum(row["state"] == "held" for row in rows) >= 5
