"""What no print proves is kept with a reading, and a person is asked for it group by group."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sheets_by_hand import held, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.export import export
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.settings import read_settings
from torquary_catalogue.store.words import refresh_words
from torquary_schema.report import load_json, setting_to_dict
from torquary_schema.values import Evidence, Missing, ScopeText, Setting

PROOF = (Evidence(field="unit", printed="N·m", page=1), Evidence(field="screw", printed="Terminal screw"))


def lacking(name: str, *fields: str) -> Setting:
    return replace(held(name), missing=tuple(Missing(field=field, looked="Mz. | Klemme") for field in fields))


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    path = tmp_path / "harbour.duckdb"
    readings = (
        lacking("d-11", "device"), lacking("d-22", "terminal", "device"), lacking("t-11", "terminal"),
        lacking("s-11", "screw"), lacking("q-11", "quantity"), lacking("o-11"),
    )  # fmt: skip
    with open_catalogue(path, writing=True) as opened:
        refresh_words(opened)
        load_report(opened, report(*readings, setting("one-1")))
    return path


def run(harbour: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["held", *arguments, "--catalogue", str(harbour)], catch_exceptions=False)


def test_a_record_comes_back_with_its_evidence_and_what_is_missing(catalogue: Catalogue) -> None:
    given = (replace(setting("one-1"), evidence=PROOF), lacking("held-1", "device"))
    load_report(catalogue, report(*given))
    assert read_settings(catalogue) == given


def test_exports_carry_both(catalogue: Catalogue, tmp_path: Path) -> None:
    load_report(catalogue, report(replace(setting("one-1"), evidence=PROOF)))
    for ending in ("csv", "parquet", "jsonl"):
        export(catalogue, tmp_path / f"out.{ending}")
    assert "unit N·m 1; screw Terminal screw" in (tmp_path / "out.csv").read_text("utf-8")
    (row,) = catalogue.rows(f"SELECT evidence, missing FROM '{tmp_path / 'out.parquet'}'")
    assert (row["evidence"][0], row["missing"]) == ({"field": "unit", "printed": "N·m", "page": 1}, [])
    record = load_json((tmp_path / "out.jsonl").read_text("utf-8"))
    assert record["evidence"] == setting_to_dict(replace(setting("one-1"), evidence=PROOF))["evidence"]


def test_evidence_of_a_held_figure_is_no_answer(catalogue: Catalogue) -> None:
    """It may be the sentence in which the figure stands."""
    load_report(catalogue, report(replace(held("held-1"), evidence=PROOF)))
    assert catalogue.rows("SELECT evidence FROM current_setting") == [{"evidence": None}]


def test_held_readings_stand_under_what_is_missing(harbour: Path) -> None:
    """One heading for each part with its count; a reading that lacks two stands under the first."""
    lines = run(harbour).stdout.splitlines()
    told = [line for line in lines if line.endswith("reading(s)") or (line[:1] in "dtsqo" and "-" in line[:3])]
    assert [line.split("  ")[0] for line in told] == [
        "Which device it is for is missing: 2 reading(s)", "d-11", "d-22",
        "Which terminal it is for is missing: 1 reading(s)", "t-11",
        "That the screw is an electrical terminal's is missing: 1 reading(s)", "s-11",
        "That it is a tightening torque is missing: 1 reading(s)", "q-11",
        "Other reasons: 1 reading(s)", "o-11",
    ]  # fmt: skip


def test_json_says_what_is_missing_and_where_it_was_looked_for(harbour: Path) -> None:
    rows = {row["id"]: row["missing"] for row in json.loads(run(harbour, "--json").stdout)["held"]}
    assert rows["d-22"] == [{"field": name, "looked": "Mz. | Klemme"} for name in ("terminal", "device")]
    assert rows["o-11"] == []


def test_the_page_says_it_with_each_card(harbour: Path, tmp_path: Path) -> None:
    run(harbour, "--pictures", str(tmp_path / "shown"))
    page = (tmp_path / "shown" / "held.html").read_text("utf-8")
    assert page.count("<dt>missing</dt>") == 5
    two = "terminal (looked at: Mz. | Klemme); device (looked at: Mz. | Klemme)"
    assert f"<dt>missing</dt><dd>{two}</dd>" in page


def test_what_speaks_for_a_figure_is_kept_and_given_out_once_it_is_released(catalogue: Catalogue) -> None:
    over = (ScopeText(kind="caption", text="Line terminals", page=2), ScopeText(kind="sheet", text="Breaker QB 16"))
    given = (replace(setting("one-1"), scope=over), replace(held("held-1"), scope=over))
    load_report(catalogue, report(*given))
    assert read_settings(catalogue) == given
    shown = [setting_to_dict(given[0])["scope"], None]
    assert [row["scope"] for row in catalogue.rows("SELECT scope FROM current_setting ORDER BY number")] == shown
