"""`torquary export --to DIR --partition …`: a folder that other engines read as one table (Hive's layout)."""

from __future__ import annotations

from pathlib import Path

import duckdb
import pytest
from click.testing import CliRunner
from sheets_by_hand import held, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report

# A maker's name may hold what a path, a URL or a shell takes for something else.
MAKERS = ("Quillhaven Switchgear", "Zwirbel/Horn & Söhne = 50 %", "..", "123", "")


@pytest.fixture
def filled(catalogue: Catalogue) -> Path:
    for at, maker in enumerate(MAKERS):
        settings = (setting(f"of-{at}-1"), held(f"of-{at}-2"))
        load_report(catalogue, report(*settings, digest=f"{at:064}", file=f"{at}.pdf", title="", maker=maker))
    catalogue.close()
    return catalogue.path


def export_to(catalogue: Path, *options: str) -> str:
    done = CliRunner().invoke(main, ["export", *options, "--catalogue", str(catalogue)])
    assert done.exit_code == 0, done.output
    return done.output


def read_all(source: str) -> list[tuple[object, ...]]:
    columns = "id, nullif(maker, '') AS maker, file, state, min_nm, terminal_printed, roles, drive, evidence, sheet"
    return duckdb.sql(f"SELECT {columns} FROM {source} ORDER BY id").fetchall()


@pytest.mark.parametrize("parts", [("maker",), ("family", "maker"), ("state",)])
def test_the_folder_holds_the_rows_of_the_one_file(filled: Path, tmp_path: Path, parts: tuple[str, ...]) -> None:
    folder, one = tmp_path / "settings", tmp_path / "one.parquet"
    options = [word for part in parts for word in ("--partition", part)]
    said = export_to(filled, "--to", str(folder), *options)
    export_to(filled, str(one))
    assert said == f"{folder}: {2 * len(MAKERS)} setting(s)\n"
    read = f"read_parquet('{folder}/**/*.parquet', hive_partitioning = true, hive_types_autocast = false)"
    assert read_all(read) == read_all(f"read_parquet('{one}')")
    levels = {path.relative_to(folder).parts for path in folder.rglob("*.parquet")}
    assert {tuple(name.split("=")[0] for name in level[:-1]) for level in levels} == {parts}


def test_folders_are_named_as_hive_names_them(filled: Path, tmp_path: Path) -> None:
    """Signs of paths are escaped by their codes, and what is missing has Hive's own name (Hive's documentation)."""
    folder = tmp_path / "settings"
    export_to(filled, "--to", str(folder))
    names = {one.name for one in folder.iterdir()}
    assert {"maker=__HIVE_DEFAULT_PARTITION__", "maker=Quillhaven%20Switchgear", "maker=123"} <= names
    assert any(name.startswith("maker=Zwirbel%2FHorn") for name in names)


def test_a_folder_written_before_is_replaced_whole(filled: Path, tmp_path: Path) -> None:
    folder = tmp_path / "settings"
    export_to(filled, "--to", str(folder))
    (folder / "maker=gone").mkdir()
    export_to(filled, "--to", str(folder), "--partition", "family")
    assert sorted(one.name for one in folder.iterdir()) == ["_torquary", "family=mcb"]
    assert sorted(one.name for one in tmp_path.iterdir() if one.name.startswith(".settings")) == []


def test_anything_else_is_left_alone(filled: Path, tmp_path: Path) -> None:
    folder = tmp_path / "papers"
    folder.mkdir()
    (folder / "letter.txt").write_text("Dear Ines")
    done = CliRunner().invoke(main, ["export", "--to", str(folder), "--catalogue", str(filled)])
    assert (done.exit_code, done.stderr.count("\n")) == (2, 1)
    assert "letter.txt, which is no part of an export" in done.stderr
    assert (folder / "letter.txt").read_text() == "Dear Ines"


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ([], "name a FILE to write"),
        (["out.csv", "--to", "out"], "not both"),
        (["out.csv", "--partition", "maker"], "--partition is for a folder"),
        (["--to", "out", "--no-formulas"], "a folder is always Parquet"),
        (["--to", "nowhere/out"], "nowhere/out cannot be written"),
    ],
)
def test_what_does_not_go_together_is_said(
    filled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, options: list[str], said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(main, ["export", *options, "--catalogue", str(filled)])
    assert done.exit_code == 2
    assert said in done.stderr


def test_what_was_written_can_be_recalled(filled: Path, tmp_path: Path) -> None:
    export_to(filled, "--to", str(tmp_path / "settings"))
    with duckdb.connect(str(filled), read_only=True) as opened:
        assert opened.execute("SELECT kind, what_for, answer FROM given_out").fetchall() == [
            ("export", "settings", "parquet")
        ]


def test_an_empty_catalogue_gives_a_folder_without_parts(catalogue: Catalogue, tmp_path: Path) -> None:
    catalogue.close()
    assert "0 setting(s)" in export_to(catalogue.path, "--to", str(tmp_path / "settings"))
    assert [one.name for one in (tmp_path / "settings").iterdir()] == ["_torquary"]
