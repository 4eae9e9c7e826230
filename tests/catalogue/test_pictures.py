"""`torquary find --picture` writes the pictures that the catalogue keeps, or says where the cell is."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import AS_LAYOUT_1, held, mm2, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.load import load_sheets
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.pictures import read_picture
from torquary_catalogue.store.words import refresh_words
from torquary_schema.values import Place

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
PNG = b"\x89PNG one"
WIDE = mm2("25", "35")


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    path = tmp_path / "harbour.duckdb"
    with open_catalogue(path, writing=True) as catalogue:
        refresh_words(catalogue)
        sheet = report(setting("one-1"), setting("two-1", conductor=WIDE), held("held-1", conductor=mm2("50", "70")))
        load_report(catalogue, sheet, pictures={"one-1": PNG, "two-1": b"\x89PNG two", "held-1": b"secret"})
        cell = Place(page=2, table=1, row=7, column=28)
        load_report(
            catalogue,
            report(setting("book-1", conductor=mm2("95", "120"), place=cell), digest="b" * 64, file="harbour.xlsx"),
        )
    return path


def find(catalogue: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["find", *arguments, "--catalogue", str(catalogue)], catch_exceptions=False)


def test_the_picture_of_the_row_is_written(harbour: Path, tmp_path: Path) -> None:
    target = tmp_path / "row.png"
    done = find(harbour, "mcb", "10mm2", "--picture", str(target))
    assert target.read_bytes() == PNG
    assert f"picture: {target}: harbour_breakers.pdf, 2024-03, page 1, table 1, row 2" in done.stdout


def test_each_row_that_is_shown_has_its_own_file(harbour: Path, tmp_path: Path) -> None:
    done = find(harbour, "mcb", "--picture", str(tmp_path / "row.png"), "--json")
    pictures = json.loads(done.stdout)["pictures"]
    files = {Path(one["file"]).name if one["file"] else None for one in pictures}
    assert files == {"row.png", "row-2.png", None}
    assert (tmp_path / "row-2.png").read_bytes() == b"\x89PNG two"


def test_a_held_figure_is_not_shown_by_its_picture(harbour: Path, tmp_path: Path) -> None:
    target = tmp_path / "row.png"
    done = find(harbour, "mcb", "60mm2", "--picture", str(target))
    assert "no picture, the figure is held" in done.stdout
    assert not target.exists()


def test_a_workbook_has_no_picture_and_its_cell_is_named(harbour: Path, tmp_path: Path) -> None:
    done = find(harbour, "mcb", "100mm2", "--picture", str(tmp_path / "row.png"))
    assert "such a file has no printed page: harbour.xlsx" in done.stdout
    assert "worksheet 2, table 1, row 7, cell AB7" in done.stdout


def test_held_writes_the_picture_of_each_reading_that_waits(harbour: Path, tmp_path: Path) -> None:
    def run(*arguments: str) -> Result:
        return CliRunner().invoke(main, ["held", *arguments, "--catalogue", str(harbour)])

    folder = tmp_path / "pictures" / "of today"
    done = run("--pictures", str(folder))
    assert (folder / "held-1.png").read_bytes() == b"secret"
    assert f"picture: {folder / 'held-1.png'}" in done.stdout
    told = json.loads(run("--pictures", str(folder), "--json").stdout)["held"]
    assert [row["picture"] for row in told] == [str(folder / "held-1.png")]
    assert "picture" not in run().stdout
    (tmp_path / "file").write_text("")
    failed = run("--pictures", str(tmp_path / "file" / "below"))
    assert (failed.exit_code, len(failed.stderr.strip().splitlines())) == (3, 1)


def test_a_picture_that_cannot_be_written_is_one_line(harbour: Path, tmp_path: Path) -> None:
    for target in (tmp_path / "row.jpg", tmp_path / "nowhere" / "row.png"):
        done = find(harbour, "mcb", "10mm2", "--picture", str(target))
        assert done.exit_code == 3
        assert len(done.stderr.strip().splitlines()) == 1


def test_a_catalogue_older_than_pictures_answers_and_takes_them_in_at_the_next_load(
    harbour: Path, tmp_path: Path
) -> None:
    with open_catalogue(harbour, writing=True) as catalogue:
        catalogue.connection.execute(f"DROP TABLE picture; DROP TABLE name_given; {AS_LAYOUT_1}")
    done = find(harbour, "mcb", "10mm2", "--picture", str(tmp_path / "row.png"))
    assert "none was kept; load the sheet with --again" in done.stdout
    load_sheets(harbour, [SAMPLES / "hobbletarn_bars.pdf"])
    with open_catalogue(harbour) as catalogue:
        assert catalogue.rows("SELECT count(*) AS kept FROM picture WHERE png[1:4] = '\\x89PNG'::BLOB")[0]["kept"] == 5


def test_pictures_are_replaced_with_the_reading(catalogue: Catalogue) -> None:
    twice = report(setting("one-1"), setting("one-1", conductor=WIDE))
    load_report(catalogue, twice, pictures={"one-1": PNG})
    assert read_picture(catalogue, twice.digest, "one-1-2") == PNG
    load_report(catalogue, twice, again=True, pictures={"one-1": b"new"})
    assert read_picture(catalogue, twice.digest, "one-1") == b"new"
    load_report(catalogue, twice, again=True)
    assert read_picture(catalogue, twice.digest, "one-1") is None


def test_writing_a_picture_imports_no_reader(harbour: Path, tmp_path: Path) -> None:
    target = tmp_path / "row.png"
    code = (
        "import sys; from torquary_catalogue.command import main\n"
        f"try: main(['find', 'mcb', '10mm2', '--catalogue', {str(harbour)!r}, '--picture', {str(target)!r}])\n"
        "except SystemExit as end: assert end.code == 0, end.code\n"
        "assert not {'pdfplumber', 'pypdfium2', 'pandas', 'pint', 'lxml', 'PIL', 'numpy'} & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert target.read_bytes() == PNG
