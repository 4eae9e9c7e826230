"""Decisions made before there was a record of them are on it, and sheets put out of force then can come back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from earlier_files import put, run, shorten, unpack

from torquary_catalogue.store import open_catalogue


def test_decisions_made_before_the_record_are_on_it_and_can_be_taken_back(tmp_path: Path) -> None:
    earlier = unpack(tmp_path, 5)
    why = ("--who", "Jan", "--why", "seen anew")

    def figures() -> dict[str, tuple[str, str | None]]:
        with open_catalogue(earlier) as opened:
            rows = opened.rows("SELECT terminal_printed, state, max_nm FROM current_setting WHERE file = 'office.csv'")
        return {row["terminal_printed"]: (row["state"], shorten(row["max_nm"])) for row in rows if row["max_nm"]}

    made = json.loads(run(earlier, "decisions", "--json").stdout)["decisions"]
    assert [(one["kind"], one["who"]) for one in made] == [
        ("correct", "Ines"), ("correct", "Ines"), ("accept", "Ines"), ("reject", "Ines"), ("reject", "Ines"),
        ("supersede", "torquary"), ("supersede", "not kept"),
    ]  # fmt: skip
    decided = {"Line L": ("released", "2.5"), "Outgoing 2T1": ("released", "2"), "PE": ("released", "1.2")}
    assert figures() == decided
    run(earlier, "decisions", "--undo", 5, *why)
    assert figures() == decided | {"N": ("released", "1.9")}
    run(earlier, "decisions", "--undo", 2, *why)
    assert figures() == decided | {"N": ("released", "1.8")}
    run(earlier, "decisions", "--undo", 1, *why)
    rows = json.loads(run(earlier, "find", "QS 63 load 4mm2", "--json").stdout)["rows"]
    assert [(row["terminal_printed"], row["device_printed"], row["max_nm"]) for row in rows] == [
        ("Load", "Main switch QS 63", 2.0)
    ]
    done = run(earlier, "load", "--again", *put(tmp_path, "office.csv"))
    assert "office.csv: loaded, 4 released, 1 rejected, 0 held" in done.stdout


@pytest.mark.parametrize(("file", "answers"), [("qb.csv", [2.5]), ("datasheet.csv", [3.5])])
def test_a_sheet_that_an_earlier_version_superseded_is_restored_without_its_file(
    tmp_path: Path, file: str, answers: list[float]
) -> None:
    earlier = unpack(tmp_path, 5)
    sheets = json.loads(run(earlier, "sheets", "--json").stdout)["sheets"]
    (out,) = [one for one in sheets if (one["file"], one["state"]) == (file, "superseded")]
    done = run(earlier, "sheet", out["digest"], "restore", "--who", "Jan", "--why", "both are right")
    assert done.exit_code == 0, done.output
    with open_catalogue(earlier) as opened:
        rows = opened.rows("SELECT max_nm FROM current_setting WHERE sheet = ?", [out["digest"]])
    assert [float(row["max_nm"]) for row in rows] == answers
