"""A catalogue that an earlier version wrote is brought up to date in its place, and keeps what people decided."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest
from earlier_files import put, run, shorten, unpack

from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.layout import LAYOUT
from torquary_catalogue.store.words import refresh_words

SAMPLES = Path(__file__).parents[2] / "sample_sheets"
QUAY = {
    "Line": ("released", "1.2"),
    "Load 2, 4, 6": ("released", "2.4"),
    "L3": ("released", "2.2"),
    "N": ("rejected", None),
    "PE": ("released", "1.6"),
    "A1": ("released", "0.8"),
    "A2": ("released", "0.8"),
}


@pytest.fixture
def earlier(tmp_path: Path) -> Path:
    return unpack(tmp_path, 1)


def settings(catalogue: Catalogue, file: str) -> dict[str, tuple[str, str | None]]:
    """Terminal of each setting of the files of this name → state and released figure."""
    rows = catalogue.rows(
        "SELECT s.terminal_printed, s.state, s.max_nm FROM setting AS s JOIN sheet AS h ON h.digest = s.sheet "
        "WHERE h.file = ? ORDER BY s.number",
        [file],
    )
    return {row["terminal_printed"]: (row["state"], shorten(row["max_nm"])) for row in rows}


def shape(catalogue: Catalogue) -> list[dict[str, Any]]:
    """All that a client sees of the file: tables, columns, types and comments, views, macros, constraints."""
    parts = (
        "table_name, column_name, column_index, data_type, is_nullable, comment FROM duckdb_columns()"
        " WHERE NOT internal",
        "table_name, comment FROM duckdb_tables() WHERE NOT internal",
        "view_name, sql, comment FROM duckdb_views() WHERE NOT internal",
        "function_name, macro_definition, comment FROM duckdb_functions() WHERE NOT internal",
        "table_name, constraint_text FROM duckdb_constraints()",
        "version, words FROM catalogue_format",
        "kind, count(*) AS words FROM known_word GROUP BY kind",
    )
    return [row for part in parts for row in catalogue.rows(f"SELECT {part} ORDER BY ALL")]


@pytest.mark.parametrize("layout", range(1, LAYOUT))
def test_it_is_the_file_that_this_version_makes(tmp_path: Path, layout: int) -> None:
    earlier = unpack(tmp_path, layout)
    with open_catalogue(tmp_path / "new.duckdb", writing=True) as made:
        refresh_words(made)
    with open_catalogue(earlier) as opened, open_catalogue(tmp_path / "new.duckdb") as made:
        assert shape(opened) == shape(made)
        assert opened.rows("SELECT version FROM catalogue_format") == [{"version": LAYOUT}]


def test_decisions_answer_though_the_sheets_are_gone(earlier: Path) -> None:
    """Finding alone, with no load before it, brings the file up to date."""
    rows = json.loads(run(earlier, "find", "Quillhaven", "QB", "Load", "--json").stdout)["rows"]
    assert ("Load 2, 4, 6", 2.4) in [(row["terminal_printed"], row["max_nm"]) for row in rows]
    with open_catalogue(earlier) as opened:
        assert settings(opened, "quay.csv") == QUAY
        (kept,) = opened.rows("""SELECT count(*) AS decisions, count(p.sheet) AS prints
            FROM decision AS d LEFT JOIN decided_print AS p USING (sheet, setting, decided_at)""")
    assert [*kept.values()] == [12, 12]


def test_decisions_hold_when_the_sheets_are_read_anew(earlier: Path, tmp_path: Path) -> None:
    done = run(earlier, "load", "--again", *put(tmp_path, "quay.csv"), SAMPLES / "orvantzel_spd.pdf")
    assert "quay.csv: loaded, 2 released, 4 corrected, 1 rejected, 0 held" in done.stdout
    assert "orvantzel_spd.pdf: loaded, 1 released, 1 corrected, 1 rejected, 0 held" in done.stdout
    with open_catalogue(earlier) as opened:
        assert settings(opened, "quay.csv") == QUAY
        assert settings(opened, "orvantzel_spd.pdf") == {
            "Klemmen 11, 12, 14": ("released", "0.25"),
            "L1, L2, L3": ("released", "3"),
            "earth terminal PE": ("rejected", None),
        }
        (conductor,) = opened.rows("SELECT conductor_printed FROM setting WHERE max_nm = 2.2")
    assert conductor["conductor_printed"] == "10-16 mm²"


def test_a_decision_whose_reading_an_earlier_version_lost_is_said_when_the_sheet_is_read(
    earlier: Path, tmp_path: Path
) -> None:
    done = run(earlier, "load", "--again", *put(tmp_path, "taught.csv"))
    assert done.stdout.count("[decision_without_reading]") == 2
    assert "Ines corrected “” to 2.5 Nm on " in done.stdout


def test_a_lost_reading_that_comes_back_asks(earlier: Path, tmp_path: Path) -> None:
    """Its id is the one decided about; how it was read then is not known any more."""
    profile = tmp_path / "mz.json"
    heading = {"printed": "Mz.", "means": "torque", "unit": "lb·in"}
    profile.write_text(json.dumps({"torquary_profile": 1, "maker": "Quillhaven", "headings": [heading]}), "utf-8")
    done = run(earlier, "load", *put(tmp_path, "taught.csv"), "--profile", profile)
    assert "taught.csv: loaded, 0 released, 2 held" in done.stdout
    assert done.stdout.count("how it was read then is not known): look at the sheet and decide anew") == 2


PUT_OUT_FOR_ITS_NAME = """
UPDATE sheet SET file = 'quay.csv' WHERE file = 'datasheet.csv' AND state = 'read';
UPDATE sheet SET state = 'superseded',
    superseded_by = (SELECT digest FROM sheet WHERE file = 'quay.csv' AND title <> 'Quillhaven Switchgear')
