"""Exports, decisions, and the catalogue file in other hands."""

from __future__ import annotations

import codecs
import csv
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from sheets_by_hand import held, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.export import export
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.report import load_json, setting_to_dict
from torquary_schema.validation import check_record
from torquary_schema.values import Device, Terminal

OLD = "TORQUARY_OLD_DUCKDB_PYTHON"


# What spreadsheets take for the beginning of a formula: OWASP, "CSV Injection" (from memory).
SIGNS = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", " =", "\u200b=")


def export_one(catalogue: Catalogue, target: Path, *, no_formulas: bool) -> dict[str, str]:
    assert export(catalogue, target, no_formulas=no_formulas) == 1
    assert target.read_bytes().startswith(codecs.BOM_UTF8)
    with target.open(encoding="utf-8-sig", newline="") as file:
        (row,) = csv.DictReader(file)
    return row


@pytest.mark.parametrize("printed", ["+", "−", "-", "= 2", "@x", "\t1", "A; -"])
def test_csv_gives_texts_as_printed(catalogue: Catalogue, tmp_path: Path, printed: str) -> None:
    """A terminal marked + or − is so marked in the CSV, and figures are figures."""
    load_report(catalogue, report(setting("one-1", terminal=Terminal(printed=printed))))
    row = export_one(catalogue, tmp_path / "out.csv", no_formulas=False)
    assert row["terminal_printed"] == printed
    assert (row["min_nm"], row["max_mm2"]) == ("2.5", "16")


@pytest.mark.parametrize("sign", SIGNS)
def test_a_csv_without_formulas_runs_nothing(catalogue: Catalogue, tmp_path: Path, sign: str) -> None:
    """With --no-formulas a text that a spreadsheet would run is defused; figures stay figures."""
    load_report(catalogue, report(setting("one-1", device=Device(printed=f"{sign}1+1"))))
    row = export_one(catalogue, tmp_path / "out.csv", no_formulas=True)
    assert row["device_printed"] == f"'{sign}1+1"
    assert (row["min_nm"], row["max_mm2"]) == ("2.5", "16")


@pytest.mark.parametrize("mark", [";", ",", "\t", "|", '"'])
def test_a_formula_behind_another_delimiter_is_defused(catalogue: Catalogue, tmp_path: Path, mark: str) -> None:
    """A spreadsheet that cuts cells at another mark finds no formula behind it."""
    load_report(catalogue, report(setting("one-1", device=Device(printed=f"Breaker{mark}=1+1"))))
    row = export_one(catalogue, tmp_path / "out.csv", no_formulas=True)
    assert row["device_printed"] == f"Breaker{mark}'=1+1"


@pytest.mark.parametrize("ending", ["parquet", "jsonl"])
def test_no_formulas_is_for_csv_alone(catalogue: Catalogue, tmp_path: Path, ending: str) -> None:
    """Asked for with another format it is wrong use, and nothing is written."""
    catalogue.close()
    target = tmp_path / f"out.{ending}"
    arguments = ["export", str(target), "--no-formulas", "--catalogue", str(catalogue.path)]
    done = CliRunner().invoke(main, arguments)
    assert (done.exit_code, done.stderr.count("\n")) == (2, 1)
    assert not target.exists()


def test_json_lines_are_the_records(catalogue: Catalogue, tmp_path: Path) -> None:
    """JSON Lines gives back the very records that were loaded, each with its sheet and the decision about it."""
    settings = (setting("one-1"), held("held-1"))
    load_report(catalogue, report(*settings))
    decide(catalogue, [Wish(setting="held-1", verdict="reject", who="Ines", why="wrong column")])
    export(catalogue, tmp_path / "out.jsonl")
    records = [load_json(line) for line in (tmp_path / "out.jsonl").read_text("utf-8").splitlines()]
    for record in records:
        assert check_record(record) == ()
    one, rejected = records
    sheet = {"digest": "a" * 64, "file": "harbour_breakers.pdf", "title": "Harbour breakers", "edition": "2024-03"}
    assert {name: one[name] for name in setting_to_dict(settings[0])} == setting_to_dict(settings[0])
    assert (one["sheet"], one["decision"]) == (sheet, None)
    decision = rejected["decision"]
    assert (rejected["sheet"], rejected["state"]) == (sheet, "rejected")
    assert (decision["verdict"], decision["who"], decision["why"]) == ("reject", "Ines", "wrong column")


def test_parquet_is_readable(catalogue: Catalogue, tmp_path: Path) -> None:
    """Parquet holds the settings with their figures, and none for a held one."""
    load_report(catalogue, report(setting("one-1"), held("held-1")))
    export(catalogue, tmp_path / "out.parquet")
    rows = catalogue.rows(f"SELECT id, min_nm, max_mm2 FROM '{tmp_path}/out.parquet' ORDER BY id DESC")
    assert [(row["id"], row["min_nm"]) for row in rows] == [("one-1", 2.5), ("held-1", None)]
    assert {type(row["max_mm2"]) for row in rows} == {float}


def test_a_decision_needs_its_reason_and_a_unit(catalogue: Catalogue) -> None:
    """A decision without a reason, or a corrected figure without its unit, is refused and changes nothing."""
    load_report(catalogue, report(held("held-1")))
    for why, typed in (("", "2.5 Nm"), ("paper", "2.5")):
        with pytest.raises(TorquaryError):
            decide(catalogue, [Wish(setting="held-1", verdict="correct", who="Ines", why=why, torque=typed)])
    assert catalogue.rows("FROM decision") == []


@pytest.mark.parametrize("content", [None, b"", b"no catalogue at all" * 400])
def test_what_is_no_catalogue_ends_with_one_line(tmp_path: Path, content: bytes | None) -> None:
    """A missing, empty or other file ends with one line and exit status 3."""
    path = tmp_path / "other.duckdb"
    if content is not None:
        path.write_bytes(content)
    done = CliRunner().invoke(main, ["find", "mcb", "--catalogue", str(path)])
    assert done.exit_code == 3
    assert len(done.stderr.strip().splitlines()) == 1


def test_asking_imports_no_reader(catalogue: Catalogue) -> None:
    """`torquary find` imports none of pdfplumber, pandas and pint, nor DuckDB's package beside its engine."""
    load_report(catalogue, report(setting("one-1")))
    catalogue.close()
    code = (
        "import sys; from torquary_catalogue.command import main\n"
        f"try: main(['find', 'mcb', '10mm2', '--catalogue', {str(catalogue.path)!r}])\n"
        "except SystemExit as end: assert end.code == 0, end.code\n"
        "heavy = {'pdfplumber', 'pandas', 'pint', 'duckdb', 'numpy', 'jsonschema', 'importlib.resources', 'rich'}\n"
        "assert '_duckdb' in sys.modules and not heavy & set(sys.modules), heavy & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


@pytest.mark.skipif(OLD not in os.environ, reason=f"{OLD} names no Python with DuckDB 1.x")
def test_an_older_client_asks_the_macro(catalogue: Catalogue) -> None:
    """A DuckDB 1.x client opens the file and gets the figure from the macro."""
    load_report(catalogue, report(setting("one-1")))
    catalogue.close()
    code = (
        f"import duckdb; c = duckdb.connect({str(catalogue.path)!r}, read_only=True)\n"
        "found = c.sql(\"SELECT id FROM find_setting(family := 'mcb', mm2 := 10)\").fetchall()\n"
        "print(duckdb.__version__[0], *found[0])"
    )
    done = subprocess.run([os.environ[OLD], "-c", code], capture_output=True, text=True)
    assert done.stdout.split() == ["1", "one-1"], done.stderr
