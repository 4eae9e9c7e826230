"""`torquary tables --page --picture`: what an office sees of how a page was read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from torquary_catalogue.command import main

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
BARS, BLOCKS = SAMPLES / "hobbletarn_bars.pdf", SAMPLES / "mossgrindle_terminal_blocks.pdf"


def tables(*arguments: object) -> Result:
    return CliRunner().invoke(main, ["tables", *map(str, arguments)], catch_exceptions=False)


def test_the_picture_is_written_and_named(tmp_path: Path) -> None:
    done = tables(BARS, "--picture", tmp_path / "page.png")
    assert done.exit_code == 0
    assert done.stdout.splitlines()[-1] == f"{tmp_path / 'page.png'}: page 1 of {BARS.name}"
    with Image.open(tmp_path / "page.png") as shown:
        assert shown.size == (1191, 1684)  # A4 at 144 dpi


def test_one_page_alone_is_listed_and_drawn(tmp_path: Path) -> None:
    listed = json.loads(tables(BLOCKS, "--page", 2, "--json").stdout)["tables"]
    drawn = json.loads(tables(BLOCKS, "--page", 2, "--json", "--picture", tmp_path / "page.png").stdout)
    assert {table["page"] for table in listed} == {2}
    assert drawn == {"tables": listed, "picture": str(tmp_path / "page.png")}


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--page", 7), "there is no page 7, the file has 1"),
        ((), "cannot be written (No such file or directory)"),
    ],
)
def test_what_cannot_be_done_is_one_line_and_status_2(tmp_path: Path, arguments: tuple[object, ...], told: str) -> None:
    done = tables(BARS, "--picture", tmp_path / "no folder" / "page.png", *arguments)
    assert done.exit_code == 2
    assert done.stderr.count("\n") == 1
    assert told in done.stderr


def test_a_workbook_has_tables_and_no_picture(tmp_path: Path) -> None:
    done = tables(SAMPLES / "quelmoor_rcbo.xlsx", "--picture", tmp_path / "page.png")
    assert done.exit_code == 0
    assert "no picture: it has no printed page" in done.stderr
    assert not (tmp_path / "page.png").exists()


def test_a_page_without_tables_is_drawn_all_the_same(tmp_path: Path) -> None:
    canvas = Canvas(str(tmp_path / "prose.pdf"))
    canvas.drawString(72, 700, "Keep this sheet with the device.")
    canvas.save()
    done = tables(tmp_path / "prose.pdf", "--picture", tmp_path / "page.png")
    assert (done.exit_code, done.stdout.splitlines()[0]) == (1, "prose.pdf: no table is seen")
    assert (tmp_path / "page.png").exists()


def test_a_page_that_is_not_there_has_no_table() -> None:
    done = tables(BARS, "--page", 9)
    assert (done.exit_code, done.stdout) == (1, "hobbletarn_bars.pdf: no table is seen on page 9\n")
