"""Every decision is on record and can be taken back, which is a decision too."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from office import WHO, Office
from sheets_by_hand import held, mm2, report, setting, torque

from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.decide.added import Missed, add_row
from torquary_catalogue.decide.undo import undo
from torquary_catalogue.errors import TorquaryError
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_catalogue.store.record import read_made
from torquary_schema.values import Finding, Terminal

SAID = {"who": "Ines", "why": "seen on paper"}
MISSED = Missed(
    sheet="harbour_breakers.pdf", page=2, device="Breaker BK-16", terminal="PE", torque="1.2 Nm",
    conductor="4 mm²", **SAID,
)  # fmt: skip


def say(catalogue: Catalogue, reading: str, verdict: str, **given: str) -> int:
    decide(catalogue, [Wish(setting=reading, verdict=verdict, **SAID, **given)])  # type: ignore[arg-type]
    return read_made(catalogue)[-1].number


def told(catalogue: Catalogue) -> dict[str, tuple[str, str, str | None]]:
    """Id of each setting → its state, terminal and released figure."""
    rows = catalogue.rows("SELECT id, state, terminal_printed, max_nm FROM setting ORDER BY id")
    return {
        row["id"]: (row["state"], row["terminal_printed"], row["max_nm"] and f"{row['max_nm'].normalize():f}")
        for row in rows
    }


def take_back(catalogue: Catalogue, number: int) -> int:
    return undo(catalogue, number, **SAID).numbers[0]


def test_undoing_goes_back_step_by_step_and_can_be_undone(catalogue: Catalogue) -> None:
    sheet = report(setting("one-1"), held("held-1"))
    load_report(catalogue, sheet)
    steps = [told(catalogue)]
    numbers = []
    for reading, verdict, given in (
        ("held-1", "accept", {}),
        ("held-1", "correct", {"terminal": "L7", "conductor": "4 mm²"}),
        ("held-1", "correct", {"torque": "1.2 Nm"}),
        ("held-1", "reject", {}),
    ):
        numbers.append(say(catalogue, reading, verdict, **given))
        steps.append(told(catalogue))
    assert [step["held-1"] for step in steps] == [
        ("held", "Outgoing", None), ("released", "Outgoing", "8.8"), ("released", "L7", "8.8"),
        ("released", "L7", "1.2"), ("rejected", "L7", None),
    ]  # fmt: skip
    undone = []
    for number, before in reversed([*zip(numbers, steps, strict=False)]):
        undone.append(take_back(catalogue, number))
        assert told(catalogue) == before
        load_report(catalogue, sheet, again=True)
        assert told(catalogue) == before
    for number, after in zip(reversed(undone), steps[1:], strict=True):
        take_back(catalogue, number)
        assert told(catalogue) == after


def test_an_earlier_decision_taken_back_leaves_the_later_in_force(catalogue: Catalogue) -> None:
    load_report(catalogue, report(setting("one-1")))
    first = say(catalogue, "one-1", "correct", torque="1.2 Nm")
    second = say(catalogue, "one-1", "correct", torque="1.4 Nm")
    take_back(catalogue, first)
    assert told(catalogue)["one-1"] == ("released", "Outgoing", "1.4")
    undone = read_made(catalogue)[-1]
    assert undone.before == undone.after == "released 1.4 N·m for Breaker BK-16, Outgoing, 1.5–16 mm²"
    take_back(catalogue, second)
    assert told(catalogue)["one-1"] == ("released", "Outgoing", "2.5")


def test_a_rejected_reading_that_is_opened_again_waits_with_the_reason(catalogue: Catalogue) -> None:
    sheet = report(setting("one-1"))
    load_report(catalogue, sheet)
    say(catalogue, "one-1", "reject")
    number = say(catalogue, "one-1", "reopen")
    for _ in range(2):
        (waiting,) = catalogue.rows("FROM held_setting")
        assert [one["code"] for one in waiting["reasons"]] == ["decision_reopened"]
        assert "Ines opened it again on " in waiting["reasons"][0]["message"]
        load_report(catalogue, sheet, again=True)
    take_back(catalogue, number)
    assert told(catalogue)["one-1"][0] == "rejected"
    assert catalogue.rows("FROM finding") == []
    say(catalogue, "one-1", "accept")
    assert told(catalogue)["one-1"] == ("released", "Outgoing", "2.5")


def test_the_record_says_who_when_what_before_and_after_and_why(tmp_path: Path) -> None:
    office = Office(tmp_path)
    office.put("qb.html", "Breaker QB 16", L1="2.5", N="2.0")
    office.load()
    office.run("decide", office.reading("L1"), "correct", "--torque", "1.2 Nm", "--terminal", "L7", *WHO, status=0)
    office.run("decisions", "--undo", 1, "--who", "Jan", "--why", "it was right", status=0)
    lines = office.run("decisions", status=0).stdout.splitlines()
    assert [line.split("  ", 2)[2] for line in lines if line[0] != " "] == [
        f"Ines: correct, qb.html, reading {office.reading('L1')[:10]}",
        f"Jan: undo decision 1, qb.html, reading {office.reading('L1')[:10]}",
    ]
    assert [line.strip() for line in lines if line[0] == " "] == [
        "before: released 2.5 N·m for Breaker QB 16, L1, 4",
        "after: released 1.2 N·m for Breaker QB 16, L7, 4",
        "why: seen on paper",
        "taken back by decision 2",
        "before: released 1.2 N·m for Breaker QB 16, L7, 4",
        "after: released 2.5 N·m for Breaker QB 16, L1, 4",
        "why: it was right",
    ]
    assert len(office.ask("decisions", office.reading("L1")[:8])["decisions"]) == 2
    assert office.run("decisions", office.reading("N"), status=1).stdout == "Nothing is decided.\n"
    for arguments, says in (
        (("--undo", 1, *WHO), "taken back already: to have it again, undo decision 2"),
        (("--undo", 9, *WHO), "there is no decision 9"),
        (("--undo", 2), "a decision needs who decides and why"),
        (("qb.html", "--undo", 2, *WHO), "leave out the ID"),
    ):
        done = office.run("decisions", *arguments, status=2)
        assert (says in done.output, done.output.count("\n")) == (True, 1)


def test_a_row_that_the_reader_missed_answers_as_what_it_is(tmp_path: Path) -> None:
    office = Office(tmp_path)
    office.put("qb.html", "Breaker QB 16", L1="2.5")
    office.load()
    row = ("--page", 1, "--device", "Breaker QB 16", "--terminal", "PE", "--torque", "1.2 Nm", "--conductor", "4 mm2")
    office.run("add", "qb.html", *row, *WHO, status=0)
    for again in ((), ("--again",)):
        office.run("load", office.sheets, *again)
        assert office.figures("QB 16 PE 4mm2") == {"qb.html PE": "1.2"}
        shown = office.run("find", "QB 16 PE", status=0).stdout
        assert "row added, which the reader did not read, by Ines, " in shown
        assert "the reader missed this row: Ines added it on " in shown
    export = office.folder / "all.csv"
    office.run("export", export)
    assert "row_added the reader missed this row" in export.read_text("utf-8")
    assert "2 setting(s): 2 released, 0 held, 1 added by hand" in office.run("sheets").stdout
    office.run("decide", office.reading("PE"), "correct", "--torque", "1.4 Nm", *WHO, status=0)
    assert office.figures("QB 16 PE") == {"qb.html PE": "1.4"}
    office.run("decisions", "--undo", 2, *WHO, status=0)
    office.run("decisions", "--undo", 1, *WHO, status=0)
    assert office.figures("QB 16") == {"qb.html L1": "2.5"}
    office.run("decisions", "--undo", 4, *WHO, status=0)
    assert office.figures("QB 16 PE") == {"qb.html PE": "1.2"}


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"page": 3}, "harbour_breakers.pdf has 2 page(s)"),
        ({"page": 0}, "harbour_breakers.pdf has 2 page(s)"),
        ({"terminal": " "}, "--terminal is blank"),
        ({"torque": "1.2"}, "cannot be taken"),
        ({"conductor": "thick"}, "cannot be taken"),
        ({"why": ""}, "needs who decides and why"),
        ({"sheet": "other.pdf"}, "no sheet has the id"),
    ],
)
def test_a_row_that_cannot_be_added_changes_nothing(
    catalogue: Catalogue, changes: dict[str, object], says: str
) -> None:
    load_report(catalogue, report(setting("one-1")))
    with pytest.raises(TorquaryError, match=says.replace("(", r"\(").replace(")", r"\)")):
        add_row(catalogue, replace(MISSED, **changes))  # type: ignore[arg-type]
    assert list(told(catalogue)) == ["one-1"]
    assert read_made(catalogue) == ()
    add_row(catalogue, MISSED)
    with pytest.raises(TorquaryError, match="this row is added already"):
        add_row(catalogue, MISSED)


@pytest.mark.parametrize(("printed", "state"), [("1.2", "released"), ("1.5", "held")])
def test_an_added_row_asks_where_a_better_reader_reads_another_figure(
    catalogue: Catalogue, printed: str, state: str
) -> None:
    one = setting("one-1")
    load_report(catalogue, report(one))
    row = add_row(catalogue, replace(MISSED, page=1, conductor=None))
    now = setting("two-1", terminal=Terminal(printed="PE"), torque=torque(printed, printed, printed))
    load_report(catalogue, report(one, now), again=True)
    assert told(catalogue)[row.id][0] == state
    asked = catalogue.rows("SELECT message FROM finding WHERE code = 'decision_unconfirmed'")
    assert bool(asked) is (state == "held")
    assert len(told(catalogue)) == 3


EDITIONS = {"title": "Breakers BK 16", "maker": "Quillhaven"}
DOUBT = Finding(code="scanned_figure", message="Read from a picture.")


def test_decisions_are_carried_to_the_same_print_of_a_later_edition_and_taken_back_with_it(
    catalogue: Catalogue,
) -> None:
    narrow, wide = held("n-11", conductor=mm2("1.5", "4")), held("w-11", conductor=mm2("6", "16"))
    scanned = setting("s-11", state="held", terminal=Terminal(printed="N"), findings=(DOUBT,))
    load_report(catalogue, report(narrow, wide, scanned, edition="Edition 3", **EDITIONS))
    number = say(catalogue, "n-11", "correct", torque="1.2 Nm", terminal="L7")
    say(catalogue, "w-11", "accept")
    say(catalogue, "s-11", "accept")
    moved = replace(narrow, id="m-11", place=replace(narrow.place, page=2, row=9))
    other = replace(wide, torque=torque("9.9", "9.9", "9.9", unit=""))
    later = report(moved, other, replace(scanned, id="t-11"), digest="b" * 64, edition="Edition 4", **EDITIONS)
    loaded = load_report(catalogue, later)
    after = {"m-11": ("released", "L7", "1.2"), "w-11": ("held", "Outgoing", None), "t-11": ("held", "N", None)}
    current = "SELECT id FROM current_setting"

    def now() -> dict[str, tuple[str, str, str | None]]:
        kept = {row["id"] for row in catalogue.rows(current)}
        rows = catalogue.rows("SELECT id, state, terminal_printed, max_nm FROM current_setting")
        assert kept == set(after)
        return {
            row["id"]: (row["state"], row["terminal_printed"], row["max_nm"] and f"{row['max_nm'].normalize():f}")
            for row in rows
        }

    assert now() == after
    assert [finding.code for finding in loaded.findings] == ["decision_not_carried"] * 2
    (row,) = catalogue.rows("SELECT who, why FROM current_setting WHERE id = 'm-11'")
    assert row == {"who": "Ines", "why": f"seen on paper (carried over from harbour_breakers.pdf, decision {number})"}
    load_report(catalogue, later, again=True)
    assert now() == after
    undone = take_back(catalogue, number)
    assert now() == after | {"m-11": ("held", "Outgoing", None)}
    take_back(catalogue, undone)
    assert now() == after
