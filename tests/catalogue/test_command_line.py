"""The commands, called in this process on a catalogue made by hand."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import held, mm2, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.command.group import COMMANDS
from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.words import refresh_words


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    path = tmp_path / "harbour.duckdb"
    with open_catalogue(path, writing=True) as catalogue:
        refresh_words(catalogue)
        load_report(catalogue, report(setting("released-1"), held("held-1", conductor=mm2("25", "35"))))
    return path


def run(catalogue: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--catalogue", str(catalogue)], catch_exceptions=False)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(name: str) -> None:
    result = CliRunner().invoke(main, [name, "--help"], catch_exceptions=False)
    assert result.exit_code == 0
    assert "Usage:" in result.output


@pytest.mark.parametrize("arguments", [(), ("--help",)])
def test_alone_it_shows_its_commands_line_by_line(arguments: tuple[str, ...]) -> None:
    shown = CliRunner().invoke(main, arguments, catch_exceptions=False).output.splitlines()
    assert [name for name in COMMANDS if any(line.startswith(f"  {name} ") for line in shown)] == [*COMMANDS]


@pytest.mark.parametrize(
    ("words", "status", "kind"),
    [
        (("mcb", "10mm2", "outgoing"), 0, "one"),
        (("mcb", "50mm2"), 1, "outside"),
        (("mcb", "30mm2"), 1, "held"),
        (("contactor",), 1, "unknown"),
    ],
)
def test_the_status_tells_whether_there_is_an_answer(
    harbour: Path, words: tuple[str, ...], status: int, kind: str
) -> None:
    result = run(harbour, "find", *words, "--json")
    assert result.exit_code == status
    assert json.loads(result.stdout)["answer"] == kind


def test_no_question_is_wrong_use(harbour: Path) -> None:
    result = run(harbour, "find")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("Error: nothing was asked")


def test_the_catalogue_may_come_from_the_environment(harbour: Path) -> None:
    result = CliRunner().invoke(main, ["find", "mcb", "10mm2"], env={"TORQUARY_CATALOGUE": str(harbour)})
    assert result.exit_code == 0


def test_held_lists_what_waits_with_its_reason(harbour: Path) -> None:
    result = run(harbour, "held")
    assert result.exit_code == 1
    assert "held-1" in result.stdout
    assert "unit_missing" in result.stdout


def test_a_correction_answers_and_says_whose_it_is(harbour: Path) -> None:
    decided = run(
        harbour, "decide", "held-1", "correct", "--torque", "3.5 Nm", "--who", "Office", "--why", "maker's letter"
    )
    assert decided.exit_code == 0, decided.output
    found = run(harbour, "find", "mcb", "30mm2")
    assert found.exit_code == 0
    assert "3.5 N·m" in found.stdout
    assert "“8.8”" in found.stdout
    assert "corrected to 3.5 Nm by Office" in found.stdout
    assert "maker's letter" in found.stdout
    assert run(harbour, "held").exit_code == 0


def test_accepting_releases_the_figure_as_read(harbour: Path) -> None:
    assert run(harbour, "decide", "accept", "held-1", "--who", "Office", "--why", "seen in print").exit_code == 0
    rows = json.loads(run(harbour, "find", "mcb", "30mm2", "--json").stdout)["rows"]
    assert [row["min_nm"] for row in rows] == [8.8]


def test_rejecting_withdraws_a_released_figure(harbour: Path) -> None:
    assert run(harbour, "decide", "released-1", "reject", "--who", "Office", "--why", "recalled").exit_code == 0
    assert run(harbour, "find", "mcb", "10mm2").exit_code == 1


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("held-1", "perhaps"), "is no decision"),
        (("held-1", "correct", "--who", "O", "--why", "x"), "--torque"),
        (("held-1", "accept", "--who", "O", "--why", "x", "--torque", "2 Nm"), "--torque"),
        (("held-1", "accept", "--who", "O"), "--why"),
        (("nobody", "accept", "--who", "O", "--why", "x"), "no setting in force"),
        (("he", "accept", "--who", "O", "--why", "x"), "too short"),
        (("held-1", "correct", "--who", "O", "--why", "x", "--torque", "2.5 lbs"), "cannot be taken"),
        (("held-1", "correct", "--who", "O", "--why", "x", "--torque", "2.5"), "cannot be taken"),
    ],
)
def test_a_decision_that_cannot_be_carried_out_changes_nothing(
    harbour: Path, arguments: tuple[str, ...], says: str
) -> None:
    result = run(harbour, "decide", *arguments)
    assert result.exit_code == 2
    assert says in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1
    with open_catalogue(harbour) as catalogue:
        assert catalogue.rows("SELECT * FROM decision") == []


def test_deciding_makes_no_catalogue(tmp_path: Path) -> None:
    result = run(tmp_path / "none.duckdb", "decide", "held-1", "accept", "--who", "O", "--why", "x")
    assert result.exit_code == 3
    assert not (tmp_path / "none.duckdb").exists()


@pytest.mark.parametrize("ending", ["parquet", "csv", "jsonl"])
def test_export_writes_whole_files(harbour: Path, tmp_path: Path, ending: str) -> None:
    target = tmp_path / f"out.{ending}"
    result = run(harbour, "export", str(target))
    assert result.exit_code == 0
    assert target.stat().st_size > 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["harbour.duckdb", target.name]


@pytest.mark.parametrize(
    ("target", "says"), [("out.xls", "ending"), ("harbour.duckdb", "ending"), ("none/out.csv", "cannot be written")]
)
def test_an_export_that_cannot_be_written_is_wrong_use(harbour: Path, tmp_path: Path, target: str, says: str) -> None:
    result = run(harbour, "export", str(tmp_path / target))
    assert result.exit_code == 2
    assert says in result.stderr


def test_an_export_never_overwrites_the_catalogue(harbour: Path) -> None:
    result = run(harbour, "export", str(harbour), "--format", "csv")
    assert result.exit_code == 2
    assert run(harbour, "find", "mcb", "10mm2").exit_code == 0


def test_a_sheet_is_loaded_once_and_found(tmp_path: Path) -> None:
    sheet = tmp_path / "quay.csv"
    sheet.write_text(
        "Device,Terminal,Conductor mm²,Torque N·m\nMCB QS-1,Outgoing,1.5-16,2.5\nMCB QS-1,Earth,1.5-16,3.0\n", "utf-8"
    )
    first = run(tmp_path / "new.duckdb", "load", str(sheet), "--json")
    assert first.exit_code == 0, first.output
    assert [one["outcome"] for one in json.loads(first.stdout)["sheets"]] == ["loaded"]
    again = run(tmp_path / "new.duckdb", "load", str(tmp_path), "--json")
    assert [one["outcome"] for one in json.loads(again.stdout)["sheets"]] == ["unchanged"]
    found = run(tmp_path / "new.duckdb", "find", "QS-1", "10mm2", "outgoing", "--json")
    assert [row["nominal_nm"] for row in json.loads(found.stdout)["rows"]] == [2.5]
