"""A column that was read as torques and is none: said once, by a person; what it spoke against stands then."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from lacking_readings import lacking, put
from sheets_by_hand import torque
from wrong_columns import ROWS, TORQUES, Terminals

from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.settings import read_held
from torquary_ingest.checks.contradiction import contradicted
from torquary_schema.values import Conductor, Place, Terminal


@pytest.fixture(params=["rk.csv", "rk.pdf"])
def terminals(tmp_path: Path, request: pytest.FixtureRequest) -> Terminals:
    there = Terminals(tmp_path)
    there.load(request.param)
    return there


def test_one_answer_for_the_column_and_taken_back_as_one(terminals: Terminals) -> None:
    assert terminals.figures() == {}
    told = terminals.run("held", status=None).stdout
    assert told.count("    if it is none: torquary decide ") == 2
    wrong = terminals.reading("0,5–2,5")
    assert f"    if it is none: torquary decide {wrong[:10]} answer --no-torque --why …" in told
    done = terminals.run("decide", wrong, "answer", "--no-torque").stdout
    assert "4 reading(s) answered: 4 rejected" in done
    assert terminals.figures() == TORQUES
    shown = terminals.run("find", "RK L1").stdout
    assert "Ines gave that what speaks against it is no torque on " in shown
    assert "sizes of conductors" in shown
    terminals.run("decisions", "--undo", "1", "--who", "Jan", "--why", "it is one")
    assert terminals.figures() == {}


def test_other_programs_get_the_question_about_each_column(terminals: Terminals) -> None:
    told = json.loads(terminals.run("held", "--json", status=None).stdout)["questions"]
    columns = [one for one in told if one["lacks"] == "column"]
    assert {one["question"] for one in columns} == {"are the figures of this column torques"}
    assert len({one["column_number"] for one in columns}) == 2
    assert sorted(len(one["readings"]) for one in columns) == [4, 4]


def test_the_column_of_the_torques_is_not_to_be_thrown_out_with_it(terminals: Terminals) -> None:
    """Which of two is none a person says; the other reaches would reject both."""
    wrong = terminals.reading("0,5–2,5")
    for reach in ("list", "section", "sheet", "maker"):
        done = terminals.run("decide", wrong, "answer", "--no-torque", "--reach", reach, status=2)
        assert "--no-torque is for one column: choose a reach of column, row, reading" in done.stderr
    done = terminals.run("decide", wrong, "answer", "--no-torque", "--terminal", "L1", status=2)
    assert "--no-torque is an answer by itself" in done.stderr
    assert terminals.figures() == {}


def test_a_rejected_column_releases_nothing(terminals: Terminals) -> None:
    """It may be a torque that is not wanted, and the other one for other conductors."""
    terminals.run("decide", terminals.reading("0,5–2,5"), "reject", "--reach", "column")
    assert terminals.figures() == {}


def test_one_reading_alone_settles_its_row(terminals: Terminals) -> None:
    terminals.run("decide", terminals.reading("0,5–2,5"), "answer", "--no-torque", "--reach", "reading")
    assert terminals.figures() == {"L1": 0.6}


def test_what_something_else_speaks_against_stays_held(tmp_path: Path) -> None:
    """Another row for the same terminal."""
    there = Terminals(tmp_path)
    there.load("rk.csv", (*ROWS, ("PE", "1,5–16", "2,5–3")))
    there.run("decide", there.reading("0,5–2,5"), "answer", "--no-torque")
    assert there.figures() == {"L1": 0.6, "L2": 0.8, "N": 1.2}
    assert "prints '2,5–3' for 'PE'" in there.run("held", status=None).stdout


def test_what_the_sheet_says_elsewhere_is_looked_for_then(tmp_path: Path) -> None:
    """A sentence that was not read speaks against a figure as soon as it may be given."""
    there = Terminals(tmp_path)
    there.load("rk.csv", line="Anzugsdrehmoment Klemme L1: 2,2 Nm.")
    there.run("decide", there.reading("0,5–2,5"), "answer", "--no-torque")
    assert there.figures() == {"L2": 0.8, "N": 1.2, "PE": 1.8}
    assert "with what was given, page 1 " in there.run("held", status=None).stdout


def test_two_that_lack_something_go_on_to_speak_against_each_other(tmp_path: Path) -> None:
    """Both lack their device; given to both, it releases neither."""
    figures = (("0.5–2.5", "0.5", "2.5", 2), ("1.2", "1.2", "1.2", 3), ("2.8", "2.8", "2.8", 3))
    rows = [
        lacking(at, *(("device",) if column == 3 else ()), torque=torque(printed, low, high), conductor=Conductor(),
                place=Place(page=1, table=1, row=at, column=column, text=printed), terminal=Terminal(printed="PE"))
        for at, (printed, low, high, column) in enumerate(figures, 1)
    ]  # fmt: skip
    told = {one.id: tuple(contradicted(one, other) for other in rows if other is not one) for one in rows}
    put(tmp_path / "office.duckdb", *(replace(one, findings=(*one.findings, *told[one.id])) for one in rows))
    there = Terminals(tmp_path)
    there.run("decide", "row-1", "answer", "--no-torque")
    there.run("decide", "row-2", "answer", "--device", "Breaker BK-16")
    assert there.figures() == {}


def test_what_a_person_decided_alone_goes_before_it(terminals: Terminals) -> None:
    terminals.run("decide", terminals.reading("0,4–0,6"), "reject")
    terminals.run("decide", terminals.reading("0,5–2,5"), "answer", "--no-torque")
    assert terminals.figures() == {name: figure for name, figure in TORQUES.items() if name != "L1"}


@pytest.mark.parametrize("at_first", ["accept", "answer"])
def test_one_of_the_column_that_a_person_accepted_is_a_torque(terminals: Terminals, at_first: str) -> None:
    """It goes on to speak against the other figure of its row, whenever it was accepted."""
    deeds = {"accept": ("0,5–2,5", "accept"), "answer": ("0,5–4", "answer", "--no-torque")}
    for printed, *deed in sorted(deeds.values(), key=lambda deed: deed[1] != at_first):
        terminals.run("decide", terminals.reading(printed), *deed)
    assert terminals.figures() == {**TORQUES, "L1": 2.5}
    assert "printed “0,4–0,6”" in terminals.run("held", status=None).stdout


def test_it_stands_when_the_sheet_is_read_again(terminals: Terminals) -> None:
    terminals.run("decide", terminals.reading("0,5–2,5"), "answer", "--no-torque")
    (file,) = [one for one in terminals.folder.iterdir() if one.stem == "rk"]
    terminals.run("load", "--again", str(file), status=None)
    assert terminals.figures() == TORQUES


def test_the_page_asks_it_of_each_column_and_its_file_is_carried_out(terminals: Terminals) -> None:
    terminals.run("held", "--pictures", str(terminals.folder / "page"), status=None)
    page = (terminals.folder / "page" / "held.html").read_text("utf-8")
    assert page.count("Is it no torques at all, but sizes or the like?</strong>") == 2
    assert page.count('<input type="checkbox" name="no_torque" value="on" checked>') == 2
    with open_catalogue(terminals.catalogue) as opened:
        first = next(row for row in read_held(opened) if row["torque_printed"] == "0,5–2,5")
    one = {"id": first["id"], "verdict": "answer", "printed": "0,5–2,5", "reach": "column", "no_torque": True}
    told = {"torquary_decisions": 1, "who": "Ines", "why": "sizes", "decisions": [one]}
    (terminals.folder / "decisions.json").write_text(json.dumps(told), "utf-8")
    terminals.run("decide", "--from", str(terminals.folder / "decisions.json"))
    assert terminals.figures() == TORQUES
