"""Files that cannot be read are each named, and none is taken for another."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from torquary_catalogue.command import main
from torquary_catalogue.store import open_catalogue

SHEET = "Main switch QS 63\nTerminal;Conductor mm²;Torque N·m\nL1;4;2.5\n"


def run(folder: Path, *arguments: object) -> Result:
    words = [*map(str, arguments), "--catalogue", str(folder / "office.duckdb")]
    return CliRunner().invoke(main, words, catch_exceptions=False)


@pytest.mark.skipif(sys.platform == "win32", reason="links are POSIX's")
def test_files_that_cannot_be_reached_are_not_one_sheet(tmp_path: Path) -> None:
    sheets = tmp_path / "sheets"
    sheets.mkdir()
    for name in ("one.csv", "two.csv"):
        (sheets / name).symlink_to(f"gone-{name}")
    (sheets / "good.csv").write_text(SHEET, "utf-8")
    for outcome in ("loaded", "unchanged"):
        told = json.loads(run(tmp_path, "load", sheets, "--json").stdout)["sheets"]
        assert {one["file"]: one["outcome"] for one in told} == {
            "good.csv": outcome, "one.csv": "refused", "two.csv": "refused"
        }  # fmt: skip
    with open_catalogue(tmp_path / "office.duckdb") as catalogue:
        assert catalogue.rows("SELECT file FROM sheet") == [{"file": "good.csv"}]


OTHERS = {
    "manual.doc": "it is a text document: save it as PDF, and load that",
    "Manual.DOCX": "it is a text document: save it as PDF, and load that",
    "torques.xls": "it is a workbook of another format: save it as .xlsx, and load that",
    "sent.msg": "it is a mail: save what is attached to it, or print it as PDF, and load that",
    "all.zip": "it is an archive: unpack it, and load that",
    "all.tar.gz": "it is an archive: unpack it, and load that",
}


def test_files_in_formats_that_are_not_read_are_named_with_what_to_do(tmp_path: Path) -> None:
    sheets = tmp_path / "sheets"
    sheets.mkdir()
    for name in OTHERS:
        (sheets / name).write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + name.encode())
    (sheets / "good.csv").write_text(SHEET, "utf-8")
    (sheets / "notes.md").write_text("nothing", "utf-8")
    done = run(tmp_path, "load", sheets)
    assert done.exit_code == 1
    assert done.stdout.startswith("7 sheet(s): 1 loaded, 6 refused;")
    for name, way in OTHERS.items():
        assert f"{name}: refused\n  ! the file cannot be read, as {way} [sheet_unknown_kind]" in done.stdout
    told = run(tmp_path, "find", "no such device").stdout
    assert "was refused, and what it prints is not known: the file cannot be read, as it is " in told
    listed = run(tmp_path, "sheets", "--state", "refused").stdout
    assert listed.count(": not readable") == 6
    assert f"\n    the file cannot be read, as {OTHERS['sent.msg']}; last loaded " in listed
    assert "it is a mail" in run(tmp_path, "sheet", "sent.msg").stdout


@pytest.mark.parametrize(
    "command",
    [
        ("sheet", "all.zip", "withdraw"), ("sheet", "all.zip", "restore"), ("sheet", "all.zip", "replaces", "good.csv"),
        ("sheet", "good.csv", "replaces", "all.zip"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_not_in_force_without_rows_by_hand(tmp_path: Path, command: tuple[str, ...]) -> None:
    (tmp_path / "all.zip").write_bytes(b"PK")
    (tmp_path / "good.csv").write_text(SHEET, "utf-8")
    run(tmp_path, "load", tmp_path)
    done = run(tmp_path, *command, "--who", "Ines", "--why", "seen")
    assert done.exit_code == 2
    assert "Error: all.zip could not be read (torquary sheet " in done.stderr
    ways = "load it in another form, or its rows from a table (.csv) of your own, or enter its rows by hand: torquary "
    assert done.stderr.endswith(f"{ways}add all.zip --page …\n")
