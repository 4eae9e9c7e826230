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
