"""What loading writes, replaces and leaves alone."""

from __future__ import annotations

from typing import Any

import pytest
from sheets_by_hand import held, report, setting, torque

from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report

TABLES = ("sheet", "setting", "finding", "decision")


def everything(catalogue: Catalogue) -> dict[str, list[dict[str, Any]]]:
    return {table: catalogue.rows(f"FROM {table} ORDER BY ALL") for table in TABLES}


def states(catalogue: Catalogue, digest: str) -> dict[str, str]:
    rows = catalogue.rows("SELECT id, state FROM setting WHERE sheet = ?", [digest])
    return {row["id"]: row["state"] for row in rows}


def test_the_same_sheet_again_changes_nothing(catalogue: Catalogue) -> None:
    """Loading the same content again leaves every row of every table as it was."""
    sheet = report(setting("one-1"), held("held-1"))
    assert load_report(catalogue, sheet).outcome == "loaded"
    decide(catalogue, [Wish(setting="held-1", verdict="correct", who="Ines", why="seen on paper", torque="2.5 Nm")])
    before = everything(catalogue)
    assert load_report(catalogue, sheet).outcome == "unchanged"
    assert everything(catalogue) == before
    assert len(before["setting"]) == 2


def test_a_later_edition_replaces_the_settings_of_the_one_before(catalogue: Catalogue) -> None:
    """A later edition of the same file name supersedes the older settings, and no others."""
    load_report(catalogue, report(setting("old-1"), title="Breakers BK 16"))
    load_report(catalogue, report(setting("other-1"), digest="c" * 64, file="quay_switches.pdf"))
    newer = report(setting("new-1"), digest="b" * 64, title="Breakers BK 16", edition="2025-01")
    assert load_report(catalogue, newer).replaced == ("a" * 64,)
    current = catalogue.rows("SELECT id, min_nm FROM current_setting ORDER BY id")
    assert [row["id"] for row in current] == ["new-1", "other-1"]
    assert states(catalogue, "a" * 64) == {"old-1": "superseded"}
    assert catalogue.rows("SELECT superseded_by, superseded_why FROM sheet WHERE digest = ?", ["a" * 64]) == [
        {"superseded_by": "b" * 64, "superseded_why": "edition"}
    ]


def test_a_changed_file_keeps_decisions(catalogue: Catalogue) -> None:
    """A decision stays on record when its sheet is replaced, and is carried over to the same print of the new one."""
    load_report(catalogue, report(held("held-1")))
    decide(catalogue, [Wish(setting="held-1", verdict="accept", who="Ines", why="seen on paper")])
    kept = catalogue.rows("FROM decision")
    load_report(catalogue, report(held("held-1"), digest="b" * 64), replace=True)
    assert catalogue.rows("FROM decision WHERE sheet = ?", ["a" * 64]) == kept
    assert states(catalogue, "b" * 64) == {"held-1": "released"}
    (carried,) = catalogue.rows("FROM decision WHERE sheet = ?", ["b" * 64])
    assert carried["why"] == "seen on paper (carried over from harbour_breakers.pdf, decision 1)"


@pytest.mark.parametrize(
    ("verdict", "typed", "after", "figure"),
    [("accept", None, "released", "8.8"), ("correct", "2.5 Nm", "released", "2.5"), ("reject", None, "rejected", None)],
)
def test_a_decision_holds_when_the_same_content_is_read_anew(
    catalogue: Catalogue, verdict: Any, typed: str | None, after: str, figure: str | None
) -> None:
    """Reading the same content anew puts the last decision of each setting back in force."""
    sheet = report(held("held-1"), setting("one-1"))
    load_report(catalogue, sheet)
    decide(catalogue, [Wish(setting="held-1", verdict="reject", who="Ines", why="at first")])
    decide(catalogue, [Wish(setting="held-1", verdict=verdict, who="Ines", why="on second sight", torque=typed)])
    assert load_report(catalogue, sheet, again=True).outcome == "loaded"
    assert states(catalogue, "a" * 64) == {"held-1": after, "one-1": "released"}
    (row,) = catalogue.rows("SELECT min_nm FROM setting WHERE id = 'held-1'")
    assert row["min_nm"] is None if figure is None else f"{row['min_nm'].normalize():f}" == figure


def test_released_and_held_are_kept_apart(catalogue: Catalogue) -> None:
    """A held reading has its figure only in the columns that are not an answer, and its reason beside it."""
    load_report(catalogue, report(setting("one-1"), held("held-1")))
    rows = {row["id"]: row for row in catalogue.rows("FROM current_setting")}
    assert f"{rows['one-1']['min_nm'].normalize():f}" == "2.5"
    names = ("min_nm", "nominal_nm", "max_nm", "torque_printed", "unit_printed", "place_text")
    assert [rows["held-1"][name] for name in names] == [None] * len(names)
    (waiting,) = catalogue.rows("FROM held_setting")
    assert (waiting["id"], waiting["torque_printed"]) == ("held-1", "8.8")
    assert [reason["code"] for reason in waiting["reasons"]] == ["unit_missing"]


def test_a_figure_of_a_held_setting_cannot_be_written_as_an_answer(catalogue: Catalogue) -> None:
    """The table itself refuses a figure in the answering columns of a held setting."""
    load_report(catalogue, report(held("held-1")))
    with pytest.raises(Exception, match="CHECK constraint"):
        catalogue.connection.execute("UPDATE setting SET min_nm = 8.8 WHERE id = 'held-1'")


def test_a_file_that_can_no_longer_be_read_supersedes_nothing(catalogue: Catalogue) -> None:
    """A refused content of a known file leaves the settings read before in force."""
    load_report(catalogue, report(setting("one-1")))
    refused = report(digest="b" * 64, state="refused")
    assert load_report(catalogue, refused).outcome == "refused"
    assert states(catalogue, "a" * 64) == {"one-1": "released"}
    assert len(catalogue.rows("FROM current_setting")) == 1


def test_an_id_given_twice_loses_no_setting(catalogue: Catalogue) -> None:
    """Two settings of one sheet with the same id are both kept."""
    load_report(catalogue, report(setting("one-1"), setting("one-1", torque=torque("3", "3", "3"))))
    assert set(states(catalogue, "a" * 64)) == {"one-1", "one-1-2"}


def test_everything_in_the_file_says_what_it_is(catalogue: Catalogue) -> None:
    """Every table, view, macro and column of a catalogue carries a comment."""
    bare = catalogue.rows("""
        SELECT table_name AS name FROM duckdb_tables() WHERE NOT internal AND coalesce(comment, '') = ''
        UNION ALL SELECT view_name FROM duckdb_views() WHERE NOT internal AND coalesce(comment, '') = ''
        UNION ALL SELECT table_name || '.' || column_name FROM duckdb_columns()
            WHERE NOT internal AND coalesce(comment, '') = ''
        UNION ALL SELECT function_name FROM duckdb_functions() WHERE NOT internal AND coalesce(comment, '') = ''""")
    assert [row["name"] for row in bare] == []
    (seen,) = catalogue.rows("""
        SELECT (SELECT count(*) FROM duckdb_tables() WHERE NOT internal) AS tables,
            (SELECT count(*) FROM duckdb_views() WHERE NOT internal) AS views,
            (SELECT count(*) FROM duckdb_functions() WHERE NOT internal) AS macros""")
    assert seen["tables"] >= 5
    assert seen["views"] == 4
    assert seen["macros"] == 27
