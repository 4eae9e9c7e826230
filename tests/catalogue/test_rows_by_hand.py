"""Rows of a sheet that could not be read: entered by hand, kept under its identity, asked about when it is read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from office import WHO, Office
from sheets_by_hand import mm2, report, setting, torque

from torquary_catalogue.store import open_catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.values import Device, Finding, Place, Setting, SheetReport, Terminal

SHEET = "qb16.zip"
NOT_READ = Finding(code="sheet_unknown_kind", message="it is an archive: unpack it, and load that", scope="sheet")
BY_HAND = ("--page", 7, "--device", "QB 16", "--terminal", "L1", "--conductor", "1.5-6 mm2", "--torque")
TOLD = "the file could not be read: Ines added this row by hand on "


@pytest.fixture
def office(tmp_path: Path) -> Office:
    """An office whose folder has one sheet that can be read and one that cannot."""
    there = Office(tmp_path)
    (there.sheets / SHEET).write_bytes(b"PK")
    there.put("qb63.html", "Quillhaven QB 63", L1="3.5")
    there.load()
    return there


def add(office: Office, torque: str = "2 Nm", status: int = 0) -> str:
    done = office.run("add", SHEET, *BY_HAND, torque, *WHO, status=status)
    return done.stdout + done.stderr


def number_of(office: Office, kind: str) -> int:
    return max(one["number"] for one in office.ask("decisions")["decisions"] if one["kind"] == kind)


def load_read(office: Office, *settings: Setting, state: str = "read", reader: int = 9) -> Any:
    """Load what a reader of another version makes of the same file."""
    digest = next(one["digest"] for one in office.ask("sheets")["sheets"] if one["file"] == SHEET)
    given: dict[str, Any] = {} if state == "read" else {"findings": (NOT_READ,), "pages": 0}
    read: SheetReport = report(*settings, digest=digest, **{"file": SHEET, "state": state, "title": "QB 16", **given})
    with open_catalogue(office.catalogue, writing=True) as catalogue:
        return load_report(catalogue, read, again=True, reader=reader)


def read_row(printed: str = "2") -> Setting:
    return setting(
        "read-1", device=Device(printed="QB 16"), terminal=Terminal(printed="L1"), conductor=mm2("1.5", "6"),
        torque=torque(printed, printed, printed), place=Place(page=7, table=1, row=1, text=f"L1 {printed}"),
    )  # fmt: skip


def test_a_row_by_hand_answers_under_its_sheet_and_says_what_it_is(office: Office) -> None:
    assert office.figures("QB 16 L1") == {}
    assert "not readable → released, 2 N·m" in add(office)
    assert office.figures("QB 16 L1") == {f"{SHEET} L1": "2"}
    shown = office.run("find", "QB 16 L1").stdout
    for told in (TOLD, "seen on paper", "page 7", "row added, which the reader did not read, by Ines"):
        assert told in shown
    assert "7" in {str(one["page"]) for one in office.ask("find", "QB 16 L1")["rows"]}
    listed = office.run("sheets").stdout
    assert f"{SHEET}: in force" in listed
    assert "1 setting(s): 1 released, 0 held, 1 added by hand; the file cannot be read, as it is an archive" in listed
    before = next(one["before"] for one in office.ask("decisions")["decisions"] if one["kind"] == "add")
    assert before == "page 7 of a file that could not be read"


def test_what_else_it_prints_stays_unknown(office: Office) -> None:
    add(office)
    told = office.run("find", "no such device").stdout
    assert f"{SHEET} was not read whole, and what else it prints is not known: " in told


def test_exports_and_the_recall_know_it(office: Office) -> None:
    add(office)
    file = office.folder / "all.csv"
    office.run("export", file)
    (line,) = [one for one in file.read_text("utf-8-sig").splitlines() if "QB 16" in one]
    assert "row_added" in line
    assert ",add," in line
    office.run("find", "QB 16 L1", "--note", "board 3")
    office.run("sheet", SHEET, "withdraw", *WHO, status=0)
    assert "QB 16" in office.run("recall").stdout


def test_withdrawn_and_restored_with_its_sheet(office: Office) -> None:
    add(office)
    office.run("sheet", SHEET, "withdraw", *WHO, status=0)
    assert office.figures("QB 16 L1") == {}
    assert office.states()[SHEET] == "withdrawn"
    office.load()
    assert office.states()[SHEET] == "withdrawn"
    office.run("sheet", SHEET, "restore", *WHO, status=0)
    assert office.figures("QB 16 L1") == {f"{SHEET} L1": "2"}


def test_loading_what_still_cannot_be_read_changes_nothing(office: Office) -> None:
    add(office)
    for options in ((), ("--again",), ("--replace",)):
        done = office.run("load", office.sheets, *options, status=1)
        assert f"{SHEET}: refused" in done.stdout
        assert office.figures("QB 16 L1") == {f"{SHEET} L1": "2"}
        assert office.states()[SHEET] == "read"


def test_undone_it_is_not_readable_again_and_comes_back_with_it(office: Office) -> None:
    """Also after it was loaded meanwhile, and could still not be read."""
    add(office)
    office.run("decisions", "--undo", number_of(office, "add"), *WHO, status=0)
    assert office.states()[SHEET] == "refused"
    assert office.figures("QB 16 L1") == {}
    office.load()
    assert office.states()[SHEET] == "refused"
    office.run("decisions", "--undo", number_of(office, "undo"), *WHO, status=0)
    assert office.figures("QB 16 L1") == {f"{SHEET} L1": "2"}
    assert office.states()[SHEET] == "read"


@pytest.mark.parametrize("printed", ["2", "3"])
@pytest.mark.parametrize("then", ["accept", "reject"])
def test_a_reader_that_can_read_it_brings_the_rows_up(office: Office, printed: str, then: str) -> None:
    add(office)
    load_read(office, read_row(printed))
    assert office.figures("QB 16 L1") == {f"{SHEET} L1": printed}
    with open_catalogue(office.catalogue) as catalogue:
        query = "SELECT id, state FROM setting WHERE device_printed = 'QB 16' ORDER BY number"
        read, by_hand = catalogue.rows(query)
    assert (read["state"], by_hand["state"]) == ("released", "held")
    assert "the file could not be read then, and is read now" in office.run("held").stdout
    load_read(office, read_row(printed), reader=10)
    office.run("decide", by_hand["id"], then, *WHO, status=0)
    figures = {row["max_nm"] for row in office.ask("find", "QB 16 L1")["rows"]}
    assert {float(one) for one in figures} == {float(printed)} | ({2.0} if then == "accept" else set())


def test_a_reader_that_reads_the_file_and_nothing_in_it_asks_too(office: Office) -> None:
    add(office)
    load_read(office)
    assert [row["max_nm"] for row in office.ask("find", "QB 16 L1")["rows"]] == [None]
    assert "the file could not be read then, and is read now" in office.run("held").stdout


def test_once_read_a_reader_that_fails_again_takes_nothing_away(office: Office) -> None:
    add(office)
    load_read(office, read_row())
    load_read(office, state="refused", reader=10)
    assert office.figures("QB 16 L1") == {f"{SHEET} L1": "2"}


def test_page_and_reason_are_wanted_and_one_row_is_added_once(office: Office) -> None:
    assert "needs who decides and why" in office.run("add", SHEET, *BY_HAND, "2 Nm", "--who", "Ines", status=2).stderr
    assert "counted from 1" in office.run("add", SHEET, "--page", 0, *BY_HAND[2:], "2 Nm", *WHO, status=2).stderr
    add(office)
    assert "this row is added already" in add(office, status=2)
    assert office.states()[SHEET] == "read"


def test_it_is_corrected_and_superseded_as_other_sheets_are(office: Office) -> None:
    add(office)
    office.run("sheet", SHEET, "--maker", "Quillhaven", "--number", "QH-1", "--edition", "2023-01", *WHO, status=0)
    office.run("sheet", "qb63.html", "replaces", SHEET, *WHO, status=0)
    assert office.states()[SHEET] == "superseded"
    office.load()
    assert office.states()[SHEET] == "superseded"
    assert office.figures("QB 16 L1") == {}


def test_a_sheet_without_rows_stays_out_of_force(office: Office) -> None:
    for deed in (("withdraw",), ("restore",), ("replaces", "qb63.html")):
        told = office.run("sheet", SHEET, *deed, *WHO, status=2).stderr
        assert f"or enter its rows by hand: torquary add {SHEET} --page" in told
