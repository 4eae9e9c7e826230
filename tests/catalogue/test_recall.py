"""What was given out can be asked for again: which figures of it do not stand any more."""

from __future__ import annotations

from pathlib import Path

import pytest
from office import WHO, Office
from sheets_by_hand import report, setting, torque

from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.recall import recall
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.given_out import GivenOut, keep_given
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.settings import read_released
from torquary_schema.values import Finding, Place, Terminal

NUMBER = "Document no. QH-10641"


@pytest.fixture
def office(tmp_path: Path) -> Office:
    made = Office(tmp_path)
    made.put("qb.html", "Breaker QB 16", f"{NUMBER} Edition 3", L1="2.5", N="2.0")
    made.load()
    made.run("find", "QB 16 L1", "--note", "Board 7, pier 2", status=0)
    return made


def reasons(office: Office) -> dict[str, tuple[str, float | None]]:
    """What each thing was for → why its last figure does not stand, and what is given now."""
    given = office.ask("recall", "--all")["given"]
    last = {one["what_for"]: one["figures"][-1] for one in given}
    return {name: (figure["reason"], figure["now"] and figure["now"][2]) for name, figure in last.items()}


def test_a_note_keeps_question_answer_and_what_it_is_for(office: Office) -> None:
    shown = office.run("find", "QB 16 N", "--note", "Board 8", status=0).stdout
    assert shown.rstrip().endswith("Noted as 2, for Board 8.")
    one, two = office.ask("recall", "--all")["given"]
    assert (one["kind"], one["what_for"], one["answer"]) == ("note", "Board 7, pier 2", "one")
    assert one["question"].startswith("torquary find")
    assert [(figure["file"], figure["then"][2]) for figure in two["figures"]] == [("qb.html", 2)]
    assert office.run("recall", status=0).stdout == "given out: 2; all stand as they were\n"
    nothing = office.run("recall", "no", "such", status=0).stdout
    assert nothing == "nothing was given out whose note has “no such”\n"
    office.run("find", "QB 16 N", "--note", " ", status=2)
    office.run("find", "no such thing", "--note", "Board 9", status=1)
    assert office.ask("recall", "--all", "board", "9")["given"][0]["answer"] == "unknown"


@pytest.mark.parametrize(
    ("deed", "reason", "now"),
    [
        (("decide", "correct", "--torque", "2.2 Nm"), "corrected", 2.2),
        (("decide", "reject"), "rejected", None),
        (("sheet", "withdraw"), "withdrawn", None),
        (("edition", "2.8"), "superseded", 2.8),
        (("edition", "2.5"), "superseded", 2.5),
    ],
)
def test_what_does_not_stand_any_more_is_recalled_until_it_does(
    office: Office, deed: tuple[str, ...], reason: str, now: float | None
) -> None:
    office.run("find", "QB 16 N", "--note", "Board 8", status=0)
    if deed[0] == "decide":
        office.run("decide", office.reading("L1"), *deed[1:], *WHO, status=0)
    elif deed[0] == "sheet":
        office.run("sheet", "qb.html", *deed[1:], *WHO, status=0)
    else:
        office.put("qb4.html", "Breaker QB 16", f"{NUMBER} Edition 4", L1=deed[1], N="2.0")
        office.load()
    assert reasons(office)["Board 7, pier 2"] == (reason, now)
    told = office.run("recall", "pier", status=1).stdout
    assert "Board 7, pier 2, torquary find" in told
    assert f"2.5 N·m then, {reason} (" in told
    last = office.ask("decisions")["decisions"][-1]["number"]
    office.run("decisions", "--undo", last, *WHO, status=0)
    assert {reason for reason, _ in reasons(office).values()} == {""}


def test_an_export_is_given_out_too(office: Office) -> None:
    for name in ("all.csv", "all.parquet", "all.jsonl"):
        office.run("export", office.folder / name, status=0)
    office.run("decide", office.reading("N"), "reject", *WHO, status=0)
    lines = office.run("recall", "all", status=1).stdout.splitlines()
    assert [line.split(", ")[1] for line in lines if line[0] != " "] == [
        "all.csv: 1 of 2 figure(s) do not stand any more",
        "all.parquet: 1 of 2 figure(s) do not stand any more",
        "all.jsonl: 1 of 2 figure(s) do not stand any more",
    ]


DOUBT = Finding(code="units_disagree", message="Two units disagree.")


@pytest.mark.parametrize(
    ("again", "reason"),
    [
        ({"id": "new-1", "place": Place(page=1, table=1, row=2, text="1.5–16 2.5")}, ""),
        ({"id": "one-1", "state": "held", "findings": (DOUBT,)}, "held"),
        ({"id": "new-1", "terminal": Terminal(printed="L9")}, "changed"),
        ({"id": "one-1", "terminal": Terminal(printed="L9")}, "changed"),
        ({"id": "new-1", "torque": torque("2.5", "25", "25")}, "changed"),
        (None, "gone"),
    ],
)
def test_a_figure_goes_with_its_print_when_the_sheet_is_read_anew(
    catalogue: Catalogue, again: dict[str, object] | None, reason: str
) -> None:
    place = Place(page=1, table=1, row=2, text="1.5–16 2.5")
    load_report(catalogue, report(setting("one-1", place=place)))
    given = GivenOut(kind="note", who="Ines", what_for="Board 7", question="torquary find bk", answer="one")
    keep_given(catalogue, given, read_released(catalogue))
    parts = dict(again or {})
    anew = [] if again is None else [setting(str(parts.pop("id")), **{"place": place, **parts})]
    load_report(catalogue, report(*anew), again=True)
    assert [one.reason for one in recall(catalogue)[0].figures] == [reason]


def test_a_name_that_a_person_gave_is_no_other_reading(catalogue: Catalogue) -> None:
    sheet = report(setting("one-1"))
    load_report(catalogue, sheet)
    decide(catalogue, [Wish(setting="one-1", verdict="correct", terminal="L7", who="Ines", why="seen")])
    given = GivenOut(kind="note", who="Ines", what_for="Board 7", question="torquary find bk", answer="one")
    keep_given(catalogue, given, read_released(catalogue))
    load_report(catalogue, sheet, again=True)
    assert [one.reason for one in recall(catalogue)[0].figures] == [""]