WHERE file = 'quay.csv' AND title = 'Quillhaven Switchgear';
UPDATE setting SET state = 'superseded', min_nm = NULL, nominal_nm = NULL, max_nm = NULL
WHERE sheet IN (SELECT digest FROM sheet WHERE state = 'superseded' AND file = 'quay.csv')"""
"""What layout 1 did when another file named quay.csv was loaded."""


def test_a_sheet_put_out_of_force_for_its_name_alone_comes_back_with_its_decisions(
    earlier: Path, tmp_path: Path
) -> None:
    import duckdb

    with duckdb.connect(str(earlier)) as client:
        client.execute(PUT_OUT_FOR_ITS_NAME)
        assert client.execute("SELECT count(*) FROM sheet WHERE file = 'quay.csv'").fetchone() == (2,)
    done = run(earlier, "load", *put(tmp_path, "quay.csv"))
    assert "quay.csv: loaded, 2 released, 4 corrected, 1 rejected, 0 held" in done.stdout
    assert "it has the same file name as quay.csv" in done.stdout
    with open_catalogue(earlier) as opened:
        assert settings(opened, "quay.csv") == QUAY | {"T1": ("released", "3.5")}


def test_one_that_was_made_before_names_and_faces_were_kept(earlier: Path) -> None:
    """The first files of layout 1 had neither table."""
    import duckdb

    with duckdb.connect(str(earlier)) as client:
        client.execute("DROP TABLE name_given; DROP TABLE sheet_face; DROP TABLE picture")
    with open_catalogue(earlier) as opened:
        assert opened.rows("FROM name_given") == []
        assert settings(opened, "quay.csv") == QUAY


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs a file that may not be written")
def test_one_that_may_not_be_written_is_one_line(earlier: Path) -> None:
    earlier.chmod(0o444)
    earlier.parent.chmod(0o555)
    try:
        done = run(earlier, "find", "quillhaven")
    finally:
        earlier.parent.chmod(0o755)
    assert (done.exit_code, done.output.count("\n")) == (3, 1)
    assert "was written by an earlier version of torquary and cannot be brought up to date here" in done.output


def test_a_file_that_only_calls_itself_an_earlier_catalogue_is_one_line(tmp_path: Path) -> None:
    import duckdb

    path = tmp_path / "other.duckdb"
    with duckdb.connect(str(path)) as client:
        client.execute("CREATE TABLE catalogue_format AS SELECT 1 AS version")
    done = run(path, "find", "quillhaven")
    assert (done.exit_code, done.output.count("\n")) == (3, 1)


def test_a_step_that_fails_leaves_the_file_as_it_was(earlier: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from torquary_catalogue.store import layout

    def stop(catalogue: Catalogue) -> None:
        raise RuntimeError("stopped")

    monkeypatch.setattr(layout, "_comment_columns", stop)
    with pytest.raises(RuntimeError, match="stopped"):
        open_catalogue(earlier)
    monkeypatch.undo()
    import duckdb

    with duckdb.connect(str(earlier), read_only=True) as client:
        assert client.execute("SELECT version FROM catalogue_format").fetchall() == [(1,)]
        assert client.execute("SELECT count(*) FROM current_setting").fetchall() == [(13,)]
    with open_catalogue(earlier) as opened:
        assert settings(opened, "quay.csv") == QUAY


@pytest.mark.parametrize("layout", [2])
def test_an_upper_bound_alone_is_a_limit_whatever_it_was_before(tmp_path: Path, layout: int) -> None:
    """As read, as decided, and when its sheet is read anew."""
    earlier = unpack(tmp_path, layout)
    load = ("load", *put(tmp_path, "limits.csv"))
    for _ in range(2):
        with open_catalogue(earlier) as opened:
            rows = opened.rows("SELECT terminal_printed, min_nm, nominal_nm, max_nm, limit_nm FROM current_setting")
        told = {row["terminal_printed"]: [shorten(one) for one in [*row.values()][1:]] for row in rows}
        assert told == {"L1": [None, None, None, "0.8"], "L2": [None, None, None, "2"], "N": [None, None, None, "1.2"]}
        assert "limits.csv: loaded, 2 released, 1 corrected, 0 held" in run(earlier, *load, "--again").stdout


def test_the_one_role_that_was_kept_becomes_all_that_the_label_names(tmp_path: Path) -> None:
    """At once, whether a sheet was read or a person gave the label; and again when the sheet is read anew."""
    earlier = unpack(tmp_path, 3)
    load = ("load", "--again", *put(tmp_path, "roles.csv"))
    wanted = {
        "Line L, N": ["line_in", "line", "neutral"], "N": ["neutral"], "Load L and N": ["load_out", "line", "neutral"],
        "PE": ["protective_earth"],
    }  # fmt: skip
    for _ in range(2):
        with open_catalogue(earlier) as opened:
            rows = opened.rows("SELECT terminal_printed, roles FROM current_setting ORDER BY number")
        assert {row["terminal_printed"]: row["roles"] for row in rows} == wanted
        for words, figures in (("neutral", [2.5, 2.0]), ("load", [2.0]), ("PE", [1.5])):
            rows = json.loads(run(earlier, "find", "QS 63 4mm2", words, "--json").stdout)["rows"]
            assert [row["max_nm"] for row in rows] == figures
        assert "roles.csv: loaded, 1 released, 2 corrected, 1 rejected, 0 held" in run(earlier, *load).stdout


def test_a_sheet_is_found_by_its_words_and_by_those_that_a_person_gave(tmp_path: Path) -> None:
    """At once, and again when the sheet is read anew."""
    earlier = unpack(tmp_path, 4)
    load = ("load", "--again", *put(tmp_path, "words.csv"))
    for _ in range(2):
        for words, figures in (("2T1", [2.0]), ("words.csv 6mm2", [1.8]), ("2T2", [])):
            rows = json.loads(run(earlier, "find", words, "--json").stdout)["rows"]
            assert [row["max_nm"] for row in rows if row["fit"] in ("size", "unasked")] == figures
        assert "words.csv: loaded, 2 released, 1 corrected, 0 held" in run(earlier, *load).stdout


def test_names_given_before_driver_bits_were_are_taken_back_to_what_was_read(tmp_path: Path) -> None:
    """At once, and again when the sheet is read anew."""
    earlier = unpack(tmp_path, 6)
    with open_catalogue(earlier) as opened:
        (kept,) = opened.rows("SELECT purpose, unit_printed FROM name_read")
    assert kept == {"purpose": "electrical_terminal", "unit_printed": "N·m"}
    wanted = {"Line L": "2.5", "N": "1.8", "Outgoing 2T1": "2", "PE": "1.2", "Aux 13, 14": "0.8"}
    for _ in range(2):
        with open_catalogue(earlier) as opened:
            rows = opened.rows("SELECT terminal_printed, max_nm FROM current_setting WHERE state = 'released'")
        assert {row["terminal_printed"]: shorten(row["max_nm"]) for row in rows} == wanted
        run(earlier, "load", "--again", *put(tmp_path, "given.csv"))
    run(earlier, "decisions", "--undo", 1, "--why", "no")
    with open_catalogue(earlier) as opened:
        (row,) = opened.rows("SELECT device_printed, purpose FROM setting WHERE terminal_printed = 'Load'")
    assert row == {"device_printed": "Main switch QS 63", "purpose": "electrical_terminal"}


def test_a_catalogue_of_layout_6_is_asked_in_todays_words(tmp_path: Path) -> None:
    """What its names say is noted when it is opened, without a load."""
    earlier = unpack(tmp_path, 6)
    (row,) = json.loads(run(earlier, "find", "hoofdschakelaar", "QS63", "afgaand", "4mm", "--json").stdout)["rows"]
    assert row["terminal_printed"] == "Outgoing 2T1"


def test_a_catalogue_of_layout_7_is_found_by_its_words_and_counted(tmp_path: Path) -> None:
    """At once, and again when the sheet is read anew."""
    earlier = unpack(tmp_path, 7)
    for _ in range(2):
        for words, figures in (("2T1", [2.0]), ("given.csv N", [1.9]), ("Wharfside earth", [1.2]), ("2T2", [])):
            rows = json.loads(run(earlier, "find", words, "--json").stdout)["rows"]
            assert [row["max_nm"] for row in rows] == figures
        with open_catalogue(earlier) as opened:
            counted = opened.rows("SELECT kind, name, settings FROM sheet_count ORDER BY ALL")
        assert [(*row.values(),) for row in counted] == [
            ("device", "Main switch QS 63", 4), ("family", "switch_disc", 4), ("maker", "", 5), ("sheet", "", 5)
        ]  # fmt: skip
        run(earlier, "load", "--again", *put(tmp_path, "given.csv"))


def test_a_catalogue_of_layout_8_is_asked_in_words(tmp_path: Path) -> None:
    with open_catalogue(unpack(tmp_path, 8)) as opened:
        rows = opened.rows("SELECT terminal_printed, state, max_nm FROM find_words('main switch QS 63 neutral')")
    told = [(row["terminal_printed"], row["state"], shorten(row["max_nm"])) for row in rows]
    assert told == [("N", "released", "1.9")]


def test_an_answer_of_a_catalogue_of_layout_9_stands_and_is_taken_back(tmp_path: Path) -> None:
    earlier = unpack(tmp_path, 9)
    told = {"81.104 Bar terminal": "0.5", "81.110 Bar terminal": "0.8"}
    query = "SELECT device_printed || ' ' || terminal_printed AS name, max_nm FROM current_setting"
    for again in ((), ("--again",)):
        run(earlier, "load", *again, *put(tmp_path, "lacking.csv"))
        with open_catalogue(earlier) as opened:
            assert {row["name"]: shorten(row["max_nm"]) for row in opened.rows(query)} == told
    run(earlier, "decisions", "--undo", 1, "--who", "Ines", "--why", "not so")
    with open_catalogue(earlier) as opened:
        assert opened.rows("SELECT DISTINCT state FROM setting") == [{"state": "held"}]
