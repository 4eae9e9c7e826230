"""A sheet that gave nothing is a success only if it rightly holds no torque of a terminal."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from torquary_catalogue.command import main

NOT_UNDERSTOOD = {
    "an unknown heading beside terminals": "Klemme;Leiter mm²;Mz.\nL1;1,5-6;2,5\nN;1,5-6;2,0\n",
    "a turned table with an unknown heading": "Klemme;L1;N\nLeiter mm²;1,5-6;1,5-6\nMz.;2,5;2,0\n",
    "a torque in words that are no row": "Page;Text\n1;Tighten with 2.5 N·m or else\n2;weight 3\n",
}
NO_TORQUES = {
    "terminals and sizes alone": "Terminal;Conductor mm²\nL1;1.5-6\nN;1.5-6\n",
    "terminals and measures": "Terminal;Conductor mm²;Width mm\nL1;1.5-6;17.5\nN;1.5-6;18\n",
    "prices": "Article;Price\nA1;2.5\nA2;3.5\n",
}


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments], catch_exceptions=False)


def write(folder: Path, text: str) -> Path:
    sheet = folder / "quay.csv"
    sheet.write_text(text, "utf-8")
    return sheet


@pytest.mark.parametrize("text", NOT_UNDERSTOOD.values(), ids=NOT_UNDERSTOOD)
def test_a_sheet_that_was_not_understood_is_no_success(tmp_path: Path, text: str) -> None:
    sheet, catalogue = write(tmp_path, text), tmp_path / "new.duckdb"
    read = run("read", sheet)
    assert "quay.csv: 0 released, 0 held" in read.stdout
    assert read.exit_code == 1
    assert run("read", sheet, "--json").exit_code == 1
    for outcome in ("loaded", "unchanged"):
        done = run("load", sheet, "--catalogue", catalogue)
        assert f"quay.csv: {outcome}" in done.stdout
        assert "quay.csv: gave nothing and may hold torques" in done.stdout
        assert done.exit_code == 1
    assert json.loads(run("load", sheet, "--json", "--catalogue", catalogue).stdout)["unread"] == ["quay.csv"]


@pytest.mark.parametrize("text", NO_TORQUES.values(), ids=NO_TORQUES)
def test_a_sheet_without_torques_is_a_success(tmp_path: Path, text: str) -> None:
    sheet, catalogue = write(tmp_path, text), tmp_path / "new.duckdb"
    read = run("read", sheet)
    assert (read.exit_code, "quay.csv: 0 released, 0 held" in read.stdout) == (0, True), read.stdout
    for _ in range(2):
        done = run("load", sheet, "--catalogue", catalogue)
        assert (done.exit_code, "may hold torques" in done.stdout) == (0, False), done.stdout
