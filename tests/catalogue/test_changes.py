"""What an edition prints otherwise than the one before; and sheets in force that disagree."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from office import WHO, Office
from sheets_by_hand import held, mm2, report, setting, torque

from torquary_catalogue.changes import compare
from torquary_catalogue.decide import Wish, decide
from torquary_catalogue.store import Catalogue
from torquary_catalogue.store.insert import load_report
from torquary_schema.values import Device, Setting, Terminal

NUMBER = "Document no. QH-10641"


def row(name: str, terminal: str, low: str | None, high: str | None, **more: object) -> Setting:
    printed = "–".join(part for part in (low, high) if part)
    return setting(name, terminal=Terminal(printed=terminal), torque=torque(printed, low, high), **more)


def kinds(
    catalogue: Catalogue, before: list[Setting], after: list[Setting]
) -> list[tuple[str, str | None, str | None]]:
    load_report(catalogue, report(*before, edition="Edition 3", title="Breakers BK 16"))
    later = report(*after, edition="Edition 4", title="Breakers BK 16", digest="b" * 64)
    load_report(catalogue, later)
    found = compare(catalogue, "a" * 64, "b" * 64)
    return [(one.kind, one.old and one.old.id, one.new and one.new.id) for one in found.rows]


def test_terminal_by_terminal_what_rose_fell_appeared_and_vanished(catalogue: Catalogue) -> None:
    before = [
        row("a-11", "L1", "2.5", "2.5"), row("a-12", "L2", "2.0", "2.4"), row("a-13", "N", "1.8", "1.8"),
        row("a-14", "PE", "1.2", "1.4"), row("a-15", "A1", "0.5", "0.5"), row("a-16", "T1", "2.5", None),
    ]  # fmt: skip
    after = [
        row("b-11", "L1", "2.8", "2.8"), row("b-12", "L2", "1.8", "2.4"), row("b-13", "N", "1.8", "1.8"),
        row("b-14", "PE", "1.1", "1.5"), row("b-15", "A2", "0.5", "0.5"), row("b-16", "T1", "2.5", "2.8"),
    ]  # fmt: skip
    assert kinds(catalogue, before, after) == [
        ("rose", "a-11", "b-11"), ("fell", "a-12", "b-12"), ("same", "a-13", "b-13"), ("changed", "a-14", "b-14"),
        ("appeared", None, "b-15"), ("changed", "a-16", "b-16"), ("vanished", "a-15", None),
    ]  # fmt: skip


def test_sizes_and_devices_that_are_printed_otherwise_are_one_row_only_where_that_is_sure(catalogue: Catalogue) -> None:
    before = [
        row("a-11", "L1", "2.5", "2.5", conductor=mm2("1.5", "6")),
        row("a-12", "L2", "2.5", "2.5", conductor=mm2("1.5", "6")),
        row("a-13", "L2", "3.0", "3.0", conductor=mm2("10", "16")),
        row("a-14", "N", "2.0", "2.0", device=Device(printed="Breaker BK")),
    ]
    after = [
        row("b-11", "L1", "2.5", "2.5", conductor=mm2("1.5", "10")),
        row("b-12", "L2", "2.5", "2.5", conductor=mm2("1.5", "4")),
        row("b-13", "L2", "3.0", "3.0", conductor=mm2("6", "16")),
        row("b-14", "N", "2.0", "2.0", device=Device(printed="Miniature breaker BK")),
    ]
    assert kinds(catalogue, before, after) == [
        ("otherwise", "a-11", "b-11"), ("appeared", None, "b-12"), ("appeared", None, "b-13"),
        ("otherwise", "a-14", "b-14"), ("vanished", "a-12", None), ("vanished", "a-13", None),
    ]  # fmt: skip


def test_a_metal_that_a_later_edition_states_makes_no_other_row_of_a_size(catalogue: Catalogue) -> None:
    solid, flexible = mm2("1", "25", stranding=("solid",)), mm2("1", "16", stranding=("flexible",))
    before = [
        row("a-11", "L1", "2.0", "2.0", conductor=replace(solid, printed="1 to 25")),
        row("a-12", "L1", "2.0", "2.0", conductor=flexible),
    ]
    after = [
        row("b-11", "L1", "2.0", "2.0", conductor=replace(solid, material=("copper",))),
        row("b-12", "L1", "2.4", "2.4", conductor=replace(flexible, material=("copper",))),
    ]
    assert kinds(catalogue, before, after) == [("otherwise", "a-11", "b-11"), ("rose", "a-12", "b-12")]


def test_what_people_decided_counts_on_either_side(catalogue: Catalogue) -> None:
    load_report(catalogue, report(held("a-11"), edition="Edition 3", title="Breakers BK 16"))
    wish = Wish(setting="a-11", verdict="correct", torque="2.5 Nm", who="Ines", why="seen")
    decide(catalogue, [wish])
    later = setting("b-11", torque=torque("2.8", "2.8", "2.8"))
    load_report(catalogue, report(later, edition="Edition 4", title="Breakers BK 16", digest="b" * 64))
    (one,) = compare(catalogue, "a" * 64, "b" * 64).rows
    assert one.old is not None
    assert (one.kind, one.old.figures[1], one.old.decided_by) == ("rose", Decimal("2.5"), "Ines")


@pytest.fixture
def office(tmp_path: Path) -> Office:
    return Office(tmp_path)


def test_the_command_shows_both_printed_places(office: Office) -> None:
    office.run("changes", status=3)
    office.put("qb3.html", "Breaker QB 16", f"{NUMBER} Edition 3", L1="2.5", N="2.0")
    office.load()
    assert office.run("changes", status=1).stdout == "No sheet is superseded.\n"
    office.put("qb4.html", "Breaker QB 16", f"{NUMBER} Edition 4", L1="2.8", N="2.0")
    office.load()
    lines = office.run("changes", status=0).stdout.splitlines()
    assert lines == office.run("changes", "qb3.html", "qb4.html", status=0).stdout.splitlines()
    assert lines == [
        "qb3.html (Edition 3) → qb4.html (Edition 4): 1 rose, 1 the same",
        "  rose: Breaker QB 16 | L1 | 4: 2.5 N·m (page 1 table 1 row 2, printed “2.5”) → 2.8 N·m "
        "(page 1 table 1 row 2, printed “2.8”)",
    ]
    (told,) = office.ask("changes")["changes"]
    assert (told["counts"]["rose"], told["rows"][0]["new"]["max_nm"]) == (1, 2.8)
    for arguments in (("qb3.html",), ("qb3.html", "none.html")):
        assert office.run("changes", *arguments, status=2).output.count("\n") == 1


def disagreeing(catalogue: Catalogue) -> set[str]:
    rows = catalogue.rows("SELECT id, findings FROM current_setting")
    return {row["id"] for row in rows if any(one["code"] == "sheets_disagree" for one in row["findings"] or ())}


def test_two_sheets_in_force_that_disagree_say_so_and_find_does(office: Office) -> None:
    office.put("qb.html", "Breaker QB 16", L1="2.5", N="2.0")
    office.put("other.html", "Breaker QB 16", "Wiring guide", L1="2.8", N="2.0")
    office.load()
    shown = office.run("find", "QB 16 L1", status=0).stdout
    assert "other.html page 1 is in force too and has 2.8 N·m for the same terminal" in shown
    assert "qb.html page 1 is in force too and has 2.5 N·m for the same terminal" in shown
    assert "is in force too" not in office.run("find", "QB 16 N").stdout
    office.run("sheet", "other.html", "withdraw", *WHO, status=0)
    assert "is in force too" not in office.run("find", "QB 16 L1").stdout
    office.run("sheet", "other.html", "restore", *WHO, status=0)
    assert "is in force too" in office.run("find", "QB 16 L1").stdout
    office.run("decide", office.ask("find", "other.html L1")["rows"][0]["id"], "reject", *WHO, status=0)
    assert "is in force too" not in office.run("find", "QB 16 L1").stdout


def test_a_row_added_or_corrected_that_differs_from_another_of_its_sheet_says_so_on_both(office: Office) -> None:
    office.put("qb.html", "Breaker QB 16", L1="2.5", N="2.0")
    office.load()
    row = ("--page", "1", "--device", "Breaker QB 16", "--terminal", "L1", "--conductor", "2.5-6 mm²")
    office.run("add", "qb.html", *row, "--torque", "3 Nm", *WHO, status=0)
    shown = office.run("find", "QB 16 L1", status=0).stdout
    assert "page 1 has 3 Nm for the same terminal too: see which is right, and reject or correct the other" in shown
    assert "page 1 has 2.5 N·m for the same terminal too" in shown
    office.run("decisions", "--undo", "1", *WHO, status=0)
    assert "the same terminal too" not in office.run("find", "QB 16 L1").stdout
    office.run("decide", office.ask("find", "QB 16 N")["rows"][0]["id"], "correct", "--terminal", "L1", *WHO, status=0)
    assert "page 1 has 2.0 N·m for the same terminal too" in office.run("find", "QB 16 L1").stdout
    office.run("add", "qb.html", *row[:-1], "10 mm²", "--torque", "3 Nm", *WHO, status=0)
    assert "has 3 Nm for the same terminal" not in office.run("find", "QB 16 L1").stdout


@pytest.mark.parametrize(
    ("other", "disagree"),
    [
        ({}, True),
        ({"torque": torque("2.5", "2.5", "2.5")}, False),
        ({"conductor": mm2("25", "35")}, False),
        ({"conductor": mm2("10", "35")}, True),
        ({"terminal": Terminal(printed="N", roles=("neutral",))}, False),
        ({"terminal": Terminal(printed="Load 2", roles=("load_out",))}, True),
        ({"device": Device(printed="Breaker BK-63", family="mcb", series="BK", model="BK-63")}, False),
        ({"purpose": "mounting"}, False),
        ({"state": "held"}, False),
        ({"conductor": mm2("1.5", "16", stranding=("flexible",))}, True),
    ],
)
def test_sheets_disagree_on_one_device_and_terminal_only(
    catalogue: Catalogue, other: dict[str, object], disagree: bool
) -> None:
    load_report(catalogue, report(setting("a-11"), title="One"))
    two = setting("b-11", **{"torque": torque("2.8", "2.8", "2.8"), **other})
    load_report(catalogue, report(two, digest="b" * 64, title="Two", file="two.pdf"))
    assert disagreeing(catalogue) == ({"a-11", "b-11"} if disagree else set())
