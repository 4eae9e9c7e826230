"""What many readings lack is answered once: written on each, releasing what lacked nothing else, taken back as one."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from lacking_readings import LACKING, SIZES, lacking, put, run, states
from sheets_by_hand import mm2, setting, torque

from torquary_catalogue.command import main
from torquary_catalogue.questions import reached
from torquary_catalogue.store import Catalogue, open_catalogue
from torquary_catalogue.store.answers import REACHES
from torquary_catalogue.store.settings import read_held
from torquary_schema.values import Beside, Device, Finding, ScopeText, Setting, Terminal


def everything(catalogue: Catalogue) -> list[dict[str, Any]]:
    settings = catalogue.rows("SELECT * FROM setting ORDER BY ALL")
    return settings + catalogue.rows("SELECT * EXCLUDE (number) FROM finding ORDER BY ALL")


@pytest.fixture
def harbour(tmp_path: Path) -> Path:
    """Five rows of a list without a device; the fourth lacks its terminal too, the fifth prints two units."""
    disagree = Finding(code="units_disagree", message="two units printed for the figure do not agree")
    rows = [lacking(row, "device") for row in (1, 2, 3)]
    more = (lacking(4, "device", "terminal"), lacking(5, "device", findings=(disagree,)))
    return put(tmp_path / "harbour.duckdb", *rows, *more, setting("one-1"))


def test_what_a_list_lacks_is_one_question(harbour: Path) -> None:
    told = json.loads(run(harbour, "held", "--json").stdout)["questions"]
    assert [(one["id"], one["lacks"], len(one["readings"]), one["lack_nothing_else"]) for one in told] == [
        ("row-1", "device", 5, 3), ("row-4", "terminal", 1, 0),
    ]  # fmt: skip
    lines = run(harbour, "held").stdout.splitlines()
    assert "which device? 5 reading(s) of harbour_breakers.pdf page 1 table 1, 3 lack nothing else" in lines
    assert "    torquary decide row-1 answer --device '…' --why …" in lines


def test_one_answer_releases_what_lacked_nothing_else_and_is_taken_back_as_one(harbour: Path) -> None:
    with open_catalogue(harbour) as catalogue:
        before = everything(catalogue)
    done = run(harbour, "decide", "row-1", "answer", "--device", "Breaker QX 63")
    assert done.stdout.splitlines() == [
        "harbour_breakers.pdf: 5 reading(s) answered: 3 released, 2 held still (decision 1)",
        "    held still: 1 (row-4), for:",
        "        nothing printed says which terminal this is for [terminal_missing]",
        "    held still: 1 (row-5), for:",
        "        two units printed for the figure do not agree [units_disagree]",
    ]
    assert [*states(harbour).values()] == ["released"] * 3 + ["held"] * 2 + ["released"]
    with open_catalogue(harbour) as catalogue:
        row = catalogue.rows("SELECT * FROM current_setting WHERE id = 'row-2'")[0]
    assert (row["device_printed"], row["max_nm"], row["torque_printed"]) == ("Breaker QX 63", Decimal("2.5"), "2.5")
    assert {"field": "device", "printed": "Breaker QX 63", "page": None} in row["evidence"]
    (told,) = [one["message"] for one in row["findings"] if one["code"] == "evidence_given"]
    assert told.startswith("Ines gave the device “Breaker QX 63” on 20")
    assert told.endswith("seen (decision 1)")
    shown = run(harbour, "find", "QX 63").stdout
    assert "Ines gave the device “Breaker QX 63”" in shown
    taken_back = run(harbour, "decisions", "--undo", "1").stdout
    assert "device “Breaker QX 63” → 5 reading(s) held for this list (decision 2)" in taken_back
    with open_catalogue(harbour) as catalogue:
        assert everything(catalogue) == before


def test_a_second_answer_gives_what_was_still_lacking(harbour: Path) -> None:
    run(harbour, "decide", "row-1", "answer", "--device", "Breaker QX 63")
    done = run(harbour, "decide", "row-4", "answer", "--terminal", "N", "--reach", "reading")
    assert "1 reading(s) answered: 1 released" in done.stdout
    run(harbour, "decisions", "--undo", "1")
    assert states(harbour)["row-4"] == "held"


@pytest.mark.parametrize(
    "against",
    [
        Finding(code="contradicted", message="page 2 prints 9 N·m for it"),
        Finding(code="not_witnessed", message="the picture could not tell"),
        Finding(code="scanned_figure", message="read from a picture"),
        Finding(code="unit_doubtful", message="lbs is no unit of torque"),
        Finding(code="condition_unread", message="the cell also says 'from version 2'"),
    ],
)
def test_nothing_that_something_else_speaks_against_is_released(tmp_path: Path, against: Finding) -> None:
    path = put(tmp_path / "doubts.duckdb", lacking(1, "device", findings=(against,)), lacking(2, "device"))
    run(path, "decide", "row-1", "answer", "--device", "Breaker QX 63")
    assert states(path) == {"row-1": "held", "row-2": "released"}


def test_a_printed_figure_that_nobody_compared_with_its_picture_is_not_released(tmp_path: Path) -> None:
    unseen = replace(lacking(1, "device"), findings=(LACKING["device"],))
    path = put(tmp_path / "unseen.duckdb", unseen)
    run(path, "decide", "row-1", "answer", "--device", "Breaker QX 63")
    assert states(path) == {"row-1": "held"}


def test_names_that_make_two_torques_for_one_terminal_release_neither(tmp_path: Path) -> None:
    """Nor do they leave the one in force that was released before."""
    one, other = (lacking(row, "terminal", conductor=mm2("1", "6")) for row in (1, 2))
    other = replace(other, torque=torque("4", "4", "4"))
    path = put(tmp_path / "two.duckdb", one, other, lacking(3, "terminal"))
    run(path, "decide", "row-1", "answer", "--terminal", "L1")
    assert states(path) == {"row-1": "held", "row-2": "held", "row-3": "released"}
    with open_catalogue(path) as catalogue:
        codes = catalogue.rows("SELECT setting FROM finding WHERE code = 'answer_contradicted' ORDER BY ALL")
    assert [row["setting"] for row in codes] == ["row-1", "row-2"]
    run(path, "decisions", "--undo", "1")
    assert set(states(path).values()) == {"held"}


def test_each_row_gives_its_own_name_where_a_column_prints_it(tmp_path: Path) -> None:
    def row(number: int, name: str) -> Setting:
        beside = (Beside(heading="Type", text=name), Beside(heading="Weight", text="0.2"))
        return replace(lacking(number, "device"), beside=beside if name else beside[1:])

    path = put(tmp_path / "types.duckdb", row(1, "QX 16"), row(2, "QX 25"), row(3, ""))
    assert json.loads(run(path, "held", "--json").stdout)["questions"][0]["beside"] == ["Weight"]
    done = run(path, "decide", "row-1", "answer", "--device-from", "Type")
    assert "3 reading(s) answered: 2 released, 1 held still" in done.stdout
    assert "    held still: 1 (row-3), for:\n" in done.stdout
    with open_catalogue(path) as catalogue:
        named = catalogue.rows("SELECT device_printed FROM setting ORDER BY number")
    assert [one["device_printed"] for one in named] == ["QX 16", "QX 25", ""]
    assert "prints nothing under “Colour”" in run(path, "decide", "row-3", "answer", "--device-from", "Colour").output


def test_reaches(tmp_path: Path) -> None:
    """A column, a row, a section with its like in another language, the sheet, all lists of the maker."""
    def at(number: int, section: str, **place: Any) -> Setting:
        one = lacking(number, "terminal")
        scope = (*one.scope, ScopeText(kind="section", text=section))
        return replace(one, id=f"at-{number}", scope=scope, place=replace(one.place, **place))

    other = replace(at(9, "Raccordement", table=4), conductor=mm2(*SIZES[1]))
    rows = [at(1, "Connection"), at(2, "Connection", column=4), at(3, "Mounting", table=2), other]
    with open_catalogue(put(tmp_path / "reaches.duckdb", *rows)) as catalogue:
        held = read_held(catalogue)
    found = {reach: [row["id"] for row in reached(held, held[0], reach)] for reach in REACHES}
    assert found == {
        "reading": ["at-1"], "row": ["at-1"], "column": ["at-1"], "list": ["at-1", "at-2"],
        "section": ["at-1", "at-2", "at-9"], "sheet": ["at-1", "at-2", "at-3", "at-9"],
        "maker": ["at-1", "at-2", "at-3", "at-9"],
    }  # fmt: skip


def test_an_answer_for_the_maker_counts_for_sheets_to_come(tmp_path: Path) -> None:
    path = put(tmp_path / "maker.duckdb", lacking(1, "terminal"))
    run(path, "decide", "row-1", "answer", "--terminal", "L1", "--reach", "maker")
    other = replace(lacking(2, "terminal"), scope=(ScopeText(kind="heading", text="Torque of the cover"),))
    put(path, replace(lacking(1, "terminal"), id="new-1"), other, digest="b" * 64, file="later.pdf", title="Other")
    strange = {"digest": "c" * 64, "file": "x.pdf", "title": "X", "maker": "Mossgrindle"}
    put(path, replace(lacking(1, "terminal"), id="else-1"), **strange)
    assert states(path) == {"row-1": "released", "new-1": "released", "row-2": "held", "else-1": "held"}
    run(path, "decisions", "--undo", "1")
    assert set(states(path).values()) == {"held"}


def test_a_unit_is_given_for_its_figures_which_keep_their_print(tmp_path: Path) -> None:
    doubt = Finding(code="unit_doubtful", message="'lbs' may be lbf·in or lbf·ft")
    read = replace(torque("20 lbs", None, None, unit="lbs"), nominal_nm=None)
    path = put(tmp_path / "lbs.duckdb", lacking(1, findings=(doubt,), torque=read))
    run(path, "decide", "row-1", "answer", "--unit", "lbf·in", "--reach", "sheet")
    with open_catalogue(path) as catalogue:
        (row,) = catalogue.rows("SELECT torque_printed, unit_printed, round(max_nm, 4) AS max FROM current_setting")
    assert row == {"torque_printed": "20 lbs", "unit_printed": "lbs", "max": Decimal("2.2597")}
    assert "no unit of torque" in run(path, "decide", "row-1", "answer", "--unit", "pounds").output


def test_an_answer_outlives_loads_and_goes_to_the_same_print_of_a_later_edition(harbour: Path) -> None:
    run(harbour, "decide", "row-1", "answer", "--device", "Breaker QX 63")
    rows = [replace(lacking(row, "device"), id=f"new-{row}") for row in (1, 2)]
    other = replace(lacking(3, "device"), id="new-3", torque=torque("3.5", "3.5", "3.5"))
    put(harbour, *rows, other)
    assert [*states(harbour).values()] == ["released", "released", "held"]
    with open_catalogue(harbour) as catalogue:
        (told,) = catalogue.rows("SELECT message FROM finding WHERE code = 'answer_outlived'")
    assert "for 5 reading(s), and 3 of them are read otherwise now or no more" in told["message"]
    later = {"digest": "b" * 64, "file": "later.pdf", "edition": "2025-03"}
    put(harbour, *(replace(one, id=f"later-{at}") for at, one in enumerate((*rows, other))), **later)
    with open_catalogue(harbour) as catalogue:
        found = catalogue.rows("SELECT id, state FROM current_setting ORDER BY number")
    assert [row["state"] for row in found] == ["released", "released", "held"]
    run(harbour, "decisions", "--undo", "1")
    with open_catalogue(harbour) as catalogue:
        assert {row["state"] for row in catalogue.rows("SELECT state FROM current_setting")} == {"held"}


def test_what_is_read_otherwise_than_a_person_said_asks(harbour: Path) -> None:
    run(harbour, "decide", "row-1", "answer", "--device", "Breaker QX 63")
    put(harbour, setting("now-1", place=lacking(1, "device").place, device=Device(printed="Breaker QX 80")))
    assert states(harbour) == {"now-1": "held"}


def test_one_reading_decided_by_itself_goes_before_an_answer(harbour: Path) -> None:
    run(harbour, "decide", "row-2", "reject")
    run(harbour, "decide", "row-3", "correct", "--device", "Breaker QX 80")
    run(harbour, "decide", "row-1", "answer", "--device", "Breaker QX 63")
    run(harbour, "decide", "row-1", "reopen")
    with open_catalogue(harbour) as catalogue:
        rows = catalogue.rows("SELECT state, device_printed FROM setting ORDER BY number LIMIT 3")
    assert [(row["state"], row["device_printed"]) for row in rows] == [
        ("held", "Breaker QX 63"), ("rejected", ""), ("released", "Breaker QX 80"),
    ]  # fmt: skip


def test_many_are_rejected_at_once(harbour: Path) -> None:
    done = run(harbour, "decide", "row-1", "reject", "--reach", "list")
    assert "5 reading(s) answered: 5 rejected" in done.stdout
    assert set(states(harbour).values()) == {"rejected", "released"}


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("row-1", "answer"), "an answer gives something"),
        (("row-1", "answer", "--device", "QX", "--device-from", "Type"), "are two answers"),
        (("row-1", "answer", "--device", "QX", "--reach", "world"), "is none of reading, row"),
        (("row-1", "answer", "--terminal", "L1"), "lacks device, and that is not what is answered"),
        (("one-1", "answer", "--device", "QX"), "one-1 is released, and lacks nothing"),
        (("row-1", "answer", "--torque", "2 Nm"), "answer takes no --torque"),
        (("row-1", "accept", "--unit", "N·m"), "accept takes no --unit"),
    ],
)
def test_an_answer_that_cannot_be_taken_is_one_line(harbour: Path, arguments: tuple[str, ...], told: str) -> None:
    done = run(harbour, "decide", *arguments)
    assert (done.exit_code, done.output.count("\n")) == (2, 1)
    assert told in done.output


SHEET = "Wharfside Controls\nMain switch QS\n\nKoda;Pack;mm²;Tightening torque N·m\nPost A;10;4;0.5\nPost B;5;6;0.8\n"


def test_an_answer_is_kept_as_a_profile_for_the_next_sheet(tmp_path: Path) -> None:
    catalogue, profile, sheets = tmp_path / "kept.duckdb", tmp_path / "wharfside.json", []
    for name, text in (("one.csv", SHEET), ("two.csv", SHEET.replace("0.5", "0.6"))):
        sheets.append(tmp_path / name)
        sheets[-1].write_text(text, encoding="utf-8")

    def load(*arguments: object) -> str:
        said = ["load", *map(str, arguments), "--catalogue", str(catalogue)]
        return CliRunner().invoke(main, said, catch_exceptions=False).stdout

    load(sheets[0])
    first = json.loads(run(catalogue, "held", "--json").stdout)["questions"][0]
    kept = ("answer", "--terminal-from", "Koda", "--profile", str(profile))
    done = run(catalogue, "decide", first["id"], *kept)
    assert "2 reading(s) answered: 2 released" in done.stdout
    assert f"torquary load --profile {profile}" in done.stdout
    assert "two.csv: loaded, 2 released, 0 held" in load("--profile", profile, sheets[1])
    run(catalogue, "decisions", "--undo", "1")


def test_what_says_nothing_of_a_heading_is_kept_in_no_profile_and_answers_nothing(harbour: Path) -> None:
    done = run(harbour, "decide", "row-1", "answer", "--device", "QX", "--profile", str(harbour.with_name("p.json")))
    assert (done.exit_code, done.output.count("\n")) == (2, 1)
    assert "--profile keeps what a heading means" in done.output
    assert set(states(harbour).values()) == {"held", "released"}
    assert states(harbour)["row-1"] == "held"


def test_a_blank_cell_that_is_right_as_read_says_nothing_of_the_names(tmp_path: Path) -> None:
    blank = Finding(code="ditto_doubtful", message="the cell under 'AWG' is blank in this row")
    named = {"terminal": Terminal(printed="Outgoing")}
    rows = (lacking(1, findings=(blank,)), lacking(2, "terminal", findings=(blank,), **named))
    path = put(tmp_path / "blank.duckdb", *rows)
    run(path, "decide", "row-1", "answer", "--as-read", "blank")
    assert states(path) == {"row-1": "released", "row-2": "held"}
    run(path, "decide", "row-2", "answer", "--as-read", "terminal")
    assert states(path) == {"row-1": "released", "row-2": "released"}


def test_blank_cells_under_different_headings_are_two_questions(tmp_path: Path) -> None:
    under = [Finding(code="ditto_doubtful", message=f"the cell under '{name}' is blank in this row") for name in "AAB"]
    path = put(tmp_path / "blank.duckdb", *(lacking(at, findings=(one,)) for at, one in enumerate(under, 1)))
    assert "    the cell under 'A' is blank in this row" in run(path, "held").stdout
    run(path, "decide", "row-1", "answer", "--as-read", "blank", "--reach", "sheet")
    assert states(path) == {"row-1": "released", "row-2": "released", "row-3": "held"}


def test_print_under_no_heading_names_nothing(tmp_path: Path) -> None:
    """A name that is right as it was read stays it, whatever stands in a column without a heading."""
    unheaded = (Beside(heading="", text="PZ2"),)
    named = {"terminal": Terminal(printed="Outgoing"), "beside": unheaded}
    path = put(tmp_path / "unheaded.duckdb", lacking(1, "terminal", **named), lacking(2, "device", beside=unheaded))
    run(path, "decide", "row-1", "answer", "--as-read", "terminal")
    run(path, "decide", "row-2", "answer", "--device", "Breaker QX 63")
    with open_catalogue(path) as catalogue:
        query = "SELECT terminal_printed, device_printed FROM setting WHERE state = 'released' ORDER BY number"
        rows = catalogue.rows(query)
    assert [tuple(row.values()) for row in rows] == [("Outgoing", "Breaker BK-16"), ("Outgoing", "Breaker QX 63")]


def beside(words: str) -> Finding:
    return Finding(code="condition_unread", message=f"the cell also says {words!r}")


@pytest.fixture
def worded(tmp_path: Path) -> Path:
    """Four rows with words beside the figure, three times the same, once with a doubt that nobody can answer."""
    disagree = Finding(code="units_disagree", message="two units printed for the figure do not agree")
    rows = [lacking(row, findings=(beside("grey"),)) for row in (1, 2)]
    more = (lacking(3, findings=(beside("grey"), disagree)), lacking(4, findings=(beside("with sleeve"),)))
    return put(tmp_path / "worded.duckdb", *rows, *more)


def test_the_same_words_beside_the_figures_of_a_list_are_one_question(worded: Path) -> None:
    told = json.loads(run(worded, "held", "--json").stdout)["questions"]
    assert [(one["id"], one["lacks"], one["readings"], one["lack_nothing_else"], one["unread"]) for one in told] == [
        ("row-1", "condition", ["row-1", "row-2", "row-3"], 2, ["the cell also says 'grey'"]),
        ("row-4", "condition", ["row-4"], 1, ["the cell also says 'with sleeve'"]),
    ]
    lines = run(worded, "held").stdout.splitlines()
    at = next(at for at, line in enumerate(lines) if line.startswith("are the figures right as read"))
    assert lines[at + 1] == "    the cell also says 'grey'"
    assert lines[at + 2] == "    torquary decide row-1 answer --as-read condition --why …"


@pytest.mark.parametrize("reach", ["list", "sheet", "column"])
def test_an_answer_about_words_is_for_the_same_words_alone(worded: Path, reach: str) -> None:
    """The words stay beside the figure that is given."""
    run(worded, "decide", "row-1", "answer", "--as-read", "condition", "--reach", reach)
    assert [*states(worded).values()] == ["released", "released", "held", "held"]
    shown = run(worded, "find", "BK-16").stdout
    assert "the cell also says 'grey'" in shown
    assert "Ines gave that the figure is right as read, with what else is printed there" in shown
    run(worded, "decisions", "--undo", "1")
    assert {*states(worded).values()} == {"held"}


@pytest.mark.parametrize("word", ["condition", "blank"])
def test_print_of_sheets_to_come_is_not_answered_for(worded: Path, word: str) -> None:
    done = run(worded, "decide", "row-1", "answer", "--as-read", word, "--reach", "maker")
    assert done.exit_code == 2
    assert f"--as-read {word} is for what one sheet prints: choose another reach than maker" in done.stderr


def test_the_page_offers_no_reach_that_is_refused(harbour: Path, worded: Path, tmp_path: Path) -> None:
    for path, offers in ((harbour, True), (worded, False)):
        run(path, "held", "--pictures", str(tmp_path / path.stem))
        page = (tmp_path / path.stem / "held.html").read_text("utf-8")
        assert 'value="list"' in page
        assert ('value="maker"' in page) == offers
