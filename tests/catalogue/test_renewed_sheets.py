"""A sheet that an earlier reader read is read anew when its file is loaded, and what is held since is said."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from sheets_by_hand import held, mm2, report, setting

from torquary_catalogue.command import main
from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_ingest.reader_version import READER_VERSION
from torquary_schema.values import Finding, Setting

NO_DEVICE = Finding(code="device_missing", message="Nothing printed says which device.")
NO_SCREW = Finding(code="screw_missing", message="Nothing printed says that it is a terminal's.")
ONE, TWO, THREE = (
    setting(name, conductor=mm2("1.5", size)) for name, size in (("a-11", "6"), ("b-11", "10"), ("c-11", "16"))
)


def hold(one: Setting, *findings: Finding) -> Setting:
    return replace(one, state="held", findings=findings)


def test_what_is_held_since_is_counted_by_reason(catalogue: Catalogue) -> None:
    load_report(catalogue, report(ONE, TWO, THREE, held("d-11", conductor=mm2("25", "35"))), reader=1)
    now = report(hold(ONE, NO_DEVICE), hold(TWO, NO_DEVICE, NO_SCREW), THREE, held("d-11", conductor=mm2("25", "35")))
    loaded = load_report(catalogue, now, again=True, reader=2)
    assert [(one.code, one.count) for one in loaded.withdrawn] == [("device_missing", 2), ("screw_missing", 1)]
    assert loaded.withdrawn[0].meaning == "Nothing printed says which device the figure is for."
    assert load_report(catalogue, now, again=True, reader=2).withdrawn == ()


def test_a_print_that_is_no_setting_any_more_is_counted(catalogue: Catalogue) -> None:
    load_report(catalogue, report(ONE))
    loaded = load_report(catalogue, report(), again=True, reader=1)
    assert [(one.code, one.count) for one in loaded.withdrawn] == [("not_read", 1)]


def test_a_reading_under_another_id_is_known_by_its_print(catalogue: Catalogue) -> None:
    load_report(catalogue, report(ONE, TWO))
    now = report(replace(ONE, id="x-1"), replace(hold(TWO, NO_DEVICE), id="y-1"))
    loaded = load_report(catalogue, now, again=True, reader=1)
    assert [(one.code, one.count) for one in loaded.withdrawn] == [("device_missing", 1)]


def test_decisions_are_kept_and_ask_where_a_doubt_is_new(catalogue: Catalogue) -> None:
    load_report(catalogue, report(ONE, TWO), reader=1)
    for name in ("a-11", "b-11"):
        decide(catalogue, [Wish(setting=name, verdict="correct", who="Ines", why="seen", torque="1.2 Nm")])
    loaded = load_report(catalogue, report(ONE, hold(TWO, NO_DEVICE)), again=True, reader=2)
    assert {one.code: one.count for one in loaded.withdrawn} == {"device_missing": 1, "decision_unconfirmed": 1}
    rows = catalogue.rows("SELECT id, state FROM setting ORDER BY id")
    assert [(row["id"], row["state"]) for row in rows] == [("a-11", "released"), ("b-11", "held")]
    assert len(catalogue.rows("FROM decision")) == 2


SHEET = "Main switch QS 63\nTerminal;Conductor mm²;Torque N·m\nL1;4;2.5\n"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "quay.csv"
    path.write_text(SHEET, "utf-8")
    return path


def load(sheet: Path, *more: str) -> str:
    words = ["load", str(sheet), *more, "--catalogue", str(sheet.with_name("office.duckdb"))]
    return CliRunner().invoke(main, words, catch_exceptions=False).stdout


def test_a_sheet_of_an_earlier_reader_is_read_anew_once(sheet: Path) -> None:
    """Also one whose reader is not known, for it was read before versions were kept."""
    catalogue = sheet.with_name("office.duckdb")
    assert "quay.csv: loaded, 1 released, 0 held" in load(sheet)
    assert "quay.csv: unchanged" in load(sheet)
    for earlier in (READER_VERSION - 1, None):
        with open_catalogue(catalogue, writing=True) as opened:
            assert opened.rows("SELECT reader FROM sheet") == [{"reader": READER_VERSION}]
            opened.connection.execute("UPDATE sheet SET reader = ?", [earlier])
        told = load(sheet)
        assert "quay.csv: loaded, 1 released, 0 held" in told
        assert "released before" not in told
        assert "quay.csv: unchanged" in load(sheet)


def test_load_says_what_was_released_before_and_is_held_now(sheet: Path) -> None:
    """In words and as JSON, one line for each reason."""
    for more, told in (((), "text"), (("--json",), "json")):
        two = SHEET.replace("Main switch QS 63", "Quillhaven Schaltgeräte") + "\n\nTerminal;Torque N·m\nT1;0.8\n"
        sheet.write_text(two, "utf-8")
        load(sheet)
        with open_catalogue(sheet.with_name("office.duckdb"), writing=True) as opened:
            opened.connection.execute("UPDATE sheet SET reader = NULL")
            opened.connection.execute("UPDATE setting SET state = 'released', max_nm = read_max_nm")
        output = load(sheet, *more)
        if told == "text":
            lines = output.splitlines()
            at = lines.index("  read anew, for the reader has changed; released before and not now:")
            meaning = "Nothing printed says which device the figure is for."
            assert lines[at + 1] == f"    2 setting(s): {meaning} [device_missing]"
        else:
            (one,) = json.loads(output)["sheets"]
            assert [(each["code"], each["count"]) for each in one["withdrawn"]] == [("device_missing", 2)]
