"""A folder that `torquary export --to` wrote is a catalogue to read: it says what the file says it came from."""

from __future__ import annotations

import shutil
from decimal import Decimal
from pathlib import Path

import duckdb
import pytest
from click.testing import CliRunner
from sheets_by_hand import awg, held, mm2, report, setting, torque

from torquary_catalogue.command import main
from torquary_catalogue.find import find, read_question
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report

NINETEEN = "2.146711751525"
"""19 lbf·in in N·m: 19 × 4.4482216152605 N (NIST SP 811, B.8) × 0.0254 m, to twelve digits."""
QUESTIONS = (
    "BK-16 outgoing 10mm2",
    "BK-16 outgoing 95mm2",
    "BK-16 outgoing AWG 8",
    "BK-16",
    "mcb earth",
    "Quillhaven mcb 10mm2",
    "gone_ed1",
    "BK-17",
    "zzz",
)


@pytest.fixture
def filled(catalogue: Catalogue) -> Path:
    """Released, held and rejected readings, an exact figure of many digits, an edition that is out of force."""
    pounds = torque("19 lbf·in", NINETEEN, NINETEEN, unit="lbf·in")
    settings = (
        setting("a1"), setting("a2", conductor=mm2("25", "50"), torque=torque("4", "4", "4")),
        setting("a3", conductor=awg("10", "6"), torque=pounds), held("of_a_cover"),
    )  # fmt: skip
    edition = {"title": "Breaker BK", "maker": "Quillhaven", "document_number": "QH 7"}
    load_report(catalogue, report(setting("old"), digest="1" * 64, file="gone_ed1.pdf", edition="2001", **edition))
    load_report(catalogue, report(*settings, digest="2" * 64, file="bk_ed2.pdf", edition="2002", **edition))
    unnamed = {"title": "", "maker": "", "file": "of_it's.pdf"}
    load_report(catalogue, report(setting("b1"), held("waiting_2"), digest="3" * 64, **unnamed))
    catalogue.close()
    run("decide", "of_a_cover", "reject", "--why", "of a cover", catalogue=catalogue.path)
    return catalogue.path


@pytest.fixture
def folder(filled: Path, tmp_path: Path) -> Path:
    """The export, in a folder whose name holds what SQL and patterns of files take for something else."""
    folder = tmp_path / "it's [2] settings"
    run("export", "--to", str(folder), catalogue=filled)
    return folder


def run(*words: str, catalogue: Path, status: int = 0) -> str:
    done = CliRunner().invoke(main, [*words, "--catalogue", str(catalogue)])
    assert done.exit_code == status, done.output
    return done.stderr if status > 1 else done.stdout


@pytest.mark.parametrize("asked", QUESTIONS)
def test_it_answers_as_its_file_does(filled: Path, folder: Path, asked: str) -> None:
    with open_catalogue(filled) as file, open_catalogue(folder) as parts:
        assert find(parts, read_question(parts, asked)) == find(file, read_question(file, asked))


def test_exact_figures_stay_exact(folder: Path) -> None:
    """Digit by digit: a floating-point column would add its own."""
    with open_catalogue(folder) as parts:
        [row] = parts.rows("SELECT nominal_nm FROM setting WHERE torque_printed = '19 lbf·in'")
    assert row["nominal_nm"] == Decimal(NINETEEN)


@pytest.mark.parametrize(
    "words",
    [
        ("sheets",), ("held", "--json"), ("decisions",), ("changes",), ("sheet", "bk_ed2.pdf"),
        ("find", "BK-16", "outgoing", "10mm2", "--json"),
    ],
    ids=lambda words: words[0],
)  # fmt: skip
def test_commands_that_only_read_say_the_same(filled: Path, folder: Path, words: tuple[str, ...]) -> None:
    file, parts = (CliRunner().invoke(main, [*words, "--catalogue", str(one)]) for one in (filled, folder))
    assert (parts.exit_code, parts.stdout) == (file.exit_code, file.stdout)
    assert parts.exit_code in (0, 1)


def test_it_can_be_exported_on(filled: Path, folder: Path, tmp_path: Path) -> None:
    on = tmp_path / "on"
    done = CliRunner().invoke(main, ["export", "--to", str(on), "--catalogue", str(folder)])
    assert done.exit_code == 0
    assert "is written, and cannot be recalled" in done.stderr
    assert run("held", "--json", catalogue=on, status=1) == run("held", "--json", catalogue=filled, status=1)


@pytest.mark.parametrize(
    "words",
    [
        ("load", __file__), ("find", "BK-16", "outgoing", "10mm2", "--note", "board 7"),
        ("decide", "waiting_2", "accept", "--why", "seen"), ("sheet", "bk_ed2.pdf", "withdraw", "--why", "old"),
        ("decisions", "--undo", "1", "--why", "slip"),
    ],
    ids=lambda words: words[0],
)  # fmt: skip
def test_what_writes_is_refused_in_one_line(folder: Path, words: tuple[str, ...]) -> None:
    before = sorted(folder.rglob("*"))
    said = run(*words, catalogue=folder, status=3)
    assert said == (
        f"Error: {folder} is an exported folder, which is only read: do this in the catalogue it was exported from\n"
    )
    assert sorted(folder.rglob("*")) == before


def test_it_is_not_written_over_itself(folder: Path) -> None:
    said = run("export", "--to", str(folder), catalogue=folder, status=2)
    assert "is the catalogue itself: name another folder with --to" in said
    assert run("find", "BK-16", "outgoing", "10mm2", catalogue=folder)


@pytest.mark.parametrize("lacking", ["setting.table", "catalogue_format.table", ""])
def test_one_that_is_not_whole_is_refused(folder: Path, lacking: str) -> None:
    tables = folder / "_torquary"
    if lacking:
        (tables / lacking).unlink()
    else:
        (tables / "setting.table").write_bytes(b"PAR1 and no more")
    said = run("find", "BK-16", catalogue=folder, status=3)
    assert "is not a catalogue, or it is damaged" in said
    assert said.count("\n") == 1


def test_one_of_another_version_is_refused(folder: Path) -> None:
    kept = folder / "_torquary" / "catalogue_format.table"
    rows = f"SELECT * REPLACE (version + 1 AS version) FROM read_parquet('{tmp_name(kept)}')"
    duckdb.sql(f"COPY ({rows}) TO '{tmp_name(kept)}.new' (FORMAT parquet)")
    Path(f"{tmp_name(kept)}.new").replace(kept)
    assert "was exported by another version of torquary: export it anew" in run("find", "x", catalogue=folder, status=3)


def tmp_name(kept: Path) -> str:
    """Return a copy's name that SQL and patterns take as it is."""
    copy = kept.parents[2] / "copy.table"
    if not copy.exists():
        shutil.copyfile(kept, copy)
    return str(copy)


def test_a_folder_that_is_no_export_is_named_as_before(tmp_path: Path) -> None:
    assert "is a folder, not a catalogue" in run("find", "x", catalogue=tmp_path, status=3)
